//! The rails' resistance per metre, from whatever a catalogue says of them.
//!
//! | known | how |
//! |---|---|
//! | the resistances | as given |
//! | copper thickness and track widths | ρ·/(t·w) at the working temperature |
//! | the maker's longest run at a light drop | the resistance at which the ladder drops just that |
//! | a bench reading | the resistance at which the ladder gives the volts and the current read |
//! | nothing | the poorest common tracks, named as an assumption |
//!
//! The third and fourth find one figure: every rail is taken to be of equal width, and said so.

use super::strip::{Ladder, LadderChannel, LadderFeed, Lit, State, StringLaw, solve};
use crate::model::assumption::Assumption;
use crate::model::strip::{RailsKnown, RatedFeed, Strip};
use crate::norms::copper;
use crate::quantity::number::whole;
use crate::quantity::resistance_per_length::ohms_per_metre;
use crate::quantity::{
    Current, Length, Ratio, Resistance, ResistancePerLength, Temperature, Voltage,
};
use uom::si::length::{micrometer, millimeter};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

/// The rails of a strip, at working temperature.
#[derive(Debug, Clone, PartialEq)]
pub struct Rails {
    /// The common plus rail.
    pub common: ResistancePerLength,
    /// Each channel's return rail, in channel order.
    pub returns: Vec<ResistancePerLength>,
}

/// The rails of a strip and what was assumed to find them.
#[derive(Debug, Clone, PartialEq)]
pub struct Resolved {
    /// The rails.
    pub rails: Rails,
    /// What was assumed.
    pub assumptions: Vec<Assumption>,
    /// Whether the catalogue says anything from which they follow; `false`: they are the poorest
    /// common ones, and what rests on them can't be told.
    pub known: bool,
}

/// Why what a catalogue says of the rails gives no resistance.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum RailsError {
    /// The bench reading's far end is not under its fed end, or the current is nothing.
    #[error(
        "the bench reading of strip `{strip}` gives no resistance: it needs a current, and less \
         volts out than in"
    )]
    Bench {
        /// The strip.
        strip: String,
    },
    /// The stated drop is none, or everything.
    #[error(
        "the longest run of strip `{strip}` gives no resistance: its drop must lie between 0 % \
         and 100 %"
    )]
    Drop {
        /// The strip.
        strip: String,
    },
    /// A converter strip keeps its light until it fails, so a light drop says nothing of its rails.
    #[error(
        "the longest run of strip `{strip}` gives no resistance: a converter strip has no light \
         drop; give `rails`, `copper` or `bench`"
    )]
    Converter {
        /// The strip.
        strip: String,
    },
    /// No resistance reproduces what was stated.
    #[error("no rail resistance reproduces what strip `{strip}` states of its {stated}")]
    NotReproduced {
        /// The strip.
        strip: String,
        /// `longest run` or `bench reading`.
        stated: &'static str,
    },
}

/// Temperature of a strip's copper in service. Common practice, no source.
#[must_use]
pub fn working_temperature() -> Temperature {
    Temperature::new::<degree_celsius>(60.0)
}

/// Thickness and width of the poorest common tracks: copper of 1 oz/ft², the thinnest in general
/// use, 2 mm wide. Common practice, no source.
fn poorest_track() -> (Length, Length) {
    (
        Length::new::<micrometer>(35.0),
        Length::new::<millimeter>(2.0),
    )
}

/// Each rail where nothing is known: 0.25 Ω/m, the poorest common track at 20 °C rounded up. The
/// two rails of a channel are then 0.5 Ω/m, the upper end of what strips usually have.
pub const POOREST_OHM_PER_METRE: f64 = 0.25;

/// Resistance per length of a copper track at a temperature: ρ/(thickness·width), IEC 60028.
#[must_use]
pub fn track(thickness: Length, width: Length, temperature: Temperature) -> ResistancePerLength {
    let mm2 = thickness.get::<millimeter>() * width.get::<millimeter>();
    ohms_per_metre(copper::RESISTIVITY_20 / mm2 * copper::over_20(temperature))
}

