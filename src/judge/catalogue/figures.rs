//! What each figure of a catalogue item is needed for.
//!
//! Every key that an item may leave out is in [`FIGURES`], with the rules that can't be told without
//! it, or in [`super::left_out`], with what leaving it out means. A test holds both to the schema of
//! the catalogue file, and takes each figure out of jobs to see which rules it opens.

use crate::load::alone::Block;
use crate::model::cable::{Cable, CableUse};
use crate::model::catalogue::Catalogue;
use crate::model::offer::ItemKind::{
    self, Accessory, BusSupply, ControlDevice, Controller, Driver, Profile, Strip,
};
use crate::norms::region::Region;
use crate::quantity::Temperature;
use crate::solve::ampacity::ampacity;
use uom::si::thermodynamic_temperature::degree_celsius;

/// A figure that rules need.
pub struct Figure {
    /// The items that have it.
    pub kinds: &'static [ItemKind],
    /// Its key, with dots where it stands within another; any one of several does.
    pub keys: &'static [&'static str],
    /// Whether an item needs it.
    pub asked: Asked,
    /// The rules that can't be told without it.
    pub rules: &'static [&'static str],
    /// What else can't be told.
    pub result: Option<&'static str>,
    /// What is taken in its place.
    pub assumed: Option<&'static str>,
    /// Who supplies it.
    pub from: &'static str,
}

/// Whether an item, in a catalogue, for jobs of a region, needs a figure.
type Asked = fn(&Block, &Catalogue, Region) -> bool;

const SHEET: &str = "the maker for its datasheet";

/// A figure of one kind of item that some rules need of all of them.
const fn of(
    kind: &'static [ItemKind],
    keys: &'static [&'static str],
    rules: &'static [&'static str],
) -> Figure {
    Figure {
        kinds: kind,
        keys,
        asked: |_, _, _| true,
        rules,
        result: None,
        assumed: None,
        from: SHEET,
    }
}

/// The same figure, needed only of some items.
const fn when(asked: Asked, figure: Figure) -> Figure {
    Figure { asked, ..figure }
}

/// The same figure, with what is taken in its place.
const fn assumed(text: &'static str, figure: Figure) -> Figure {
    Figure {
        assumed: Some(text),
        ..figure
    }
}

/// The same figure, with what else can't be told without it.
const fn telling(text: &'static str, figure: Figure) -> Figure {
    Figure {
        result: Some(text),
        ..figure
    }
}

/// What is judged of the light along a run.
const LIGHT: &[&str] = &[
    "feed-voltage-drop",
    "colour-shift-along",
    "strip-light-drop",
    "strip-light-evenness",
    "white-balance-across-runs",
];

const EVERY: &[ItemKind] = &ItemKind::ALL;

