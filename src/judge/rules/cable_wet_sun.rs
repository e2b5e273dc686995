//! A cable’s sheath suits where it lies.

use crate::choose::cable_place::{exposures, not_stood};
use crate::choose::sized::SizedRun;
use crate::judge::feeds::{self, Feeds};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::wiring::Exposure;

/// A cable’s sheath suits where it lies.
pub static RULE: Rule = Rule {
    id: "cable-wet-sun",
    subject: Subject::Cable,
    statement: "the sheath of a feed cable stands the water, sun or burial that its run is exposed to",
    formula: "`wet` and `exposed_to` of the run against `suits` of the cable",
    sources: &everywhere("cable data; IEC 60364-5-52 clauses 522.3 and 522.11 (from memory)"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "cable with a suitable sheath",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let feeds = feeds::by_item(evidence);
    feeds.iter().filter_map(of_item).collect()
}

/// `None` for cable that lies dry and out of the sun.
fn of_item(feeds: &Feeds<'_>) -> Option<Finding> {
    let item = feeds.item;
    let exposed: Vec<&SizedRun> = feeds
        .runs
        .iter()
        .copied()
        .filter(|sized| !exposures(&sized.run).is_empty())
        .collect();
    if exposed.is_empty() {
        return None;
    }
    let subject = format!("cable {}", item.offer.id);
    let lacking: Option<Vec<(&SizedRun, Vec<Exposure>)>> = exposed
        .iter()
        .map(|sized| Some((*sized, not_stood(&sized.run, item)?)))
        .collect();
    let Some(lacking) = lacking else {
        let runs = feeds::named(exposed.iter().map(|sized| sized.run.name.as_str()));
        let missing = format!(
            "`suits` in cable `{}`: what its sheath stands, for run {runs} (the datasheet)",
            item.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(&item.offer.place));
    };
    let mut lacking = lacking.into_iter();
    let worst = lacking.find(|(_, lacks)| !lacks.is_empty());
    let finding = Finding::plain(subject, worst.is_none()).at(&item.offer.place);
    Some(finding.remedy(|| {
        let (run, lacks) = worst.map_or(("", Vec::new()), |(sized, lacks)| {
            (sized.run.name.as_str(), lacks)
        });
        let lacks: Vec<&str> = lacks.into_iter().map(Exposure::name).collect();
        format!(
            "for run `{run}` a cable whose `suits` has {}",
            lacks.join(" and ")
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    /// The sample has a wet façade.
    fn job(suits: Option<Vec<Exposure>>, exposed_to: &[Exposure]) -> Sample {
        let mut job = Sample::new();
        for cable in &mut job.sizing.cables {
            Arc::make_mut(&mut cable.item).marking.suits = suits.clone();
        }
        for sized in &mut job.sizing.runs {
            Arc::make_mut(&mut sized.run).wiring.exposed_to = exposed_to.to_vec();
        }
        job
    }

    #[test]
    fn breaks_when_the_sheath_lacks_it() {
        let wet = vec![Exposure::Wet];
        assert_eq!(job(Some(Vec::new()), &[]).worst(&RULE), "broken");
        assert_eq!(job(Some(wet), &[Exposure::Sun]).worst(&RULE), "broken");
    }

    #[test]
    fn holds_when_the_sheath_has_it() {
        assert_eq!(job(Some(vec![Exposure::Wet]), &[]).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None, &[]).worst(&RULE), "cannot tell");
    }
}
