//! The current that enters a strip at one feed is what its copper and pads carry.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_current::ampere;

/// The current that enters a strip at one feed is what its copper and pads carry.
pub static RULE: Rule = Rule {
    id: "strip-rail-current",
    subject: Subject::Strip,
    statement: "no feed puts more current into a strip than its copper and solder pads carry",
    formula: "most current in the plus core of any feed, over all lit states",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "more feeds; shorter sections; a strip of lower power or higher voltage",
    caution: Some("discoloured board at a feed means overloaded copper: isolate and replace"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.runs.iter().map(of_run).collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let strip = &sized.run.strip;
    let Some(most) = strip.most_feed_current else {
        let missing = format!(
            "`most_feed_current` in strip `{}` (the datasheet)",
            strip.offer.id
        );
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    };
    let feeds = sized.sections.iter().flat_map(|section| &section.feeds);
    let worst = feeds
        .map(|feed| feed.current.get::<ampere>())
        .fold(0.0, f64::max);
    let limit = Limit {
        value: most.get::<ampere>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    Finding::measured(subject, Figure::new(worst, Unit::Ampere), &limit)
        .working(|| format!("{worst:.2} A into the strip at its strongest feed"))
        .at(&sized.run.feed_place)
        .remedy(|| "more feeds, or sections with a driver output each".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Current;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[1].sections[0].feeds[0].current = Current::new::<ampere>(5.01);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[1].sections[0].feeds[0].current = Current::new::<ampere>(5.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.strip(1).most_feed_current = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
