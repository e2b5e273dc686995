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
