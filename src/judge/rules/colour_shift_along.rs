//! A tunable white run keeps its colour along its length.

use crate::choose::limits;
use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::solve::colour::STEP;

/// A tunable white run keeps its colour along its length.
pub static RULE: Rule = Rule {
    id: "colour-shift-along",
    subject: Subject::Strip,
    statement: "the white of a tunable white run shifts no more than the allowed steps between any two places",
    formula: "distance in u′v′ between the mixed whites of any two segments, in steps of 0.0011",
    sources: &everywhere(
        "common practice, no source: 3 steps within one room; step of 0.0011 after CIE TN 001:2014",
    ),
    severity: Severity::Caution,
    severities: &[],
    remedy: "feed it at both ends; a heavier common rail; shorter sections",
    caution: Some(
        "colour shift is worst where one channel is nearly off: check the run at three mixes on site, not at one",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let tunable = |sized: &&SizedRun| sized.run.strip.channels.count() == 2;
    evidence
        .sizing
        .runs
        .iter()
        .filter(tunable)
        .map(|sized| of_run(evidence, sized))
        .collect()
}

fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let Some(steps) = sized.figures.colour_shift else {
        let strip = &sized.run.strip.offer;
        let missing = format!(
            "`flux` and `white` of both channels in strip `{}` (the datasheet)",
            strip.id
        );
        return Finding::cannot_tell(subject, missing).at(&strip.place);
    };
    let limits = evidence.project.limits.of_run(&sized.run.limits);
    Finding::checked(subject, &limits::colour_shift(&limits, steps))
        .working(|| format!("{:.5} in u′v′ / 0.0011 = {steps:.1} steps", steps * STEP))
        .resting_on(sized.light_assumed.as_ref())
        .at(&sized.run.feed_place)
        .remedy(|| remedy::of_run(evidence, sized))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.colour_shift = Some(3.01);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.colour_shift = Some(3.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.sizing.runs[0].figures.colour_shift = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
