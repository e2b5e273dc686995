//! Every cut end, feed and bend has its fitting on the list.

use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::extra::Per;
use crate::model::project::Severity;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// Every cut end, feed and bend has its fitting on the list.
pub static RULE: Rule = Rule {
    id: "connector-count",
    subject: Subject::Strip,
    statement: "every cut end of a run gets an end cap and every feed a tail, and the list has them",
    formula: "two ends for each section, one tail for each feed, one joint for each piece added, each with an accessory counted `per: section` (or `per: end`), `per: feed` or `per: joint`",
    sources: &everywhere("counting rule (common practice, no source)"),
    severity: Severity::Note,
    severities: &[],
    remedy: "an accessory in a catalogue that is counted by what lacks one",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let runs = evidence.sizing.runs.iter();
    runs.map(|sized| of_run(evidence, sized)).collect()
}

fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let sections = sized.sections.len();
    let feeds: usize = sized
        .sections
        .iter()
        .map(|section| section.feeds.len())
        .sum();
    let joints: usize = sized.sections.iter().map(|section| section.joints).sum();
    let all = || {
        evidence
            .project
            .catalogue
            .accessories
            .iter()
            .map(AsRef::as_ref)
    };
    let wanted = [
        (Per::Section, sections),
        (Per::Feed, feeds),
        (Per::Joint, joints),
    ];
    let has = |per: Per| {
        let mut counted = limits::accessories(all(), &sized.run, per);
        counted.next().is_some()
    };
    let lacking: Vec<String> = wanted
        .into_iter()
        // Ends may be counted one by one.
        .filter(|(per, _)| !(has(*per) || *per == Per::Section && has(Per::End)))
        .filter(|(_, count)| *count > 0)
        .map(|(per, _)| format!("`per: {}`", per.name()))
        .collect();
    let mut finding = Finding::plain(subject, lacking.is_empty());
    finding.found = Some(Figure::new(
        real(2 * sections + feeds + joints),
        Unit::Count,
    ));
    finding
        .working(|| format!("2 × {sections} ends + {feeds} feeds + {joints} joints"))
        .at(&sized.run.place)
        .remedy(|| {
            format!(
                "add an accessory to a catalogue that is counted {}",
                lacking.join(" and one ")
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    /// Only the accessories that are counted by one of these.
    fn counted_by(mut job: Sample, per: &[Per]) -> Sample {
        let accessories = &mut job.project.catalogue.accessories;
        accessories.retain(|accessory| per.contains(&accessory.per));
        job
    }

    #[test]
    fn breaks_when_nothing_is_counted_for_feeds() {
        let others = [Per::Section, Per::End, Per::Joint];
        assert_eq!(counted_by(Sample::new(), &others).worst(&RULE), "broken");
    }

    #[test]
    fn ends_that_are_counted_one_by_one_stand_for_sections_and_for_nothing_else() {
        let ends = || {
            let mut job = Sample::new();
            for accessory in &mut job.project.catalogue.accessories {
                if accessory.per == Per::Section {
                    Arc::make_mut(accessory).per = Per::End;
                }
            }
            job
        };
        assert_eq!(ends().worst(&RULE), "holds");
        let no_feeds = counted_by(ends(), &[Per::End, Per::Joint]);
        assert_eq!(no_feeds.worst(&RULE), "broken");
        let no_ends = counted_by(ends(), &[Per::Feed, Per::Joint]);
        assert_eq!(no_ends.worst(&RULE), "broken");
    }

    #[test]
    fn holds_with_a_fitting_for_each_and_counts_them() {
        let job = Sample::new();
        assert_eq!(job.worst(&RULE), "holds");
        let found = check(&job.evidence())[0].found.expect("a count");
        // One section fed at one place: two end caps and a tail.
        assert_eq!(found.number(), "3");
    }
}