/// Every figure.
pub static FIGURES: &[Figure] = &[
    assumed(
        "the poorest rails in common use",
        Figure {
            from: "the maker for its datasheet, or measure volts and current on a bench",
            ..of(
                &[Strip],
                &["rails", "copper", "longest_run", "bench"],
                LIGHT,
            )
        },
    ),
    assumed(
        "0.70 to 0.88 of nominal, whichever is darker",
        when(
            |item, _, _| item.word("light_source") != Some("converter"),
            of(
                &[Strip],
                &["light_starts_at"],
                &[
                    "feed-voltage-drop",
                    "colour-shift-along",
                    "strip-light-drop",
                    "strip-light-evenness",
                    "white-balance-across-runs",
                    "light-beats-volts",
                ],
            ),
        ),
    ),
    when(
        |item, _, _| item.word("light_source") == Some("regulated"),
        of(
            &[Strip],
            &["regulated_from", "least_voltage"],
            &["strip-end-minimum-volts"],
        ),
    ),
    when(
        |item, _, _| item.word("light_source") == Some("converter"),
        of(&[Strip], &["least_voltage"], &["strip-end-minimum-volts"]),
    ),
    telling(
        "lumens of a run",
        of(&[Strip], &["flux"], &["colour-shift-along", "mix-flux"]),
    ),
    of(
        &[Strip],
        &["white"],
        &[
            "colour-shift-along",
            "mix-off-locus",
            "mix-flux",
            "white-range",
        ],
    ),
    of(
        &[Strip],
        &["most_feed_current"],
        &["strip-rail-current", "common-rail-worst-case"],
    ),
    of(&[Strip], &["longest_section"], &["strip-run-length"]),
    of(&[Strip], &["ambient.most"], &["strip-ambient"]),
    of(&[Strip], &["bend"], &["bend-radius"]),
    of(&[Strip], &["led_pitch"], &["diffuser-pitch"]),
    of(&[Strip], &["bin"], &["bin-per-room"]),
    of(&[Strip], &["ingress"], &["strip-ip"]),
    of(
        &[Driver],
        &["output.current_per_channel"],
        &["driver-channel-current"],
    ),
    assumed(
        "both whites full on together",
        when(
            several_channels,
            of(
                &[Driver],
                &["output.mixing"],
                &["driver-total-power-both-whites"],
            ),
        ),
    ),
    when(
        |item, _, _| !several_channels(item, &Catalogue::default(), Region::Iec),
        of(
            &[Driver],
            &["output.joins_plus"],
            &["outputs-not-paralleled"],
        ),
    ),
    when(
        several_channels,
        of(&[Driver], &["output.common"], &["driver-common-polarity"]),
    ),
    of(&[Driver], &["output.tolerance"], &["strip-overvoltage"]),
    assumed(
        "2 mA, the most that IEC 62386-101 allows",
        when(
            |item, _, _| item.has_keys("bus"),
            of(&[Driver], &["bus.current"], &[]),
        ),
    ),
    when(
        |item, _, _| item.has_keys("bus"),
        of(&[Driver], &["bus.class_2"], &["bus-class2-na"]),
    ),
    when(
        |item, _, _| item.has_keys("bus.emergency"),
        of(
            &[Driver],
            &["bus.emergency.tested"],
            &["bus-emergency-part"],
        ),
    ),
    of(
        &[Driver],
        &["mains.current"],
        &["circuit-load", "breaker-spare", "circuit-drop"],
    ),
    when(
        |_, _, region| region != Region::NorthAmerica,
        of(&[Driver], &["mains.most_per_b16"], &["inrush-count"]),
    ),
    when(
        |_, _, region| region == Region::NorthAmerica,
        of(&[Driver], &["mains.most_on"], &["inrush-count"]),
    ),
    of(&[Driver], &["mains.earth_leakage"], &["leakage-share"]),
    of(&[Driver], &["mains.voltage"], &["voltage-range"]),
    assumed(
        "a power factor of 1",
        telling(
            "the volt drop of its circuit to the last percent",
            of(&[Driver], &["mains.power_factor"], &[]),
        ),
    ),
    of(&[Driver], &["mains.efficiency"], &["driver-ventilation"]),
    of(&[Driver], &["terminals.largest"], &["cable-termination"]),
    of(&[Driver], &["ambient.most"], &["driver-ambient"]),
    of(&[Driver], &["least_load"], &["driver-least-load"]),
    of(
        &[Driver],
        &["least_level"],
        &["driver-dim-range", "least-dim-level"],
    ),
    of(
        &[Driver],
        &["safety"],
        &["driver-selv", "driver-class2", "driver-not-class2-wiring"],
    ),
    of(&[Driver], &["size"], &["driver-space"]),
    of(&[Driver], &["longest_feed"], &["driver-distance"]),
    of(&[Driver], &["flicker.frequency"], &["driver-modulation"]),
    when(
        |_, _, region| region == Region::Iec,
        of(&[Driver], &["flicker.pst_lm"], &["driver-modulation"]),
    ),
    when(
        |_, _, region| region == Region::Iec,
        of(&[Driver], &["flicker.svm"], &["driver-modulation"]),
    ),
    when(
        no_table,
        of(
            &[ItemKind::Cable],
            &["most_current"],
            &[
                "cable-ampacity",
                "cable-in-insulation",
                "cable-overload-protected",
                "breaker-cable",
            ],
        ),
    ),
    when(
        |item, catalogue, _| used_for(item, catalogue, &[CableUse::StripFeed, CableUse::Bus]),
        of(
            &[ItemKind::Cable],
            &["rated_voltage"],
            &["cable-segregation-selv", "bus-cable-least"],
        ),
    ),
    when(
        |item, catalogue, _| used_for(item, catalogue, &[CableUse::StripFeed]),
        of(&[ItemKind::Cable], &["suits"], &["cable-wet-sun"]),
    ),
    when(
        |item, catalogue, _| {
            used_for(item, catalogue, &[CableUse::StripFeed])
                && cable(item, catalogue).is_some_and(|cable| cable.cores > 2)
        },
        of(
            &[ItemKind::Cable],
            &["core_marks"],
            &["feed-polarity-three-core"],
        ),
    ),
    when(
        |item, catalogue, region| {
            region == Region::NorthAmerica && used_for(item, catalogue, &[CableUse::StripFeed])
        },
        of(
            &[ItemKind::Cable],
            &["wiring"],
            &["driver-not-class2-wiring"],
        ),
    ),
    of(
        &[Controller],
        &["mains.current"],
        &["circuit-load", "breaker-spare", "circuit-drop"],
    ),
    of(
        &[BusSupply],
        &["mains.current"],
        &["circuit-load", "breaker-spare", "circuit-drop"],
    ),
    of(&[ControlDevice], &["current"], &["bus-current"]),
    of(&[ControlDevice], &["insulation"], &["bus-not-selv"]),
    of(&[ControlDevice], &["class_2"], &["bus-class2-na"]),
    of(&[Profile], &["most_power"], &["profile-heat"]),
    when(
        |item, _, _| item.word("lid") != Some("clear"),
        of(&[Profile], &["depth"], &["diffuser-pitch"]),
    ),
    when(
        per_feed,
        of(&[Accessory], &["most_current"], &["connector-current"]),
    ),
    when(
        |item, catalogue, region| per_feed(item, catalogue, region) && item.has("most_current"),
        of(&[Accessory], &["tail"], &["cable-tail-step-down"]),
    ),
    when(
        |item, _, _| item.has("tail"),
        of(&[Accessory], &["tail.length"], &["cable-tail-step-down"]),
    ),
    Figure {
        from: "the supplier",
        ..of(EVERY, &["lead_time"], &["lead-time"])
    },
    Figure {
        from: "whoever fits it",
        ..telling("hours and cost of fitting it", of(EVERY, &["labour"], &[]))
    },
];

