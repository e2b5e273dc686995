//! Light is judged even where volts hold.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::remedy;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::strip::LightSource;
use crate::norms::defaults;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::{Ratio, Voltage};
use crate::solve::law::light_lost;
use uom::si::ratio::{percent, ratio};

/// Light is judged even where volts hold.
pub static RULE: Rule = Rule {
    id: "light-beats-volts",
    subject: Subject::Strip,
    statement: "a voltage drop within its limit takes no more light than the light drop allows",
    formula: "light lost = v / (1 − v₀/Vₙ) for a share v of the volts lost, strip with resistors; without v₀ both ends of its usual range, 0.70 to 0.88 of nominal",
    sources: &everywhere(
        "arithmetic of the resistor strip; range of v₀: common practice, no source",
    ),
    severity: Severity::Note,
    severities: &[],
    remedy: "as for the light drop; ask for the voltage at which light starts, or a bench reading",
    caution: Some("a voltage drop of 5 % that is allowed can be a third of the light"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let resistors = |sized: &&SizedRun| sized.run.strip.light_source == LightSource::Resistor;
    let runs = evidence.sizing.runs.iter().filter(resistors);
    runs.map(|sized| of_run(evidence, sized)).collect()
}

fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let strip = &sized.run.strip;
    let volts = sized.figures.feed_drop_share;
    let starts = strip
        .channels
        .list()
        .into_iter()
        .map(|channel| channel.light_starts_at);
    let starts: Option<Vec<Voltage>> = starts.collect();
    let percents = |share: Ratio| Figure::new(share.get::<percent>(), Unit::Percent);
    let Some(starts) = starts else {
        let [least, most] = defaults::light_starts().map(|starts| light_lost(volts, starts));
        let missing = format!(
            "`light_starts_at` in strip `{}` (the datasheet, or a bench reading): {} of the volts \
             is {} to {} of the light",
            strip.offer.id,
            percents(volts),
            percents(least),
            percents(most),
        );
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    };
    let highest = starts.into_iter().fold(Voltage::default(), Voltage::max) / strip.voltage;
    let lost = light_lost(volts, highest);
    let limits = evidence.project.limits.of_run(&sized.run.limits);
    let mut finding = Finding::share(subject, lost, &limits.light_drop);
    if !limits.feed_drop.allows(volts) {
        // The rule about volts says it already.
        finding.outcome = crate::judge::verdict::Outcome::Holds;
    }
    finding
        .working(|| {
            format!(
                "{:.4} / (1 − {:.4}) = {}",
                volts.get::<ratio>(),
                highest.get::<ratio>(),
                percents(lost)
            )
        })
        .at(&sized.run.feed_place)
        .remedy(|| remedy::of_run(evidence, sized))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// The cove with a share of its volts lost; its light starts at 16.2 V of 24 V.
    fn job(lost: f64) -> Sample {
        let mut job = Sample::new();
        job.sizing.runs.truncate(1);
        job.sizing.runs[0].figures.feed_drop_share = Ratio::new::<percent>(lost);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        // 3.26 % / (1 − 0.675) = 10.03 %.
        assert_eq!(job(3.26).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(3.25).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure_and_gives_both_answers() {
        let mut job = job(3.0);
        if let crate::model::strip::Channels::TunableWhite { warm, .. } = &mut job.strip(0).channels
        {
            warm.light_starts_at = None;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
        let said = format!("{:?}", check(&job.evidence())[0].outcome);
        assert!(
            said.contains("3.0 % of the volts is 10.0 % to 25.0 % of the light"),
            "{said}"
        );
    }
}