/// Works out a strip's rails, its channels following `laws` (in channel order).
///
/// # Errors
/// When what the catalogue says gives no resistance.
pub fn resolve(strip: &Strip, laws: &[StringLaw]) -> Result<Resolved, RailsError> {
    let count = strip.channels.count();
    let equal = |value: ResistancePerLength| Rails {
        common: value,
        returns: vec![value; count],
    };
    let (rails, assumptions) = match &strip.rails {
        RailsKnown::Resistance { common, returns } => (
            Rails {
                common: *common,
                returns: returns.clone(),
            },
            Vec::new(),
        ),
        RailsKnown::Copper {
            thickness,
            common_width,
            return_width,
        } => (
            Rails {
                common: track(*thickness, *common_width, working_temperature()),
                returns: vec![track(*thickness, *return_width, working_temperature()); count],
            },
            vec![assume_temperature(strip)],
        ),
        RailsKnown::LongestRun { length, feed, drop } => (
            equal(from_longest_run(strip, laws, *length, *feed, *drop)?),
            vec![assume_equal_widths(strip)],
        ),
        RailsKnown::Bench {
            length,
            volts_in,
            volts_out,
            current,
        } => (
            equal(from_bench(
                strip,
                laws,
                *length,
                (*volts_in, *volts_out),
                *current,
            )?),
            vec![assume_equal_widths(strip)],
        ),
        RailsKnown::Unknown => (
            equal(ohms_per_metre(POOREST_OHM_PER_METRE)),
            vec![assume_poorest(strip)],
        ),
    };
    Ok(Resolved {
        rails,
        assumptions,
        known: strip.rails != RailsKnown::Unknown,
    })
}

/// The strip alone, joined to a supply of `supply` without cables at `cuts`.
fn bare(
    strip: &Strip,
    laws: &[StringLaw],
    supply: Voltage,
    length: Length,
    cuts: impl Fn(usize) -> Vec<usize>,
) -> Ladder {
    let count = strip.channels.count();
    let segments = whole((length / strip.cut).get::<ratio>() + 0.5).map_or(1, |n| n.max(1));
    let none = Resistance::default();
    Ladder {
        supply,
        nominal: strip.voltage,
        segment: strip.cut,
        segments,
        plus_rail: ohms_per_metre(0.0),
        channels: strip
            .channels
            .list()
            .iter()
            .zip(laws)
            .map(|(channel, law)| LadderChannel {
                return_rail: ohms_per_metre(0.0),
                power: channel.power,
                flux: channel.flux,
                law: *law,
            })
            .collect(),
        feeds: cuts(segments)
            .into_iter()
            .map(|cut| LadderFeed {
                cut,
                plus: none,
                returns: vec![none; count],
            })
            .collect(),
    }
}

fn with_rails(ladder: &mut Ladder, each: f64) {
    ladder.plus_rail = ohms_per_metre(each);
    for channel in &mut ladder.channels {
        channel.return_rail = ohms_per_metre(each);
    }
}

fn all_on(ladder: &Ladder) -> Option<State> {
    let lit = Lit::states(ladder.channels.len()).last()?;
    solve(ladder, *lit)
}

/// How near a result put back into the ladder must come to what was stated.
const REPRODUCED: f64 = 1e-9;

/// The equal resistance of every rail at which the ladder, all channels on at nominal voltage,
/// drops as much light as stated. The drop grows with resistance, so by halving.
fn from_longest_run(
    strip: &Strip,
    laws: &[StringLaw],
    length: Length,
    feed: RatedFeed,
    drop: Ratio,
) -> Result<ResistancePerLength, RailsError> {
    let name = || strip.offer.id.clone();
    let stated = drop.get::<ratio>();
    if laws.contains(&StringLaw::Converter) {
        return Err(RailsError::Converter { strip: name() });
    }
    if !(stated > 0.0 && stated < 1.0) {
        return Err(RailsError::Drop { strip: name() });
    }
    let mut ladder = bare(strip, laws, strip.voltage, length, |segments| match feed {
        RatedFeed::OneEnd => vec![0],
        RatedFeed::BothEnds => vec![0, segments],
        RatedFeed::Middle => vec![segments / 2],
    });
    let mut dropped = |each: f64| {
        with_rails(&mut ladder, each);
        all_on(&ladder).map_or(1.0, |state| 1.0 - state.darkest())
    };
    let (mut low, mut high) = (LEAST, MOST);
    while high / low > 1.0 + 1e-15 {
        let middle = (low * high).sqrt();
        if middle <= low || middle >= high {
            break;
        }
        if dropped(middle) < stated {
            low = middle;
        } else {
            high = middle;
        }
    }
    if (dropped(high) - stated).abs() > REPRODUCED {
        return Err(RailsError::NotReproduced {
            strip: name(),
            stated: "longest run",
        });
    }
    Ok(ohms_per_metre(high))
}

