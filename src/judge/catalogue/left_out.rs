//! Keys of a catalogue item that no rule waits for.

use crate::model::offer::ItemKind::{
    self, Accessory, ControlDevice, Controller, Driver, Profile, Strip,
};

const EVERY: &[ItemKind] = &ItemKind::ALL;

/// Keys that may be left out, each with what leaving it out means: no rule waits for them.
pub static LEFT_OUT: &[(&[ItemKind], &str, &str)] = &[
    (EVERY, "description", "the id stands for it"),
    (EVERY, "price", "looked for with the lengths it is sold in"),
    (EVERY, "pack", "sold by one"),
    (EVERY, "smallest_order", "one"),
    (
        EVERY,
        "price_valid_until",
        "the catalogue's, looked for with the prices",
    ),
    (
        EVERY,
        "supplier",
        "the catalogue's, or none on the order list",
    ),
    (&[Strip], "joints", "no"),
    (&[Strip], "most_voltage", "5 % above nominal"),
    (&[Strip], "ambient.least", "no cold limit"),
    (&[Strip], "bend.way", "out of its plane"),
    (&[Strip], "reels.price", "looked for with the prices"),
    (&[Strip], "reels.available", "no limit"),
    (&[Driver], "output.channels", "1"),
    (
        &[Driver],
        "output.power_per_channel",
        "the channel's current alone bounds it",
    ),
    (&[Driver], "bus.addresses", "1"),
    (
        &[Driver],
        "bus.colour",
        "single; refused where there are several channels",
    ),
    (&[Driver], "bus.emergency", "it has no emergency part"),
    (
        &[Driver],
        "bus.insulation",
        "no rule asks it of gear behind covers",
    ),
    (
        &[Driver],
        "mains.residual_type",
        "it asks for none beyond type A",
    ),
    (&[Driver], "derating", "nothing above the highest ambient"),
    (&[Driver], "flicker.depth", "100 %, as with pulse width"),
    (&[ItemKind::Cable], "also_marked", "it has one marking"),
    (&[ItemKind::Cable], "drums", "sold by the metre"),
    (
        &[ItemKind::Cable],
        "drums.price",
        "looked for with the prices",
    ),
    (&[ItemKind::Cable], "drums.available", "no limit"),
    (&[ItemKind::Cable], "waste", "the project's"),
    (
        &[Controller],
        "supply",
        "it has none; bus supplies are added",
    ),
    (&[Controller], "joins_loops", "no"),
    (&[Controller], "whites", "it sends no colour"),
    (&[ControlDevice], "addresses", "1"),
    (&[Profile], "bars.price", "looked for with the prices"),
    (&[Profile], "bars.available", "no limit"),
    (&[Profile], "kerf", "3 mm"),
    (&[Profile], "longer_by", "as long as its strip"),
    (&[Profile], "lid", "taken to scatter light"),
    (&[Accessory], "quantity", "1"),
    (&[Accessory], "goes_with", "it goes with every item"),
    (&[Accessory], "wet", "in all places"),
    (
        &[Accessory],
        "channels",
        "for strips of any number of channels",
    ),
];
