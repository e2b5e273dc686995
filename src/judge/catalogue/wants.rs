//! What a catalogue lacks that a whole job needs, to be had from another.

use crate::model::cable::CableUse;
use crate::model::catalogue::Catalogue;
use crate::model::driver::{Driver, GearType};
use crate::model::strip::Strip;
use crate::quantity::voltage;

/// What a job with this catalogue's strips needs from elsewhere, a sentence each.
#[must_use]
pub fn wants(catalogue: &Catalogue) -> Vec<String> {
    let mut wants = Vec::new();
    if catalogue.strips.is_empty() {
        wants.push("a strip: nothing here can be a run".to_owned());
    }
    for strip in &catalogue.strips {
        let (volts, channels) = (voltage::write(strip.voltage), strip.channels.count());
        let id = &strip.offer.id;
        if !catalogue.drivers.iter().any(|driver| drives(driver, strip)) {
            let colour = if channels > 1 {
                ", two channels, steered by colour temperature"
            } else {
                ""
            };
            wants.push(format!("a driver of {volts}{colour} for strip {id}"));
        }
        if !feed_cable(catalogue, channels + 1) {
            wants.push(format!(
                "a cable for strip feeds with {} cores for strip {id}",
                channels + 1
            ));
        }
    }
    let on_bus = catalogue.drivers.iter().any(|driver| driver.bus.is_some());
    if on_bus && !used_for(catalogue, CableUse::Bus) {
        wants.push("a cable for the control bus".to_owned());
    }
    if on_bus && catalogue.controllers.is_empty() {
        wants.push("a controller for the control bus".to_owned());
    }
    if !used_for(catalogue, CableUse::Mains) {
        wants.push("a mains cable".to_owned());
    }
    wants
}

/// Whether a driver can feed a strip by itself.
#[must_use]
pub fn drives(driver: &Driver, strip: &Strip) -> bool {
    let channels = strip.channels.count();
    let steered = channels == 1
        || driver
            .bus
            .as_ref()
            .is_none_or(|bus| bus.gear == GearType::ColourTemperature);
    driver.output.voltage == strip.voltage && driver.output.channels >= channels && steered
}

/// Whether there is a cable for strip feeds with so many cores.
#[must_use]
pub fn feed_cable(catalogue: &Catalogue, cores: usize) -> bool {
    let mut cables = catalogue.cables.iter();
    cables.any(|cable| cable.uses.contains(&CableUse::StripFeed) && cable.cores >= cores)
}

fn used_for(catalogue: &Catalogue, usage: CableUse) -> bool {
    let mut cables = catalogue.cables.iter();
    cables.any(|cable| cable.uses.contains(&usage))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// A strip of each kind, one channel and two, and the cables that are kept.
    fn told(keep: impl Fn(usize) -> bool) -> Vec<String> {
        let mut catalogue = Sample::new().project.catalogue.clone();
        let of = |count: usize| {
            let mut strips = catalogue.strips.iter();
            strips
                .find(|strip| strip.channels.count() == count)
                .cloned()
        };
        catalogue.strips = [of(1), of(2)].into_iter().flatten().collect();
        let mut names = ["single", "pair"].into_iter();
        for strip in &mut catalogue.strips {
            let strip = std::sync::Arc::make_mut(strip);
            strip.offer.id = names.next().unwrap_or_default().to_owned();
        }
        catalogue.cables.retain(|cable| keep(cable.cores));
        wants(&catalogue)
    }

    // A plus in common and a return for each channel.
    #[test]
    fn a_strip_wants_a_cable_with_a_core_for_each_channel_and_one_more() {
        let cable =
            |cores, id| format!("a cable for strip feeds with {cores} cores for strip {id}");
        let none = told(|_| false);
        assert!(none.contains(&cable(2, "single")) && none.contains(&cable(3, "pair")));
        assert!(none.contains(&"a mains cable".to_owned()));
        let two = told(|cores| cores == 2);
        assert!(!two.contains(&cable(2, "single")) && two.contains(&cable(3, "pair")));
        let all = told(|_| true);
        assert!(!all.iter().any(|want| want.contains("cores")), "{all:?}");
    }

    // The sample's drivers at another voltage, or with a channel too few, feed nothing.
    #[test]
    fn a_strip_wants_a_driver_of_its_voltage_with_a_channel_for_each_of_its_own() {
        let bent = |bend: fn(&mut Driver)| -> Vec<String> {
            let mut catalogue = Sample::new().project.catalogue.clone();
            catalogue.strips.retain(|strip| strip.channels.count() == 2);
            for driver in &mut catalogue.drivers {
                bend(std::sync::Arc::make_mut(driver));
            }
            let wants = wants(&catalogue).into_iter();
            wants.filter(|want| want.starts_with("a driver")).collect()
        };
        assert_eq!(bent(|_| ()), Vec::<String>::new());
        assert!(!bent(|driver| driver.output.voltage *= 2.5).is_empty());
        assert!(!bent(|driver| driver.output.channels = 1).is_empty());
        let single = bent(|driver| {
            if let Some(bus) = &mut driver.bus {
                bus.gear = GearType::Single;
            }
        });
        assert!(!single.is_empty());
    }
}
