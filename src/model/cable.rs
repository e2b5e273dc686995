//! Cable: strip feeds, control bus and mains.

use super::offer::{Offer, StockLength};
use super::wiring::Exposure;
use crate::quantity::conductor::ConductorSize;
use crate::quantity::{Current, Voltage};
use rust_decimal::Decimal;

/// What a cable may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum CableUse {
    /// Driver to strip, extra-low voltage.
    StripFeed,
    /// Control bus; rated for mains.
    Bus,
    /// Mains circuit.
    Mains,
}

impl CableUse {
    /// The words used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            CableUse::StripFeed => "strip feed",
            CableUse::Bus => "bus",
            CableUse::Mains => "mains",
        }
    }
}

/// How a conductor is made, which sets its resistance.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Conductor {
    /// IEC 60228 class 1 or 2: solid or stranded for fixed wiring.
    Class1Or2,
    /// IEC 60228 class 5: flexible, plain copper.
    Class5,
    /// IEC 60228 class 5: flexible, tinned copper.
    Class5Tinned,
    /// AWG, solid, uncoated copper.
    AwgSolid,
    /// AWG, stranded, uncoated copper.
    AwgStranded,
}

/// What limits a cable's temperature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Insulation {
    /// Thermoplastic (PVC), 60 °C column (north-america).
    Thermoplastic60,
    /// Thermoplastic (PVC), 70 °C; 75 °C column in north-america.
    Thermoplastic70,
    /// Thermosetting (XLPE, EPR), 90 °C.
    Thermosetting90,
}

/// What a cable is marked with; each `None` when the catalogue does not say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CableMarking {
    /// Voltage between a conductor and earth that its insulation is rated for.
    pub rated_voltage: Option<Voltage>,
    /// What its sheath stands besides dry indoor air.
    pub suits: Option<Vec<Exposure>>,
    /// Its size as marked in the other system, mm² or AWG.
    pub also_marked: Option<ConductorSize>,
}

/// A cable as its catalogue describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct Cable {
    /// Id, price (per metre, unless sold by the drum), delivery.
    pub offer: Offer,
    /// What it may be used for.
    pub uses: Vec<CableUse>,
    /// Cores, without a protective conductor.
    pub cores: usize,
    /// Size of each core.
    pub size: ConductorSize,
    /// How the conductor is made.
    pub conductor: Conductor,
    /// Insulation.
    pub insulation: Insulation,
    /// The maker's own current limit, where the tables have none.
    pub most_current: Option<Current>,
    /// Drums it is sold in; empty when sold by the metre.
    pub drums: Vec<StockLength>,
    /// What it is marked with.
    pub marking: CableMarking,
    /// What only some catalogues say.
    pub detail: CableDetail,
}

/// What only some catalogues say of a cable; nothing where one does not.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CableDetail {
    /// The wiring method that it belongs to (north-america).
    pub wiring: Option<WiringMethod>,
    /// What marks each of its cores, in order: a colour or a number; empty when not said.
    pub core_marks: Vec<String>,
    /// What is lost of it in cutting and at its ends, in percent of what is needed, where it has its
    /// own.
    pub waste: Option<Decimal>,
}

/// A wiring method of the National Electrical Code.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WiringMethod {
    /// Chapter 3: for power.
    ChapterThree,
    /// Article 725: for Class 2 circuits.
    ClassTwo,
}

impl WiringMethod {
    /// The words used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            WiringMethod::ChapterThree => "chapter 3",
            WiringMethod::ClassTwo => "class 2",
        }
    }
}
