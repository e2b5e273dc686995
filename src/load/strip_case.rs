//! A strip case: one strip with its feeds, without a project.

use super::desk::Desk;
pub use super::strip_case_keys::RailOhms;
use super::strip_case_keys::{
    CableKeys, CoreKeys, Each, FeedKeys, RailKeys, StripCaseFile, StripKeys,
};
use super::words::StripKind;
use super::written::Reads;
use super::{file, structs};
use crate::diagnostic::{Diagnostics, Place};
use crate::model::cable::Conductor;
use crate::model::offer::{ItemKind, Offer};
use crate::model::strip::{Channel, Channels, LightSource, RailsKnown, Strip};
use crate::quantity::conductor::ConductorSize;
use crate::quantity::{Length, Resistance, Temperature, Voltage};
use std::path::Path;

/// One strip with its feeds.
#[derive(Debug, Clone, PartialEq)]
pub struct StripCase {
    /// The driver's output voltage.
    pub supply: Voltage,
    /// Length asked for; fitted down to whole segments.
    pub length: Length,
    /// The strip.
    pub strip: Strip,
    /// Its feeds, at least one.
    pub feeds: Vec<CaseFeed>,
}

/// A feed of a strip case.
#[derive(Debug, Clone, PartialEq)]
pub struct CaseFeed {
    /// Distance from the strip's start.
    pub at: Length,
    /// Its cores.
    pub cores: CaseCores,
}

/// What is known of a feed's cores.
#[derive(Debug, Clone, PartialEq)]
pub enum CaseCores {
    /// The cable they are in.
    Cable(CaseCable),
    /// Their resistances; may be nothing.
    Given {
        /// Of the plus core.
        plus: Resistance,
        /// Of each channel's return core, in channel order.
        returns: Vec<Resistance>,
    },
}

/// A feed's cable.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CaseCable {
    /// From driver to strip.
    pub length: Length,
    /// Size of the plus core.
    pub size: ConductorSize,
    /// Size of each return core.
    pub return_size: ConductorSize,
    /// How the conductors are made.
    pub conductor: Conductor,
    /// Their temperature.
    pub temperature: Temperature,
}

/// Reads a strip case from a file; `-` is standard input.
///
/// # Errors
/// Everything that is wrong with the file, each with its place.
pub fn strip_case(path: &str) -> Result<StripCase, Diagnostics> {
    let source = if path == "-" {
        file::standard_input()?
    } else {
        file::read(Path::new(path), path)?
    };
    from_desk(Desk::new(source))
}

/// Reads a strip case from text. `name` is how it is spoken of.
///
/// # Errors
/// Everything that is wrong with the text, each with its place.
pub fn strip_case_from_text(name: &str, text: &str) -> Result<StripCase, Diagnostics> {
    from_desk(Desk::new(file::text(text.as_bytes().to_vec(), name)?))
}

fn from_desk(mut desk: Desk) -> Result<StripCase, Diagnostics> {
    let case = structs::<StripCaseFile>(&mut desk).and_then(|raw| read(&raw, &mut desk));
    match case {
        Some(case) if !desk.complaints.has_errors() => Ok(case),
        _ => Err(desk.complaints),
    }
}

fn read(raw: &StripCaseFile, desk: &mut Desk) -> Option<StripCase> {
    desk.read(&raw.format)?;
    let supply = desk.read(&raw.supply);
    let length = desk.read(&raw.length);
    let strip = raw.strip.as_ref().and_then(|raw| read_strip(raw, desk));
    let channels = strip.as_ref().map(|strip| strip.channels.count());
    let blocks = raw.feeds.as_deref().unwrap_or_default();
    if raw.feeds.is_some() && blocks.is_empty() {
        desk.complain(
            "no-feeds",
            "`feeds` is empty: say where the strip is fed",
            raw.place,
        );
    }
    let feeds: Vec<_> = blocks
        .iter()
        .filter_map(|block| read_feed(block, channels?, desk))
        .collect();
    Some(StripCase {
        supply: supply?,
        length: length?,
        strip: strip?,
        feeds,
    })
}

