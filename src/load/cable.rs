//! A cable of a catalogue.

use super::desk::Desk;
use super::measure::{Amperes, CableSize, RatedVoltage, TerminalSize};
use super::offer::{self, CatalogueDefaults, OfferKeys, StockKeys};
use super::plain::{Count, NewName, Percent, Text};
use super::wiring::exposures;
use super::words::Word;
use super::written::{OneOrMany, Written};
use crate::model::cable::{
    Cable, CableDetail, CableMarking, CableUse, Conductor, Insulation, WiringMethod,
};
use crate::model::offer::ItemKind;
use crate::model::wiring::Exposure;
use crate::quantity::conductor::ConductorSize;
use schemars::JsonSchema;
use serde::Deserialize;

/// A cable, sold by the metre or by the drum.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct CableBlock {
    /// The id by which projects name it.
    #[schemars(required)]
    pub cable: Option<Written<NewName>>,
    /// What it may be used for: one use or a list.
    #[serde(rename = "use")]
    #[schemars(required)]
    uses: Option<OneOrMany<Written<Word<CableUse>>>>,
    /// Cores, without a protective conductor.
    #[schemars(required)]
    cores: Option<Written<Count>>,
    /// Size of each core.
    #[schemars(required)]
    size: Option<Written<CableSize>>,
    /// How its conductors are made.
    #[schemars(required)]
    conductor: Option<Written<Word<Conductor>>>,
    /// The temperature its insulation stands.
    #[schemars(required)]
    insulation: Option<Written<Word<Insulation>>>,
    /// The maker's own current limit.
    most_current: Option<Written<Amperes>>,
    /// Voltage between a conductor and earth that its insulation is rated for.
    rated_voltage: Option<Written<RatedVoltage>>,
    /// What its sheath stands besides dry indoor air: `wet`, `sun`, `burial`.
    suits: Option<Vec<Written<Word<Exposure>>>>,
    /// Its size as marked in the other system, mm² or AWG.
    also_marked: Option<Written<TerminalSize>>,
    /// Drums it is sold in, instead of a price per metre.
    drums: Option<Vec<StockKeys>>,
    /// The wiring method that it belongs to (north-america).
    wiring: Option<Written<Word<WiringMethod>>>,
    /// What marks each of its cores, in order: colours or numbers.
    core_marks: Option<Vec<Written<Text>>>,
    /// What is lost of it in cutting and at its ends, of what is needed; the project's
    /// `pricing.cable_waste` when left out.
    waste: Option<Written<Percent>>,
    #[serde(flatten)]
    offer: OfferKeys,
}

/// Reads a cable. `None` when it is not complete; then there is a complaint.
pub fn read(raw: &CableBlock, defaults: &CatalogueDefaults, desk: &mut Desk) -> Option<Cable> {
    let offer = offer::read(&raw.cable, &raw.offer, ItemKind::Cable, defaults, desk);
    let uses = raw.uses.as_ref().map(|uses| uses.list());
    let uses = uses.unwrap_or_default();
    let mut uses: Vec<_> = uses.into_iter().filter_map(|word| desk.one(word)).collect();
    uses.sort_unstable();
    uses.dedup();
    let cores = desk.read(&raw.cores);
    let size = desk.read(&raw.size);
    let conductor = desk.read(&raw.conductor);
    let insulation = desk.read(&raw.insulation);
    let most_current = desk.read(&raw.most_current);
    let drums = offer::stock(raw.drums.as_deref().unwrap_or_default(), desk);
    if !drums.is_empty() {
        offer::refuse_price(&raw.offer, "drums", desk);
    }
    let detail = detail(raw, cores, desk);
    check_make(raw, size, conductor, desk);
    let marking = CableMarking {
        rated_voltage: desk.read(&raw.rated_voltage),
        suits: raw
            .suits
            .as_ref()
            .map(|words| exposures(words.iter().collect(), desk)),
        also_marked: desk.read(&raw.also_marked),
    };
    Some(Cable {
        offer: offer?,
        uses,
        cores: cores?,
        size: size?,
        conductor: conductor?,
        insulation: insulation?,
        most_current,
        drums,
        marking,
        detail,
    })
}

fn detail(raw: &CableBlock, cores: Option<usize>, desk: &mut Desk) -> CableDetail {
    let written = raw.core_marks.as_deref().unwrap_or_default();
    let core_marks: Vec<String> = written.iter().filter_map(|mark| desk.one(mark)).collect();
    if let (Some(first), Some(cores)) = (written.first(), cores)
        && written.len() != cores
    {
        let message = format!(
            "`core_marks` has {} marks for {cores} cores: give one for each, in order",
            written.len()
        );
        desk.complain("core-marks", message, first.at);
    }
    CableDetail {
        wiring: desk.read(&raw.wiring),
        core_marks,
        waste: desk.read(&raw.waste),
    }
}

/// IEC classes belong to mm², solid and stranded to AWG.
fn check_make(
    raw: &CableBlock,
    size: Option<ConductorSize>,
    conductor: Option<Conductor>,
    desk: &mut Desk,
) {
    let (Some(size), Some(conductor), Some(written)) = (size, conductor, &raw.conductor) else {
        return;
    };
    let is_gauge = matches!(size, ConductorSize::Awg(_));
    let made_for_gauge = matches!(conductor, Conductor::AwgSolid | Conductor::AwgStranded);
    if is_gauge == made_for_gauge {
        return;
    }
    let fits = if is_gauge {
        "`solid` or `stranded`"
    } else {
        "`class 1`, `class 2`, `class 5` or `class 5 tinned`"
    };
    let message = format!("a conductor of {size} is {fits}, not `{}`", written.text);
    desk.complain("conductor-make", message, written.at);
}
