//! Figures of a strip that contradict each other or what is possible.

use super::Told;
use crate::judge::rules::value_implausible;
use crate::model::strip::{RailsKnown, Strip};
use crate::quantity::{Current, PowerPerLength, Ratio, current, length, power_per_length, voltage};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::ratio::ratio;

/// Lumens that one watt of light can be at most: the luminous efficacy K_cd by which the lumen is
/// defined (International System of Units, 9th edition, table 1).
const MOST_EFFICACY: f64 = 683.0;

/// Lumens from a watt of strip above which a figure is likely a slip (common practice, no source).
const USUAL_EFFICACY: f64 = 250.0;

/// Share of a cut that a reel may be off a whole number of cuts: cuts are told to the millimetre
/// (common practice, no source).
const OF_A_CUT: f64 = 0.05;

/// How much more than its nominal current a strip may draw on a bench (common practice, no source).
const BENCH_CURRENT: f64 = 1.25;

/// What is wrong with a strip.
pub(super) fn slips(strip: &Strip, told: &mut Told<'_>) {
    efficacy(strip, told);
    pitch(strip, told);
    reels(strip, told);
    bench(strip, told);
    feed(strip, told);
    for odd in value_implausible::odd(strip) {
        let key = odd.split('`').nth(1).unwrap_or("rails").to_owned();
        let remedy = "check the figure and its unit: per metre, per foot or per reel";
        told.odd(&key, odd, remedy);
    }
}

/// Power per length with every channel on.
fn power(strip: &Strip) -> PowerPerLength {
    let channels = strip.channels.list();
    channels.iter().map(|channel| channel.power).sum()
}

fn efficacy(strip: &Strip, told: &mut Told<'_>) {
    let channels = strip.channels.list();
    let each = channels.iter().filter_map(|channel| {
        let efficacy = channel.flux?.value / channel.power.value;
        Some((efficacy, channel))
    });
    let Some((efficacy, channel)) = each.reduce(|a, b| if b.0 > a.0 { b } else { a }) else {
        return;
    };
    let from = power_per_length::write(channel.power);
    if efficacy > MOST_EFFICACY {
        let found = format!(
            "{efficacy:.0} lm from a watt ({from}), more than the {MOST_EFFICACY} lm that a watt of \
             light can be"
        );
        told.impossible("flux", found, "check `flux` and `power` and their units");
    } else if efficacy > USUAL_EFFICACY {
        let found =
            format!("{efficacy:.0} lm from a watt ({from}), usually at most {USUAL_EFFICACY} lm");
        told.odd("flux", found, "check `flux` and `power` and their units");
    }
}

fn pitch(strip: &Strip, told: &mut Told<'_>) {
    if let Some(pitch) = strip.detail.led_pitch.filter(|pitch| *pitch > strip.cut) {
        let found = format!(
            "LEDs {} apart in segments of {}: a segment would have none",
            length::write(pitch),
            length::write(strip.cut)
        );
        told.impossible("led_pitch", found, "check `led_pitch` and `cut`");
    }
}

fn reels(strip: &Strip, told: &mut Told<'_>) {
    for reel in &strip.reels {
        let cuts = (reel.length / strip.cut).get::<ratio>();
        let over = cuts.fract();
        if over > OF_A_CUT && over < 1.0 - OF_A_CUT {
            let found = format!(
                "a reel of {} is {cuts:.2} cuts of {}: its last {:.0} mm is no whole segment",
                length::write(reel.length),
                length::write(strip.cut),
                1000.0 * over * strip.cut.get::<meter>()
            );
            let remedy = "check `cut` and the reel's `length`";
            told.odd("reels", found, remedy);
        }
    }
}

fn bench(strip: &Strip, told: &mut Told<'_>) {
    let RailsKnown::Bench {
        length, current, ..
    } = strip.rails
    else {
        return;
    };
    let nominal = nominal_current(strip, length.get::<meter>());
    if current > nominal * BENCH_CURRENT {
        let found = format!(
            "{} into {} on the bench, where `power` at {} asks for {}",
            current::write(current),
            length::write(length),
            voltage::write(strip.voltage),
            current::write(nominal)
        );
        let remedy = "check `bench` and `power`: is it per metre, and of all channels";
        told.odd("bench.current", found, remedy);
    }
}

/// Power over volts of a length, with every channel on.
fn nominal_current(strip: &Strip, metres: f64) -> Current {
    let watts = power(strip).get::<watt_per_meter>() * metres;
    Current::new::<ampere>(watts / strip.voltage.get::<volt>())
}

/// Share by which two figures of a sheet may disagree through rounding (common practice, no
/// source).
const ROUNDED: f64 = 1.1;

fn feed(strip: &Strip, told: &mut Told<'_>) {
    let both = strip.most_feed_current.zip(strip.detail.longest_section);
    let Some((most, longest)) = both else { return };
    // Of two whites, drivers that share have one on at a time: only the stronger is certain.
    let channels = strip.channels.list();
    let all: PowerPerLength = power(strip);
    let strongest = channels.iter().map(|channel| channel.power);
    let strongest = strongest.fold(PowerPerLength::default(), PowerPerLength::max);
    let share: Ratio = strongest / all;
    let needs = nominal_current(strip, longest.get::<meter>()) * share;
    if needs > most * ROUNDED {
        let found = format!(
            "a section of {} (`longest_section`) draws {}, above the {} that may enter at a feed",
            length::write(longest),
            current::write(needs),
            current::write(most)
        );
        let remedy = "check `most_feed_current`, `longest_section` and `power`";
        told.odd("most_feed_current", found, remedy);
    }
}
