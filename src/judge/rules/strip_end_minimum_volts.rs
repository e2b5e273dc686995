//! A regulated strip keeps its headroom to its furthest segment.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::strip::{LightSource, Strip};
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Voltage;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;

/// A regulated strip keeps its headroom to its furthest segment.
pub static RULE: Rule = Rule {
    id: "strip-end-minimum-volts",
    subject: Subject::Strip,
    statement: "the least voltage along a run stays at or above the voltage from which its strip works as specified",
    formula: "least volts across a segment, against `least_voltage`, or else `regulated_from`",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "feed it at both ends; a heavier cable; shorter sections",
    caution: Some("a regulated strip flickers or goes out at its end before it visibly dims"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .sizing
        .runs
        .iter()
        .filter_map(|sized| of_run(evidence, sized))
        .collect()
}

/// A resistor strip has no such voltage unless its datasheet gives one: its light drop says all.
fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Option<Finding> {
    let strip = &sized.run.strip;
    let subject = format!("run {}", sized.run.name);
    let Some(least) = least_voltage(strip) else {
        let missing = format!(
            "`least_voltage` or `regulated_from` in strip `{}` (the datasheet)",
            strip.offer.id
        );
        let finding = Finding::cannot_tell(subject, missing).at(&strip.offer.place);
        return (strip.light_source != LightSource::Resistor).then_some(finding);
    };
    let limit = Limit {
        value: least.get::<volt>(),
        bound: Bound::AtLeast,
        source: Source::Datasheet,
    };
    let found = Figure::new(sized.figures.volts_least.get::<volt>(), Unit::Volt);
    let finding = Finding::measured(subject, found, &limit)
        .working(|| format!("{found} across its furthest segment"))
        .resting_on(sized.light_assumed.as_ref())
        .at(&sized.run.feed_place)
        .remedy(|| remedy::of_run(evidence, sized));
    Some(finding)
}

fn least_voltage(strip: &Strip) -> Option<Voltage> {
    if strip.least_voltage.is_some() {
        return strip.least_voltage;
    }
    if strip.light_source != LightSource::Regulated {
        return None;
    }
    let of_channels: Option<Vec<Voltage>> = strip
        .channels
        .list()
        .iter()
        .map(|channel| channel.regulated_from)
        .collect();
    of_channels?.into_iter().reduce(Voltage::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::strip::Channels;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[1].figures.volts_least = Voltage::new::<volt>(43.99);
        assert_eq!(job.worst(&RULE), "broken");
    }

    // The white that wants more volts is dark first, whichever it is.
    #[test]
    fn the_channel_that_wants_more_volts_is_the_one_that_counts() {
        let volts = |value: f64| Voltage::new::<volt>(value);
        for (warm, cool) in [(20.0, 21.0), (21.0, 20.0)] {
            let with = |least: f64| {
                let mut job = Sample::new();
                job.sizing.runs.truncate(1);
                let strip = job.strip(0);
                strip.light_source = LightSource::Regulated;
                if let Channels::TunableWhite {
                    warm: one,
                    cool: other,
                } = &mut strip.channels
                {
                    one.regulated_from = Some(volts(warm));
                    other.regulated_from = Some(volts(cool));
                }
                job.sizing.runs[0].figures.volts_least = volts(least);
                job.worst(&RULE)
            };
            assert_eq!([20.9, 21.0].map(with), ["broken", "holds"]);
        }
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.sizing.runs[1].figures.volts_least = Voltage::new::<volt>(44.0);
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.strip(1).light_source = LightSource::Converter;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
