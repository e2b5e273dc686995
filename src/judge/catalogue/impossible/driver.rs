//! Figures of a driver that contradict each other or what is possible.

use super::Told;
use crate::model::cable::{Cable, CableUse};
use crate::model::catalogue::Catalogue;
use crate::model::driver::Driver;
use crate::model::project::{Breaker, Curve};
use crate::quantity::number::real;
use crate::quantity::{Power, Ratio, current, power, ratio as share, temperature, voltage};
use uom::si::ratio::ratio;

/// Share by which two figures of a sheet may disagree through rounding (common practice, no
/// source).
const ROUNDED: f64 = 1.05;

/// The breaker that `most_per_b16` counts on.
const B16: Breaker = Breaker {
    curve: Curve::B,
    amperes: 16,
};

/// What is wrong with a driver.
pub(super) fn slips(driver: &Driver, catalogue: &Catalogue, told: &mut Told<'_>) {
    output(driver, told);
    mains(driver, told);
    terminals(driver, catalogue, told);
    breakers(driver, told);
    derating(driver, told);
    emergency(driver, told);
}

/// Power is at most volts times amperes, and at most what the channels give.
fn output(driver: &Driver, told: &mut Told<'_>) {
    let output = &driver.output;
    let channels = real(output.channels);
    if let Some(each) = output.current_per_channel {
        let most: Power = output.voltage * each * channels;
        if output.power > most * ROUNDED {
            let found = format!(
                "{} from {} × {} × {} channels, which is {}",
                power::write(output.power),
                voltage::write(output.voltage),
                current::write(each),
                output.channels,
                power::write(most)
            );
            told.impossible(
                "output.power",
                found,
                "check `power`, `voltage` and `current_per_channel`",
            );
        }
    }
    if let Some(each) = driver.detail.power_per_channel
        && output.power > each * channels * ROUNDED
    {
        let found = format!(
            "{} in all from {} channels of {}",
            power::write(output.power),
            output.channels,
            power::write(each)
        );
        told.impossible(
            "output.power",
            found,
            "check `power` and `power_per_channel`",
        );
    }
}

/// What goes in is at least what comes out.
fn mains(driver: &Driver, told: &mut Told<'_>) {
    let mains = &driver.mains;
    let (Some((_, highest)), Some(draws)) = (mains.voltage, mains.current) else {
        return;
    };
    let factor = mains
        .power_factor
        .unwrap_or_else(|| Ratio::new::<ratio>(1.0));
    let input: Power = highest * draws * factor;
    if input * ROUNDED < driver.output.power {
        let found = format!(
            "{} out of {} in ({} × {} at most)",
            power::write(driver.output.power),
            power::write(input),
            voltage::write(highest),
            current::write(draws)
        );
        let remedy = "check `mains.current`: at full load, at the voltage of the mains";
        told.impossible("mains.current", found, remedy);
    }
}

/// A driver whose terminals take none of the cables that go to strips.
fn terminals(driver: &Driver, catalogue: &Catalogue, told: &mut Told<'_>) {
    let Some(largest) = driver.largest_terminal else {
        return;
    };
    let feeds = catalogue.cables.iter();
    let feeds = feeds.filter(|cable| cable.uses.contains(&CableUse::StripFeed));
    let thinner = |one: &'_ std::sync::Arc<Cable>, other: &'_ std::sync::Arc<Cable>| {
        one.size.area() < other.size.area()
    };
    let thinnest = feeds.reduce(|a, b| if thinner(b, a) { b } else { a });
    if let Some(cable) = thinnest.filter(|cable| cable.size.area() > largest.area() * 1.001) {
        let found = format!(
            "terminals of {largest} take none of the cables for strip feeds here: the thinnest, {}, \
             is {}",
            cable.offer.id, cable.size
        );
        told.odd(
            "terminals.largest",
            found,
            "check the size, or add a cable that fits",
        );
    }
}

/// A larger breaker of the same curve takes no fewer.
fn breakers(driver: &Driver, told: &mut Told<'_>) {
    let mut most: Vec<(Breaker, usize)> = driver.mains.needs.most_on.clone();
    most.extend(driver.mains.most_per_b16.map(|count| (B16, count)));
    for (small, many) in &most {
        let larger = most.iter().find(|(large, count)| {
            large.curve == small.curve && large.amperes > small.amperes && count < many
        });
        if let Some((large, count)) = larger {
            let found = format!("{many} on {small} but {count} on {large}");
            told.impossible("mains.most_on", found, "check both counts");
            return;
        }
    }
}

/// Derating begins above the ambient for full output.
fn derating(driver: &Driver, told: &mut Told<'_>) {
    let Some(most) = driver.most_ambient else {
        return;
    };
    let whole = Ratio::new::<ratio>(1.0);
    let early = driver
        .derating
        .iter()
        .find(|(at, left)| *at <= most && *left < whole);
    if let Some((at, left)) = early {
        let found = format!(
            "{} of its power at {}, where `ambient.most` says full power up to {}",
            share::write(*left),
            temperature::write(*at),
            temperature::write(most)
        );
        told.odd("derating", found, "check `derating` and `ambient.most`");
    }
}

fn emergency(driver: &Driver, told: &mut Told<'_>) {
    let Some(bus) = &driver.bus else { return };
    let part = bus.emergency.filter(|part| part.addresses > bus.addresses);
    if let Some(part) = part {
        let found = format!(
            "its emergency part takes {} of the {} addresses that it takes in all",
            part.addresses, bus.addresses
        );
        let remedy = "`bus.addresses` counts all of them, that of the emergency part among them";
        told.impossible("bus.emergency.addresses", found, remedy);
    }
}
