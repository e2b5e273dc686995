//! A cable inside thermal insulation carries less.

use crate::choose::cable_place::{in_insulation, insulation_factor};
use crate::choose::limits;
use crate::choose::sized::{FeedCable, SizedRun};
use crate::judge::feeds::{self, Feeds};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::norms::limit::Source;
use crate::norms::region::Region;

const SOURCE: &str = "IEC 60364-5-52 clause 523.9 and BS 7671 Table 52.2 (from memory)";

/// A cable inside thermal insulation carries less.
pub static RULE: Rule = Rule {
    id: "cable-in-insulation",
    subject: Subject::Cable,
    statement: "a feed cable that thermal insulation surrounds carries its current with the capacity that is left: half where that is for 0.5 m or more",
    formula: "current against capacity × 0.88 to 50 mm, 0.78 to 100 mm, 0.63 to 200 mm, 0.51 to 400 mm, 0.5 beyond",
    sources: &[(Region::Iec, SOURCE), (Region::AusNz, SOURCE)],
    severity: Severity::Caution,
    severities: &[],
    remedy: "a larger cable; a way round the insulation",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let runs = evidence.sizing.runs.iter();
    let untold: Vec<&SizedRun> = runs
        .filter(|sized| in_insulation(evidence.project, &sized.run).is_none())
        .collect();
    let mut findings = Vec::new();
    if !untold.is_empty() {
        findings.push(nobody_says(evidence, &untold));
    }
    for feeds in feeds::by_item(evidence) {
        findings.extend(of_item(evidence, &feeds));
    }
    findings
}

/// One finding for all runs of which nobody says: one key settles them.
fn nobody_says(evidence: &Evidence<'_>, untold: &[&SizedRun]) -> Finding {
    let runs = feeds::named(untold.iter().map(|sized| sized.run.name.as_str()));
    let missing = format!(
        "`wiring.in_insulation` in the project file, or `in_insulation` of run {runs}: `none`, or the longest stretch (the installer)"
    );
    let finding = Finding::cannot_tell("ways of feed cables".to_owned(), missing);
    let wiring = &evidence.project.wiring;
    match wiring
        .place
        .as_ref()
        .or(evidence.project.heading.place.as_ref())
    {
        Some(place) => finding.at(place),
        None => finding,
    }
}

/// The cable of the item that comes nearest to its limit, of those in insulation; where there are
/// none the item has nothing to fear.
fn of_item(evidence: &Evidence<'_>, feeds: &Feeds<'_>) -> Option<Finding> {
    let project = evidence.project;
    let subject = format!("cable {}", feeds.item.offer.id);
    let place = &feeds.item.offer.place;
    let told: Vec<&SizedRun> = feeds
        .runs
        .iter()
        .copied()
        .filter(|sized| in_insulation(project, &sized.run).is_some())
        .collect();
    if told.is_empty() {
        return None;
    }
    let surrounded = |cable: &&&FeedCable| {
        told.iter().any(|sized| {
            sized.run.name == cable.run && insulation_factor(project, &sized.run) < 1.0
        })
    };
    let inside: Vec<&FeedCable> = feeds.cables.iter().filter(surrounded).copied().collect();
    if inside.is_empty() {
        return Some(Finding::plain(subject, true).at(place));
    }
    let share = |cable: &FeedCable| Some((cable.current / cable.ampacity?).value);
    let fullest = inside
        .iter()
        .filter_map(|cable| Some((share(cable)?, *cable)))
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let Some((_, cable)) = fullest else {
        let missing = format!(
            "`most_current` in cable `{}` (the maker’s datasheet)",
            feeds.item.offer.id
        );
        return Some(Finding::cannot_tell(subject, missing).at(place));
    };
    let known = (cable.ampacity?, Source::Published(SOURCE));
    let checked = limits::cable_current(project.region, cable.current, known);
    Some(Finding::checked(subject, &checked).at(place).remedy(|| {
        format!(
            "a larger cable for run `{}`, or a way round the insulation (`in_insulation: none`)",
            cable.run
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job() -> Sample {
        Sample::with("runs:\n", "wiring: {in_insulation: 0.6 m}\nruns:\n")
    }

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = job();
        for cable in &mut job.sizing.cables {
            cable.current = 1.001 * cable.ampacity.expect("a table value");
        }
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = job();
        for cable in &mut job.sizing.cables {
            cable.current = cable.ampacity.expect("a table value");
        }
        assert_eq!(job.worst(&RULE), "holds");
        let none = Sample::with("runs:\n", "wiring: {in_insulation: none}\nruns:\n");
        assert_eq!(none.worst(&RULE), "holds");
    }

    // Half of the capacity where insulation surrounds the cable for 0.5 m or more.
    #[test]
    fn what_is_chosen_carries_half() {
        let free = Sample::new();
        let inside = job();
        let pairs = free.sizing.cables.iter().zip(&inside.sizing.cables);
        let same = pairs.filter(|(a, b)| a.item.offer.id == b.item.offer.id);
        let halves: Vec<f64> = same
            .filter_map(|(a, b)| Some((b.ampacity? / a.ampacity?).value))
            .collect();
        assert!(!halves.is_empty());
        assert!(
            halves.iter().all(|share| (share - 0.5).abs() < 1e-9),
            "{halves:?}"
        );
    }

    #[test]
    fn cannot_tell_when_nobody_says() {
        assert_eq!(Sample::new().worst(&RULE), "cannot tell");
    }
}