fn several_channels(item: &Block, _: &Catalogue, _: Region) -> bool {
    item.word("output.channels")
        .is_some_and(|count| count != "1")
}

fn per_feed(item: &Block, _: &Catalogue, _: Region) -> bool {
    item.word("per") == Some("feed")
}

fn cable<'a>(item: &Block, catalogue: &'a Catalogue) -> Option<&'a Cable> {
    let mut cables = catalogue.cables.iter();
    let found = cables.find(|cable| cable.offer.id == item.id);
    found.map(AsRef::as_ref)
}

fn used_for(item: &Block, catalogue: &Catalogue, uses: &[CableUse]) -> bool {
    cable(item, catalogue).is_some_and(|cable| cable.uses.iter().any(|one| uses.contains(one)))
}

/// Whether the region has no table with a value for a cable by itself at 30 °C.
fn no_table(item: &Block, catalogue: &Catalogue, region: Region) -> bool {
    let Some(cable) = cable(item, catalogue) else {
        return false;
    };
    let ambient = Temperature::new::<degree_celsius>(30.0);
    let carries = cable.uses.iter().filter(|usage| **usage != CableUse::Bus);
    let mut told = carries.map(|usage| ampacity(cable, region, ambient, 1, *usage).is_some());
    told.any(|told| !told)
}
