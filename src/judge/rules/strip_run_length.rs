//! No feed serves more strip than its maker allows.

use crate::choose::sized::SizedRun;
use crate::choose::suited;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::meter;

/// No feed serves more strip than its maker allows.
pub static RULE: Rule = Rule {
    id: "strip-run-length",
    subject: Subject::Strip,
    statement: "from its feed a section runs no further than its maker allows for that kind of feed",
    formula: "the longest stretch that one feed serves, to an end or to the middle between two feeds, against `longest_section`: a section fed at both ends or in the middle may be twice that",
    sources: &everywhere(
        "datasheet; that both ends of equal voltage or the middle double it: common practice, no source",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "feed it at both ends or in the middle; split the section; a strip with heavier copper",
    caution: Some("strip past its longest run overheats the copper next to its feed"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.runs.iter().map(of_run).collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let strip = &sized.run.strip;
    let checks = sized.sections.iter();
    let checks = checks.filter_map(|section| suited::section_length(strip, section));
    let worst = checks.max_by(|a, b| a.found.value.total_cmp(&b.found.value));
    let Some(worst) = worst else {
        let id = &strip.offer.id;
        let missing = format!("`longest_section` in strip `{id}` (the datasheet)");
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    };
    let allowed = worst.limit.value;
    let both = Figure::new(2.0 * allowed, Unit::Metre);
    Finding::checked(subject, &worst)
        .working(|| {
            let length = Figure::new(sized.length.get::<meter>(), Unit::Metre);
            format!(
                "a run of {length}, {}: {} of strip from one feed",
                sized.reasons.arrangement, worst.found
            )
        })
        .at(&sized.run.feed_place)
        .remedy(|| {
            let sections = format!(
                "feed sections of at most {} at one end, of at most {both} at both ends or in the \
                 middle",
                worst.limit
            );
            remedy::unless_auto(sized, "set `feed: auto`; or ", &sections)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Length;

    /// The sample with runs that may be fed at one end over so many metres.
    fn job(metres: f64) -> Sample {
        let mut job = Sample::new();
        job.sizing.runs.truncate(1);
        job.strip(0).detail.longest_section = Some(Length::new::<meter>(metres));
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(4.19).worst(&RULE), "broken");
    }

    // 2 × 4.19 m.
    #[test]
    fn what_to_do_is_said_with_twice_the_length_for_both_ends() {
        let finding = check(&job(4.19).evidence()).remove(0);
        let twice = Figure::new(8.38, Unit::Metre).to_string();
        let remedy = finding.remedy.expect("what to do");
        assert!(
            remedy.contains(&format!("of at most {twice} at both ends")),
            "{remedy}"
        );
    }

    #[test]
    fn the_feeds_are_left_to_the_program_only_where_they_are_not_yet() {
        let told = |feed: &str| {
            let new = format!("to_start: 5 m, feed: {feed}");
            let mut job = Sample::with("to_start: 5 m", &new);
            job.sizing.runs.truncate(1);
            job.strip(0).detail.longest_section = Some(Length::new::<meter>(1.0));
            check(&job.evidence()).remove(0).remedy.expect("what to do")
        };
        assert!(told("start").starts_with("set `feed: auto`; or feed sections"));
        assert!(told("auto").starts_with("feed sections of at most "));
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(4.2).worst(&RULE), "holds");
    }

    #[test]
    fn twice_as_long_holds_from_both_ends_and_from_the_middle() {
        for feed in ["both ends", "\"at [2.1 m]\""] {
            let new = format!("to_start: 5 m, to_end: 9 m, reach_along: yes, feed: {feed}");
            let mut job = Sample::with("to_start: 5 m, to_end: 9 m", &new);
            job.sizing.runs.truncate(1);
            job.strip(0).detail.longest_section = Some(Length::new::<meter>(2.1));
            assert_eq!(job.worst(&RULE), "holds", "{feed}");
            job.strip(0).detail.longest_section = Some(Length::new::<meter>(2.09));
            assert_eq!(job.worst(&RULE), "broken", "{feed}");
        }
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = job(4.2);
        job.strip(0).detail.longest_section = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
