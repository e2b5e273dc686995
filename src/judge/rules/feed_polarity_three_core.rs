//! Tunable white is fed by three named cores in one order.

use crate::choose::sized::{FeedCable, SizedRun, Sizing};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// Tunable white is fed by three named cores in one order.
pub static RULE: Rule = Rule {
    id: "feed-polarity-three-core",
    subject: Subject::Strip,
    statement: "every feed of tunable white is a cable of three marked cores, marked alike throughout",
    formula: "cores of the feed cable against 3, and its `core_marks` against those of the other tunable white feeds",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "one make of three-core cable for all; + / warm − / cool − on the label list",
    caution: Some("swapped returns reverse warm and cool, and look like a fault of programming"),
    check,
};

/// Cores that a tunable white feed takes.
const CORES: usize = 3;

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let sizing = evidence.sizing;
    let pair = |sized: &&SizedRun| sized.run.strip.channels.count() == 2;
    let runs: Vec<&SizedRun> = sizing.runs.iter().filter(pair).collect();
    let mut first = None;
    runs.into_iter()
        .filter_map(|sized| of_run(sizing, sized, &mut first))
        .collect()
}

/// `first` is the first marked cable that was met: the others are held to it.
fn of_run<'a>(
    sizing: &'a Sizing,
    sized: &SizedRun,
    first: &mut Option<&'a FeedCable>,
) -> Option<Finding> {
    let subject = format!("run {}", sized.run.name);
    let cable = sizing.cables_to(sized).next()?;
    let item = &cable.item;
    let marks = &item.detail.core_marks;
    if item.cores != CORES {
        let finding = Finding::plain(subject, false)
            .at(&sized.run.place)
            .remedy(|| {
                format!(
                    "`{}` has {} cores: choose a cable of {CORES} marked cores",
                    item.offer.id, item.cores
                )
            });
        return Some(finding);
    }
    if marks.is_empty() {
        let missing = format!("`core_marks` in cable `{}` (the datasheet)", item.offer.id);
        return Some(Finding::cannot_tell(subject, missing).at(&item.offer.place));
    }
    let held_to = *first.get_or_insert(cable);
    let theirs = &held_to.item.detail.core_marks;
    let mut finding = Finding::plain(subject, marks == theirs);
    finding.found = Some(Figure::new(real(item.cores), Unit::Count));
    let named = || {
        let poles = ["+", "warm −", "cool −"].into_iter().zip(theirs);
        let named: Vec<String> = poles
            .map(|(pole, mark)| format!("{pole} = core {mark}"))
            .collect();
        named.join(", ")
    };
    let finding = finding.working(named).at(&sized.run.place).remedy(|| {
        format!(
            "use `{}` here too, whose cores are marked {}: {}",
            held_to.item.offer.id,
            theirs.join(", "),
            named()
        )
    });
    Some(finding)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    /// The sample with two tunable white runs whose cables' cores are marked so.
    fn job(marks: [&[&str]; 2]) -> Sample {
        let mut job = Sample::with(
            "strip: long-48-7, length: 10 m,",
            "strip: white-pair-24-10, length: 4 m,",
        );
        for (name, marks) in ["cove", "line"].into_iter().zip(marks) {
            let cables = job.sizing.cables.iter_mut();
            for cable in cables.filter(|cable| cable.run == name) {
                let item = Arc::make_mut(&mut cable.item);
                item.detail.core_marks = marks.iter().map(|mark| (*mark).to_owned()).collect();
            }
        }
        job
    }

    #[test]
    fn breaks_with_other_marks_and_with_other_cores() {
        let other = job([&["1", "2", "3"], &["brown", "grey", "black"]]);
        assert_eq!(other.worst(&RULE), "broken");
        let mut four = job([&["1", "2", "3"], &["1", "2", "3"]]);
        Arc::make_mut(&mut four.sizing.cables[0].item).cores = 4;
        assert_eq!(four.worst(&RULE), "broken");
    }

    #[test]
    fn holds_with_one_order() {
        let one = job([&["1", "2", "3"], &["1", "2", "3"]]);
        assert_eq!(one.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job([&["1", "2", "3"], &[]]).worst(&RULE), "cannot tell");
    }
}