fn read_strip(raw: &StripKeys, desk: &mut Desk) -> Option<Strip> {
    let kind = desk.read(&raw.kind);
    let voltage = desk.read(&raw.voltage);
    let cut = desk.read(&raw.cut);
    let light_source = desk.read(&raw.light_source);
    let power = each(&raw.power, desk);
    let flux = each(&raw.flux, desk);
    let white = each(&raw.white, desk);
    let starts = each(&raw.light_starts_at, desk);
    let from = each(&raw.regulated_from, desk);
    let rails = raw.rails.as_ref().map(|raw| read_rails(raw, kind, desk));
    let channel = |of: usize| {
        Some(Channel {
            power: pick(&power, of)?,
            flux: pick(&flux, of),
            white: pick(&white, of),
            light_starts_at: pick(&starts, of),
            regulated_from: pick(&from, of),
        })
    };
    let channels = match kind? {
        StripKind::SingleColour => Channels::SingleColour(channel(0)?),
        StripKind::TunableWhite => Channels::TunableWhite {
            warm: channel(0)?,
            cool: channel(1)?,
        },
    };
    let rails = match rails {
        None => RailsKnown::Unknown,
        Some(rails) => rails?,
    };
    let place = desk.place(raw.place);
    Some(bare_strip(
        place,
        channels,
        (voltage?, cut?),
        light_source?,
        rails,
    ))
}

/// A strip that is in no catalogue: it goes by the name `strip`.
#[must_use]
pub fn bare_strip(
    place: Place,
    channels: Channels,
    (voltage, cut): (Voltage, Length),
    light_source: LightSource,
    rails: RailsKnown,
) -> Strip {
    Strip {
        offer: Offer {
            id: "strip".to_owned(),
            description: "strip".to_owned(),
            kind: ItemKind::Strip,
            prices: Vec::new(),
            pack: 1,
            smallest_order: 1,
            lead_time_days: None,
            labour: None,
            price_valid_until: None,
            supplier: None,
            place,
        },
        voltage,
        channels,
        cut,
        light_source,
        rails,
        reels: Vec::new(),
        ingress: None,
        most_feed_current: None,
        least_voltage: None,
        joints: false,
        detail: crate::model::strip::StripDetail::default(),
    }
}

/// The figures of the first and of the second channel.
type Figures<K> = [Option<<K as Reads>::Value>; 2];

fn each<K: Reads<Value: Copy>>(key: &Option<Each<K>>, desk: &mut Desk) -> Figures<K> {
    match key {
        None => [None, None],
        Some(Each::One(one)) => [desk.one(one); 2],
        Some(Each::Two(two)) => [desk.read(&two.warm), desk.read(&two.cool)],
    }
}

fn pick<T: Copy>(figures: &[Option<T>; 2], of: usize) -> Option<T> {
    figures.get(of).copied().flatten()
}

fn read_rails(raw: &RailKeys, kind: Option<StripKind>, desk: &mut Desk) -> Option<RailsKnown> {
    let common = desk.read(&raw.common);
    let returns = each(&raw.returns, desk);
    let count = channel_count(kind?);
    let returns: Option<Vec<_>> = returns.into_iter().take(count).collect();
    Some(RailsKnown::Resistance {
        common: common?,
        returns: returns?,
    })
}

fn channel_count(kind: StripKind) -> usize {
    match kind {
        StripKind::SingleColour => 1,
        StripKind::TunableWhite => 2,
    }
}

fn read_feed(raw: &FeedKeys, channels: usize, desk: &mut Desk) -> Option<CaseFeed> {
    let at = desk.read(&raw.at);
    let cores = match (&raw.cable, &raw.core) {
        (Some(cable), None) => read_cable(cable, desk),
        (None, Some(core)) => read_cores(core, channels, desk),
        _ => {
            let message = "a feed needs either its `cable` or the resistance of its `core`";
            desk.complain("feed-cores", message, raw.place);
            None
        }
    };
    Some(CaseFeed {
        at: at?,
        cores: cores?,
    })
}

fn read_cable(raw: &CableKeys, desk: &mut Desk) -> Option<CaseCores> {
    let length = desk.read(&raw.length);
    let size = desk.read(&raw.area);
    let return_size = desk.read(&raw.return_area);
    let conductor = desk.read(&raw.conductor);
    let temperature = desk.read(&raw.temperature);
    Some(CaseCores::Cable(CaseCable {
        length: length?,
        size: size?,
        return_size: return_size.or(size)?,
        conductor: conductor?,
        temperature: temperature?,
    }))
}

fn read_cores(raw: &CoreKeys, channels: usize, desk: &mut Desk) -> Option<CaseCores> {
    let plus = desk.read(&raw.plus);
    let returns = each(&raw.returns, desk);
    let returns: Option<Vec<_>> = returns.into_iter().take(channels).collect();
    Some(CaseCores::Given {
        plus: plus?,
        returns: returns?,
    })
}
