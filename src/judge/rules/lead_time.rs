//! Everything can be on site on the day it is needed.

use crate::judge::feeds::named;
use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::offer::Offer;
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use num_traits::ToPrimitive;

/// Everything can be on site on the day it is needed.
pub static RULE: Rule = Rule {
    id: "lead-time",
    subject: Subject::Price,
    statement: "every item that is bought can be delivered between the project’s date and the day on which it is needed",
    formula: "`lead_time` against the days from `project.date` to `project.needed`",
    sources: &everywhere("catalogue"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "order early; an item that is there sooner",
    caution: Some(
        "hold a replacement to the light rules before it is bought in place of a late item",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let heading = &evidence.project.heading;
    let subject = "materials list".to_owned();
    let Some(needed) = heading.needed else {
        let why = "the project names no day on which things are needed (`project.needed`)";
        return vec![Finding::not_here(subject, why.to_owned())];
    };
    let Some(date) = heading.date else {
        let missing = "`project.date` (the project file)";
        return vec![Finding::cannot_tell(subject, missing.to_owned())];
    };
    let days = (needed - date).whole_days().to_f64().unwrap_or(0.0);
    let bought = items::bought(evidence);
    let (known, untold): (Vec<_>, Vec<_>) = bought
        .iter()
        .map(|(offer, _)| *offer)
        .partition(|offer| offer.lead_time_days.is_some());
    let mut findings: Vec<Finding> = known
        .into_iter()
        .filter_map(|offer| of_item(offer, days))
        .collect();
    if !untold.is_empty() {
        let ids = named(untold.iter().map(|offer| offer.id.as_str()));
        let missing = format!("`lead_time` of {ids} (the supplier)");
        findings.push(Finding::cannot_tell(subject, missing));
    }
    findings
}

fn of_item(offer: &Offer, days: f64) -> Option<Finding> {
    let lead = f64::from(offer.lead_time_days?);
    let mut finding = Finding::plain(items::subject(offer.kind, &offer.id), lead <= days);
    finding.found = Some(Figure::new(lead, Unit::Day));
    finding.limit = Some((Bound::AtMost, Figure::new(days, Unit::Day)));
    Some(finding.at(&offer.place).remedy(|| {
        format!(
            "order it {} days before the project’s date, or an item that is there sooner",
            lead - days
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    /// The sample, of 20 November 2026, with every item of the catalogue there in 14 days.
    fn job(needed: &str, lead: Option<u32>) -> Sample {
        let dates = format!("date: 2026-11-20, needed: {needed}");
        let mut job = Sample::with("date: 2026-11-20", &dates);
        let catalogue = &mut job.project.catalogue;
        for strip in &mut catalogue.strips {
            Arc::make_mut(strip).offer.lead_time_days = Some(14);
        }
        for driver in &mut catalogue.drivers {
            Arc::make_mut(driver).offer.lead_time_days = Some(14);
        }
        for cable in &mut catalogue.cables {
            Arc::make_mut(cable).offer.lead_time_days = Some(14);
        }
        for item in &mut catalogue.controllers {
            Arc::make_mut(item).offer.lead_time_days = Some(14);
        }
        for item in &mut catalogue.bus_supplies {
            Arc::make_mut(item).offer.lead_time_days = Some(14);
        }
        for item in &mut catalogue.control_devices {
            Arc::make_mut(item).offer.lead_time_days = Some(14);
        }
        for item in &mut catalogue.accessories {
            Arc::make_mut(item).offer.lead_time_days = lead;
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job("2026-12-03", Some(14)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job("2026-12-04", Some(14)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job("2026-12-04", None).worst(&RULE), "cannot tell");
        let mut job = job("2026-12-04", Some(14));
        job.project.heading.date = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn without_a_day_there_is_nothing_to_hold_it_against() {
        assert_eq!(Sample::new().worst(&RULE), "not here");
    }
}
