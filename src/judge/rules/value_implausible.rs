//! Figures of a strip are in the range in which such figures usually are.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::strip::{RailsKnown, Strip};
use crate::norms::usual;
use crate::quantity::power_per_length;
use crate::quantity::resistance_per_length::{self, ohms_per_metre};
use crate::quantity::{PowerPerLength, ResistancePerLength, Voltage, voltage};
use crate::solve::rails::{track, working_temperature};
use std::collections::BTreeMap;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::ratio::ratio;

/// Figures of a strip are in the range in which such figures usually are.
pub static RULE: Rule = Rule {
    id: "value-implausible",
    subject: Subject::Price,
    statement: "power per metre, rail resistance and starting voltage of a strip are where such figures usually are",
    formula: "3 W/m to 30 W/m with all channels on; 0.02 Ω/m to 0.5 Ω/m for each rail given or found from its copper; `light_starts_at` 0.6 to 0.9 of nominal",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "check the figure and its unit: per metre, per foot or per reel",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let runs = evidence.sizing.runs.iter();
    let strips: BTreeMap<&str, &Strip> = runs
        .map(|sized| &*sized.run.strip)
        .map(|strip| (strip.offer.id.as_str(), strip))
        .collect();
    strips.into_values().map(of_strip).collect()
}

/// What is odd about a strip's figures, each with what is usual.
pub(in crate::judge) fn odd(strip: &Strip) -> Vec<String> {
    let mut odd = Vec::new();
    odd.extend(odd_power(strip));
    odd.extend(odd_rails(strip));
    odd.extend(odd_starts(strip));
    odd
}

fn of_strip(strip: &Strip) -> Finding {
    let odd = odd(strip);
    Finding::plain(format!("strip {}", strip.offer.id), odd.is_empty())
        .at(&strip.offer.place)
        .remedy(|| {
            format!(
                "check the figure and its unit (per metre, per foot, per reel): {}",
                odd.join("; ")
            )
        })
}

fn within(value: f64, (least, most): (f64, f64)) -> bool {
    (least..=most).contains(&value)
}

fn odd_power(strip: &Strip) -> Option<String> {
    let channels = strip.channels.list();
    let power: PowerPerLength = channels.iter().map(|channel| channel.power).sum();
    let usual = within(power.get::<watt_per_meter>(), usual::POWER_W_PER_M);
    (!usual).then(|| {
        let (least, most) = usual::POWER_W_PER_M;
        let power = power_per_length::write(power);
        format!("`power` {power} in all, usually {least} W/m to {most} W/m")
    })
}

fn odd_rails(strip: &Strip) -> Vec<String> {
    let rails: Vec<ResistancePerLength> = match &strip.rails {
        RailsKnown::Resistance { common, returns } => std::iter::once(*common)
            .chain(returns.iter().copied())
            .collect(),
        RailsKnown::Copper {
            thickness,
            common_width,
            return_width,
        } => [*common_width, *return_width]
            .into_iter()
            .map(|width| track(*thickness, width, working_temperature()))
            .collect(),
        RailsKnown::LongestRun { .. } | RailsKnown::Bench { .. } | RailsKnown::Unknown => {
            Vec::new()
        }
    };
    let (least, most) = usual::RAIL_OHM_PER_M;
    let one = ohms_per_metre(1.0);
    rails
        .into_iter()
        .filter(|rail| !within((*rail / one).get::<ratio>(), (least, most)))
        .map(|rail| {
            let rail = resistance_per_length::write(rail);
            format!("a rail of {rail}, usually {least} Ω/m to {most} Ω/m")
        })
        .collect()
}

fn odd_starts(strip: &Strip) -> Vec<String> {
    let starts = strip.channels.list().into_iter();
    let starts = starts.filter_map(|channel| channel.light_starts_at);
    let share = |volts: Voltage| (volts / strip.voltage).get::<ratio>();
    starts
        .filter(|volts| !within(share(*volts), usual::STARTS_AT_SHARE))
        .map(|volts| {
            let (least, most) = usual::STARTS_AT_SHARE;
            let (volts, nominal) = (voltage::write(volts), voltage::write(strip.voltage));
            format!("`light_starts_at` {volts} of {nominal}, usually {least} to {most} of it")
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::strip::Channels;
    use uom::si::electric_potential::volt;

    fn with_power(watts: f64) -> Sample {
        let mut job = Sample::new();
        for channels in [&mut job.strip(1).channels] {
            if let Channels::SingleColour(channel) = channels {
                channel.power = PowerPerLength::new::<watt_per_meter>(watts);
            }
        }
        job
    }

    fn with_rail(ohms: f64) -> Sample {
        let mut job = Sample::new();
        job.strip(1).rails = RailsKnown::Resistance {
            common: ohms_per_metre(ohms),
            returns: vec![ohms_per_metre(ohms)],
        };
        job
    }

    #[test]
    fn breaks_outside_the_usual_range() {
        assert_eq!(with_power(30.1).worst(&RULE), "broken");
        assert_eq!(with_power(2.9).worst(&RULE), "broken");
        assert_eq!(with_rail(0.019).worst(&RULE), "broken");
        assert_eq!(with_rail(0.51).worst(&RULE), "broken");
        let mut job = Sample::new();
        if let Channels::SingleColour(channel) = &mut job.strip(1).channels {
            channel.light_starts_at = Some(Voltage::new::<volt>(44.0));
        }
        assert_eq!(job.worst(&RULE), "broken", "44 V of 48 V");
    }

    #[test]
    fn holds_at_the_ends_of_the_range() {
        assert_eq!(with_power(30.0).worst(&RULE), "holds");
        assert_eq!(with_power(3.0).worst(&RULE), "holds");
        assert_eq!(with_rail(0.02).worst(&RULE), "holds");
        assert_eq!(with_rail(0.5).worst(&RULE), "holds");
    }
}
