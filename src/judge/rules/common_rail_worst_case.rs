//! What both whites share is sized for both.

use crate::choose::sized::{Section, SizedRun};
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::driver::Mixing;
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Current;
use crate::quantity::figure::{Figure, Unit};
use crate::solve::strip::{Lit, solve};
use uom::si::electric_current::ampere;

/// What both whites share is sized for both.
pub static RULE: Rule = Rule {
    id: "common-rail-worst-case",
    subject: Subject::Strip,
    statement: "the plus core and rail of tunable white carry both whites full on, unless the driver never has both on",
    formula: "current of the plus core with warm and cool both full on, against `most_feed_current` of the strip and what the cable may carry",
    sources: &everywhere("sum of the channels’ currents; datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a larger common; more feeds; a driver whose pulses never overlap",
    caution: Some(
        "the common plus carries both whites: a chart for two-core cable does not cover it",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let pairs = |sized: &&SizedRun| sized.run.strip.channels.count() == 2;
    let runs = evidence.sizing.runs.iter().filter(pairs);
    runs.map(|sized| of_run(evidence, sized)).collect()
}

fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let strip = &sized.run.strip;
    if sized
        .sections
        .iter()
        .all(|section| never_both(evidence, section))
    {
        return Finding::plain(subject, true).working(|| {
            "the driver’s pulses never overlap: the common carries one white".to_owned()
        });
    }
    let Some(rated) = strip.most_feed_current else {
        let missing = format!(
            "`most_feed_current` in strip `{}` (the datasheet)",
            strip.offer.id
        );
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    };
    let most = sized
        .sections
        .iter()
        .map(both_on)
        .fold(Current::default(), Current::max);
    let carried = evidence
        .sizing
        .cables_to(sized)
        .filter_map(|cable| cable.ampacity)
        .fold(rated, Current::min);
    let limit = Limit {
        value: carried.get::<ampere>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let found = Figure::new(most.get::<ampere>(), Unit::Ampere);
    Finding::measured(subject, found, &limit)
        .working(|| format!("warm + cool full on: {found} in the plus core of the strongest feed"))
        .at(&sized.run.feed_place)
        .remedy(|| remedy::unless_both_auto(sized, "a driver with `mixing: interleaved`"))
}

/// Most current of a plus core with both whites on.
fn both_on(section: &Section) -> Current {
    let solved = section.states.iter().find(|state| state.lit == Lit::Both);
    let feeds = match solved {
        Some(state) => state.feeds.clone(),
        None => solve(&section.ladder, Lit::Both).map_or(Vec::new(), |state| state.feeds),
    };
    let currents = feeds.into_iter().map(|feed| feed.plus);
    currents.fold(Current::default(), Current::max)
}

/// Whether the driver of a section says that it never has both whites on at once.
fn never_both(evidence: &Evidence<'_>, section: &Section) -> bool {
    let driver = evidence.sizing.driver(&section.driver);
    driver.is_some_and(|driver| driver.item.output.mixing == Some(Mixing::Interleaved))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// The cove with a strip that may take so much of what it takes with both whites on.
    fn job(share: f64) -> Sample {
        let mut job = Sample::new();
        let most = both_on(&job.sizing.runs[0].sections[0]);
        job.strip(0).most_feed_current = Some(most * share);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(0.999).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(1.0).worst(&RULE), "holds");
    }

    #[test]
    fn holds_where_pulses_never_overlap() {
        let mut job = job(0.999);
        let number = job.sizing.runs[0].sections[0].driver.clone();
        let driver = job
            .sizing
            .drivers
            .iter_mut()
            .find(|driver| driver.number == number);
        let item = &mut driver.expect("a driver").item;
        std::sync::Arc::make_mut(item).output.mixing = Some(Mixing::Interleaved);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = job(1.0);
        job.strip(0).most_feed_current = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
