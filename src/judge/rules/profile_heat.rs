//! Strip sheds its heat.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::defaults;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::PowerPerLength;
use crate::quantity::figure::{Figure, Unit};
use uom::si::linear_power_density::watt_per_meter;

/// Strip sheds its heat.
pub static RULE: Rule = Rule {
    id: "profile-heat",
    subject: Subject::Strip,
    statement: "power per metre is within what the profile can shed; above 10 W/m there is a profile",
    formula: "power per length of all channels that may be on together, against `most_power` of the profile, or 10 W/m without one",
    sources: &everywhere(
        "profile data; above about 10 W/m an aluminium profile is expected (common practice, no source)",
    ),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a deeper profile; a strip of less power; an air gap behind it",
    caution: Some("adhesive on plaster or timber is no way out for heat"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.runs.iter().map(of_run).collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let powers = sized
        .run
        .strip
        .channels
        .list()
        .into_iter()
        .map(|channel| channel.power);
    let power: PowerPerLength = powers.sum();
    let found = Figure::new(power.get::<watt_per_meter>(), Unit::WattPerMetre);
    let (most, source) = match &sized.run.profile {
        None => (
            defaults::warm_power(),
            Source::CommonPractice("a metal profile above about 10 W/m"),
        ),
        Some(profile) => match profile.most_power {
            Some(most) => (most, Source::Datasheet),
            None => {
                let id = &profile.offer.id;
                let missing = format!("`most_power` in profile `{id}` (the datasheet)");
                return Finding::cannot_tell(subject, missing).at(&profile.offer.place);
            }
        },
    };
    let limit = Limit {
        value: most.get::<watt_per_meter>(),
        bound: Bound::AtMost,
        source,
    };
    Finding::measured(subject, found, &limit)
        .working(|| format!("{found}, all channels on"))
        .at(&sized.run.place)
        .remedy(|| format!("give it a `profile` that sheds at least {found}"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    /// The cove, of 9.6 W/m, in a profile that sheds so much.
    fn job(watts: Option<f64>) -> Sample {
        let old = "group: cove, cupboard: cupboard-a";
        let mut job = Sample::with(old, &format!("{old}, profile: shelf-9"));
        let run = Arc::make_mut(&mut job.sizing.runs[0].run);
        let profile = Arc::make_mut(run.profile.as_mut().expect("a profile"));
        profile.most_power = watts.map(PowerPerLength::new::<watt_per_meter>);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(9.59)).worst(&RULE), "broken");
    }

    #[test]
    fn breaks_without_a_profile_above_ten_watts_per_metre() {
        let mut job = Sample::new();
        let channels = &mut job.strip(0).channels;
        if let crate::model::strip::Channels::TunableWhite { warm, .. } = channels {
            warm.power = PowerPerLength::new::<watt_per_meter>(5.21);
        }
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(9.6)).worst(&RULE), "holds");
        assert_eq!(Sample::new().worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}
