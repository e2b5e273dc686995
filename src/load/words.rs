//! Plain values that are one of a few words.

use super::nearest::nearest;
use super::written::{Reads, Unread};
use crate::model::bus::BusInsulation;
use crate::model::cable::{CableUse, Conductor, Insulation, WiringMethod};
use crate::model::driver::{GearType, Mixing, Polarity, SafetyClass};
use crate::model::extra::{Lid, Per};
use crate::model::house_rule::{Measure, MeasuredOf};
use crate::model::offer::ItemKind;
use crate::model::pricing::{Rounding, TaxRounding};
use crate::model::project::{BusWiring, Severity, Topology};
use crate::model::protection::{MainsFeed, Premises, ResidualType};
use crate::model::site::PointKind;
use crate::model::strip::{BendWay, LightSource, RatedFeed};
use crate::model::wiring::Exposure;
use crate::norms::region::Region;
use schemars::{Schema, json_schema};
use std::marker::PhantomData;

/// Something named by one of a few words.
pub trait Words: Sized + 'static {
    /// The name of its definition in the schema.
    const NAME: &'static str;
    /// What it is, with an article.
    const WHAT: &'static str;
    /// Each word and what it means.
    fn words() -> Vec<(&'static str, Self)>;
}

/// A value that is one of the words for a `T`.
#[derive(Debug)]
pub struct Word<T>(PhantomData<T>);

impl<T: Words> Reads for Word<T> {
    type Value = T;
    const NAME: &'static str = T::NAME;

    fn what() -> String {
        T::WHAT.to_owned()
    }

    fn schema() -> Schema {
        let words: Vec<_> = T::words().into_iter().map(|(word, _)| word).collect();
        json_schema!({"enum": words})
    }

    fn read(text: &str) -> Result<T, Unread> {
        let mut words = T::words();
        if let Some(at) = words.iter().position(|(word, _)| *word == text) {
            return Ok(words.swap_remove(at).1);
        }
        let known: Vec<_> = words.into_iter().map(|(word, _)| word).collect();
        let near = nearest(text, known.iter().copied());
        let near = near.map_or(String::new(), |near| format!(" (did you mean `{near}`?)"));
        let message = format!(
            "`{text}` is not {}{near}: it is one of {}",
            T::WHAT,
            known.join(", ")
        );
        Err(Unread::new("unknown-word", message))
    }
}

/// Declares the words for a type.
macro_rules! words {
    ($($type:ty, $name:literal, $what:literal: $words:expr;)*) => {$(
        impl Words for $type {
            const NAME: &'static str = $name;
            const WHAT: &'static str = $what;

            fn words() -> Vec<(&'static str, Self)> {
                $words.into_iter().collect()
            }
        }
    )*};
}

/// What kind of white a strip gives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StripKind {
    /// One white.
    SingleColour,
    /// Warm and cool white.
    TunableWhite,
}

words! {
    Region, "Region", "a region": Region::ALL.map(|region| (region.name(), region));
    PointKind, "PointKind", "a kind of point": [
        PointKind::Panel, PointKind::Cupboard, PointKind::Room, PointKind::Junction,
    ].map(|kind| (kind.name(), kind));
    StripKind, "StripKind", "a kind of strip": [
        ("single colour", StripKind::SingleColour), ("tunable white", StripKind::TunableWhite),
    ];
    LightSource, "LightSource", "a kind of light source": [
        LightSource::Resistor, LightSource::Regulated, LightSource::Converter,
    ].map(|source| (source.name(), source));
    RatedFeed, "RatedFeed", "a way of feeding": [
        ("start", RatedFeed::OneEnd), ("both ends", RatedFeed::BothEnds), ("middle", RatedFeed::Middle),
    ];
    Mixing, "Mixing", "a way of mixing": [
        Mixing::Shared, Mixing::Interleaved, Mixing::BothFull,
    ].map(|mixing| (mixing.name(), mixing));
    GearType, "GearType", "what a bus controls": [
        ("single", GearType::Single), ("colour temperature", GearType::ColourTemperature),
    ];
    SafetyClass, "SafetyClass", "a safety class": [
        ("SELV", SafetyClass::Selv), ("class 2", SafetyClass::Class2),
        ("protective class II", SafetyClass::ProtectiveClassTwo),
    ];
    Polarity, "Polarity", "a pole": [
        Polarity::Plus, Polarity::Minus,
    ].map(|pole| (pole.name(), pole));
    BendWay, "BendWay", "a way of bending": [
        BendWay::Face, BendWay::Side,
    ].map(|way| (way.name(), way));
    Lid, "Lid", "a lid": [Lid::Opal, Lid::Clear].map(|lid| (lid.name(), lid));
    WiringMethod, "WiringMethod", "a wiring method": [
        WiringMethod::ChapterThree, WiringMethod::ClassTwo,
    ].map(|method| (method.name(), method));
    CableUse, "CableUse", "a use of cable": [
        CableUse::StripFeed, CableUse::Bus, CableUse::Mains,
    ].map(|cable_use| (cable_use.name(), cable_use));
    Conductor, "Conductor", "a make of conductor": [
        ("class 1", Conductor::Class1Or2), ("class 2", Conductor::Class1Or2),
        ("class 5", Conductor::Class5), ("class 5 tinned", Conductor::Class5Tinned),
        ("solid", Conductor::AwgSolid), ("stranded", Conductor::AwgStranded),
    ];
    Insulation, "Insulation", "an insulation": [
        ("60 °C", Insulation::Thermoplastic60), ("70 °C", Insulation::Thermoplastic70),
        ("90 °C", Insulation::Thermosetting90),
    ];
    Per, "Per", "what an accessory is counted by": Per::ALL.map(|per| (per.name(), per));
    Topology, "Topology", "a way of laying bus cable": [
        ("free", Topology::Free), ("line", Topology::Line),
    ];
    Exposure, "Exposure", "what a cable is exposed to":
        Exposure::ALL.map(|exposure| (exposure.name(), exposure));
    BusInsulation, "BusInsulation", "an insulation of bus terminals":
        BusInsulation::ALL.map(|insulation| (insulation.name(), insulation));
    BusWiring, "BusWiring", "a way of wiring the bus": [
        ("class 1", BusWiring::Class1), ("class 2", BusWiring::Class2),
    ];
    ResidualType, "ResidualType", "a type of residual current device":
        ResidualType::ALL.map(|kind| (kind.name(), kind));
    Premises, "Premises", "a kind of premises": [
        ("dwelling", Premises::Dwelling), ("other", Premises::Other),
    ];
    MainsFeed, "MainsFeed", "a way of feeding circuits": [
        ("permanent", MainsFeed::Permanent), ("switched", MainsFeed::Switched),
    ];
    Severity, "Severity", "a severity": [
        Severity::Fault, Severity::Caution, Severity::Note,
    ].map(|severity| (severity.name(), severity));
    Measure, "Measure", "a measure": Measure::ALL.map(|measure| (measure.name(), measure));
    MeasuredOf, "RuleSubject", "what a rule can be about": MeasuredOf::ALL.map(|of| (of.name(), of));
    ItemKind, "ItemKind", "a kind of item": ItemKind::ALL.map(|kind| (kind.name(), kind));
    TaxRounding, "TaxRounding", "where a tax is rounded": [
        ("rate", TaxRounding::Rate), ("line", TaxRounding::Line),
    ];
    Rounding, "Rounding", "a way of rounding": [
        ("half up", Rounding::HalfUp), ("half even", Rounding::HalfEven),
    ];
}
