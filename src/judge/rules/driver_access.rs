//! Drivers can be reached and changed.

use crate::choose::sized::SizedDriver;
use crate::judge::cupboards;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::site::Point;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// Drivers can be reached and changed.
pub static RULE: Rule = Rule {
    id: "driver-access",
    subject: Subject::Driver,
    statement: "drivers stand where they can be reached and changed without breaking the fabric",
    formula: "`accessible` of the cupboard",
    sources: &everywhere("IEC 60364-5-51 on accessibility; common practice, no source"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "drivers moved to a cupboard that can be opened; an access panel",
    caution: Some("a driver that is sealed in turns a small replacement into a builder’s job"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let cupboards = cupboards::with_drivers(evidence);
    cupboards
        .into_iter()
        .map(|(cupboard, drivers)| of_cupboard(cupboard, &drivers))
        .collect()
}

fn of_cupboard(cupboard: &Point, drivers: &[&SizedDriver]) -> Finding {
    let subject = format!("cupboard {}", cupboard.name);
    let place = cupboard.place.as_ref();
    let Some(accessible) = cupboard.accessible else {
        let missing = format!(
            "`accessible` of point `{}` (whoever designs the building)",
            cupboard.name
        );
        return Finding::cannot_tell(subject, missing).at_some(place);
    };
    let mut finding = Finding::plain(subject, accessible);
    finding.found = Some(Figure::new(real(drivers.len()), Unit::Count));
    finding
        .working(|| format!("{} drivers stand there", drivers.len()))
        .at_some(place)
        .remedy(|| {
            format!(
                "give point `{}` an access panel and set `accessible: yes`, or move its {} drivers \
                 to a cupboard that can be opened",
                cupboard.name,
                drivers.len()
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    fn job(accessible: Option<bool>) -> Sample {
        let mut job = Sample::new();
        let at = job.sizing.drivers[0].cupboard.index;
        Arc::make_mut(&mut job.project.site.points[at]).accessible = accessible;
        job
    }

    #[test]
    fn breaks_where_they_are_sealed_in() {
        assert_eq!(job(Some(false)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_where_they_can_be_reached() {
        assert_eq!(job(Some(true)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}
