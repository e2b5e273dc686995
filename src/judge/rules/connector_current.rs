//! Connectors at feeds carry the current of the feed.

use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::extra::Per;
use crate::model::project::Severity;
use crate::quantity::Current;

/// Connectors at feeds carry the current of the feed.
pub static RULE: Rule = Rule {
    id: "connector-current",
    subject: Subject::Strip,
    statement: "what joins a feed cable to a strip carries no more than its rating",
    formula: "most current in the plus core of a feed against the least `most_current` of the accessories counted `per: feed` on that run",
    sources: &everywhere(
        "datasheet; 3 A to 5 A is usual for push and clip connectors (common practice, no source)",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "soldered tails; more feeds, each with less current",
    caution: Some("spring connectors loosen with heat: bury none"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let runs = evidence.sizing.runs.iter();
    runs.filter_map(|sized| of_run(evidence, sized)).collect()
}

/// `None` where the catalogue has nothing that is counted per feed.
fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Option<Finding> {
    let subject = format!("run {}", sized.run.name);
    let all = || {
        evidence
            .project
            .catalogue
            .accessories
            .iter()
            .map(AsRef::as_ref)
    };
    let silent = limits::accessories(all(), &sized.run, Per::Feed)
        .find(|accessory| accessory.most_current.is_none());
    if let Some(silent) = silent {
        let id = &silent.offer.id;
        let missing = format!("`most_current` in accessory `{id}` (the datasheet)");
        return Some(Finding::cannot_tell(subject, missing).at(&silent.offer.place));
    }
    let feeds = sized.sections.iter().flat_map(|section| &section.feeds);
    let most = feeds
        .map(|feed| feed.current)
        .fold(Current::default(), Current::max);
    let checked = limits::connector_current(evidence.project, &sized.run, most)?;
    let finding = Finding::checked(subject, &checked)
        .working(|| format!("{} into the strip at its strongest feed", checked.found))
        .at(&sized.run.feed_place)
        .remedy(|| {
            let leave = format!(
                "set `feed: auto` for feeds of at most {}, or ",
                checked.limit
            );
            let accessory = "an accessory `per: feed` with a higher `most_current`";
            remedy::unless_auto(sized, &leave, accessory)
        });
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;
    use uom::si::electric_current::ampere;

    /// The sample with a feed of so many amperes, its tails rated for 8 A.
    fn job(amperes: f64) -> Sample {
        let mut job = Sample::new();
        job.sizing.runs.truncate(1);
        job.sizing.runs[0].sections[0].feeds[0].current = Current::new::<ampere>(amperes);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(8.01).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(8.0).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = job(8.0);
        for accessory in &mut job.project.catalogue.accessories {
            Arc::make_mut(accessory).most_current = None;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