/// Bounds of the search, Ω/m: far beyond any track on either side.
const LEAST: f64 = 1e-7;
const MOST: f64 = 1e4;

/// The equal resistance of every rail at which the ladder gives the volts read at the far end. The
/// power of the channels is scaled to the current read: drop is all but proportional to
/// resistance and current to power, so dividing out both errors in turn closes in on the pair.
fn from_bench(
    strip: &Strip,
    laws: &[StringLaw],
    length: Length,
    (volts_in, volts_out): (Voltage, Voltage),
    current: Current,
) -> Result<ResistancePerLength, RailsError> {
    let name = || strip.offer.id.clone();
    if !(volts_in > volts_out && volts_out.value > 0.0 && current.value > 0.0) {
        return Err(RailsError::Bench { strip: name() });
    }
    let mut ladder = bare(strip, laws, volts_in, length, |_| vec![0]);
    let drop = (volts_in - volts_out).value;
    let mut each = drop / current.value / length.value;
    for _ in 0..BENCH_STEPS {
        with_rails(&mut ladder, each);
        let Some(state) = all_on(&ladder) else {
            each *= 0.5;
            continue;
        };
        let lost = volts_in.value - state.end_volts();
        let (of_drop, of_current) = (drop / lost, current / state.source_current);
        let of_current = of_current.get::<ratio>();
        if (of_drop - 1.0).abs() < REPRODUCED && (of_current - 1.0).abs() < REPRODUCED {
            return Ok(ohms_per_metre(each));
        }
        if !(of_drop.is_finite() && of_current.is_finite()) {
            break;
        }
        // A change of current changes the drop as well: that part is not the rails' to answer for.
        each *= (of_drop / of_current).clamp(0.2, 5.0);
        for channel in &mut ladder.channels {
            channel.power *= of_current.clamp(0.2, 5.0);
        }
    }
    Err(RailsError::NotReproduced {
        strip: name(),
        stated: "bench reading",
    })
}

/// Steps after which a bench reading counts as one that no strip can give.
const BENCH_STEPS: usize = 500;

fn assume_temperature(strip: &Strip) -> Assumption {
    Assumption {
        subject: format!("strip {}", strip.offer.id),
        statement: format!(
            "copper rails at {:.0} °C",
            working_temperature().get::<degree_celsius>()
        ),
        missing: format!("`rails` in strip `{}`", strip.offer.id),
        supplied_by: "the datasheet, or a bench reading".to_owned(),
    }
}

fn assume_equal_widths(strip: &Strip) -> Assumption {
    Assumption {
        subject: format!("strip {}", strip.offer.id),
        statement: "common and return rails of equal resistance, all channels on".to_owned(),
        missing: format!("`rails` in strip `{}`", strip.offer.id),
        supplied_by: "the datasheet".to_owned(),
    }
}

fn assume_poorest(strip: &Strip) -> Assumption {
    let (thickness, width) = poorest_track();
    Assumption {
        subject: format!("strip {}", strip.offer.id),
        statement: format!(
            "rails of {POOREST_OHM_PER_METRE} Ω/m each, the poorest in common use ({:.0} µm \
             copper, {:.0} mm wide)",
            thickness.get::<micrometer>(),
            width.get::<millimeter>()
        ),
        missing: format!(
            "`rails` (or `copper`, `longest_run`, `bench`) in strip `{}`",
            strip.offer.id
        ),
        supplied_by: "the datasheet, or a bench reading".to_owned(),
    }
}
