//! From a strip as its catalogue describes it to ladders: its strings' laws and its rails, with
//! what had to be assumed.
//!
//! Where light starts (v₀) and from where a regulated string holds its current (v_d) are often not
//! said. Then both ends of the common range are tried and the darker answer counts.

use super::rails::{Rails, RailsError, resolve};
use super::strip::{Ladder, LadderChannel, LadderFeed, Lit, StringLaw, extremes};
use crate::model::assumption::Assumption;
use crate::model::strip::{Channel, LightSource, Strip};
use crate::quantity::Voltage;
use uom::si::electric_potential::volt;

/// Where the light of strips usually starts, as shares of nominal voltage. Common practice, no
/// source.
pub const STARTS_AT: [f64; 2] = [0.70, 0.88];

/// From where regulated strips usually hold their current, as shares of nominal voltage. Common
/// practice, no source.
pub const REGULATED_FROM: [f64; 2] = [0.90, 0.95];

/// Why a strip can't be made a ladder.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum StripError {
    /// Its rails can't be worked out.
    #[error(transparent)]
    Rails(#[from] RailsError),
    /// Its strings would not light at nominal voltage, or hold their current before they light.
    #[error(
        "strip `{strip}`: light must start below {below} ({below_volts:.2} V), not at \
         {found_volts:.2} V"
    )]
    StartsTooHigh {
        /// The strip.
        strip: String,
        /// What v₀ must be below.
        below: &'static str,
        /// That voltage, in volts.
        below_volts: f64,
        /// v₀, in volts.
        found_volts: f64,
    },
}

/// A strip ready to be laid in any length and fed in any way.
#[derive(Debug, Clone, PartialEq)]
pub struct StripModel {
    strip: Strip,
    likely: Candidate,
    /// The other ends of what was assumed; empty where all is known.
    others: Vec<Candidate>,
    /// What was assumed.
    pub assumptions: Vec<Assumption>,
    /// Why light along the strip can't be told: nothing is known of its rails, or where its light
    /// starts had to be assumed; `None` where it can be told.
    pub untold: Option<Assumption>,
}

/// The strings' laws in channel order, and the rails that go with them.
#[derive(Debug, Clone, PartialEq)]
struct Candidate {
    laws: Vec<StringLaw>,
    rails: Rails,
}

impl StripModel {
    /// Works out a strip's laws and rails.
    ///
    /// # Errors
    /// When the figures in the catalogue contradict each other or give no resistance.
    pub fn of(strip: &Strip) -> Result<StripModel, StripError> {
        let (likely, other_laws) = laws(strip);
        check(strip, &likely)?;
        let resolved = resolve(strip, &likely)?;
        let mut others = Vec::with_capacity(other_laws.len());
        for laws in other_laws {
            let rails = resolve(strip, &laws)?.rails;
            others.push(Candidate { laws, rails });
        }
        let of_laws = assume_laws(strip);
        let untold = if resolved.known {
            of_laws.first()
        } else {
            resolved.assumptions.first()
        };
        Ok(StripModel {
            strip: strip.clone(),
            untold: untold.cloned(),
            likely: Candidate {
                laws: likely,
                rails: resolved.rails,
            },
            others,
            assumptions: [resolved.assumptions, of_laws].concat(),
        })
    }

    /// Whether light along the strip can be told.
    #[must_use]
    pub fn is_known(&self) -> bool {
        self.untold.is_none()
    }

    /// This strip as a ladder of `segments` segments (at least 1), with at least one feed; feeds
    /// are put in rising order. Of what was assumed, the end of the range that leaves the darkest
    /// segment darker, with all channels on.
    #[must_use]
    pub fn ladder(&self, supply: Voltage, segments: usize, mut feeds: Vec<LadderFeed>) -> Ladder {
        feeds.sort_by_key(|feed| feed.cut);
        let mut chosen = self.built(&self.likely, supply, segments, feeds);
        if self.others.is_empty() {
            return chosen;
        }
        let mut least = darkest_all_on(&chosen);
        for candidate in &self.others {
            let ladder = self.built(candidate, supply, segments, chosen.feeds.clone());
            let darkest = darkest_all_on(&ladder);
            if darkest < least {
                (least, chosen) = (darkest, ladder);
            }
        }
        chosen
    }

    fn built(
        &self,
        candidate: &Candidate,
        supply: Voltage,
        segments: usize,
        feeds: Vec<LadderFeed>,
    ) -> Ladder {
        let strings = candidate.laws.iter().zip(&candidate.rails.returns);
        let channels = self.strip.channels.list().into_iter().zip(strings);
        Ladder {
            supply,
            nominal: self.strip.voltage,
            segment: self.strip.cut,
            segments,
            plus_rail: candidate.rails.common,
            channels: channels
                .map(|(channel, (law, return_rail))| LadderChannel {
                    return_rail: *return_rail,
                    power: channel.power,
                    flux: channel.flux,
                    law: *law,
                })
                .collect(),
            feeds,
        }
    }
}

fn darkest_all_on(ladder: &Ladder) -> f64 {
    Lit::states(ladder.channels.len())
        .last()
        .and_then(|lit| extremes(ladder, *lit))
        .map_or(0.0, |state| state.darkest)
}

/// The laws to try: the darker end of what is assumed first, then the others.
fn laws(strip: &Strip) -> (Vec<StringLaw>, Vec<Vec<StringLaw>>) {
    let with = |starts: f64, from: f64| {
        strip
            .channels
            .list()
            .into_iter()
            .map(|channel| law(strip, channel, starts, from))
            .collect::<Vec<_>>()
    };
    let ([early, late], [near, far]) = (STARTS_AT, REGULATED_FROM);
    let likely = with(late, far);
    let mut others: Vec<Vec<StringLaw>> = Vec::new();
    for laws in [with(early, far), with(late, near), with(early, near)] {
        if laws != likely && !others.contains(&laws) {
            others.push(laws);
        }
    }
    (likely, others)
}

/// One channel's law; what it does not say is taken as a share of nominal voltage.
fn law(strip: &Strip, channel: &Channel, starts: f64, from: f64) -> StringLaw {
    let starts_at = channel.light_starts_at.unwrap_or(strip.voltage * starts);
    match strip.light_source {
        LightSource::Resistor => StringLaw::Resistor { starts_at },
        LightSource::Regulated => StringLaw::Regulated {
            starts_at: match channel.regulated_from {
                Some(given) if channel.light_starts_at.is_none() && given <= starts_at => {
                    given * starts
                }
                _ => starts_at,
            },
            regulated_from: channel
                .regulated_from
                .unwrap_or_else(|| above(starts_at, strip.voltage, from)),
        },
        LightSource::Converter => StringLaw::Converter,
    }
}

/// A share of nominal, or half way to nominal where light starts only beyond that share.
fn above(starts_at: Voltage, nominal: Voltage, share: f64) -> Voltage {
    if nominal * share > starts_at {
        nominal * share
    } else {
        0.5 * (starts_at + nominal)
    }
}

fn check(strip: &Strip, laws: &[StringLaw]) -> Result<(), StripError> {
    for law in laws {
        let (below, limit, found) = match *law {
            StringLaw::Resistor { starts_at } => ("its voltage", strip.voltage, starts_at),
            StringLaw::Regulated {
                starts_at,
                regulated_from,
            } => ("where it is regulated", regulated_from, starts_at),
            StringLaw::Converter => continue,
        };
        if found >= limit {
            return Err(StripError::StartsTooHigh {
                strip: strip.offer.id.clone(),
                below,
                below_volts: limit.get::<volt>(),
                found_volts: found.get::<volt>(),
            });
        }
    }
    Ok(())
}

/// What is taken for granted where the catalogue does not say how the strings follow voltage.
fn assume_laws(strip: &Strip) -> Vec<Assumption> {
    let channels = strip.channels.list();
    let lacks =
        |of: fn(&Channel) -> Option<Voltage>| channels.iter().any(|channel| of(channel).is_none());
    let mut assumptions = Vec::new();
    if strip.light_source == LightSource::Converter {
        return assumptions;
    }
    if lacks(|channel| channel.light_starts_at) {
        assumptions.push(assume(strip, "light_starts_at", "light starts", STARTS_AT));
    }
    if strip.light_source == LightSource::Regulated && lacks(|channel| channel.regulated_from) {
        let what = "current is held from";
        assumptions.push(assume(strip, "regulated_from", what, REGULATED_FROM));
    }
    assumptions
}

fn assume(strip: &Strip, key: &str, what: &str, [low, high]: [f64; 2]) -> Assumption {
    let volts = |share: f64| strip.voltage.get::<volt>() * share;
    Assumption {
        subject: format!("strip {}", strip.offer.id),
        statement: format!(
            "{what} between {:.2} V and {:.2} V ({low:.2} to {high:.2} of nominal), whichever is \
             darker",
            volts(low),
            volts(high)
        ),
        missing: format!("`{key}` in strip `{}`", strip.offer.id),
        supplied_by: "the datasheet, or a bench reading".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::strip::{Channels, RailsKnown};
    use crate::solve::sample;

    /// The law of a 24 V regulated strip that says this of its strings.
    fn law_of(starts: Option<f64>, regulated: Option<f64>) -> Result<StringLaw, StripError> {
        let mut strip = sample::pair(LightSource::Regulated, RailsKnown::Unknown);
        let mut channel = sample::channel();
        channel.light_starts_at = starts.map(Voltage::new::<volt>);
        channel.regulated_from = regulated.map(Voltage::new::<volt>);
        strip.channels = Channels::SingleColour(channel);
        let model = StripModel::of(&strip)?;
        Ok(model.likely.laws[0])
    }

    fn regulated(starts: f64, from: f64) -> StringLaw {
        StringLaw::Regulated {
            starts_at: Voltage::new::<volt>(starts),
            regulated_from: Voltage::new::<volt>(from),
        }
    }

    #[test]
    fn what_a_sheet_says_is_taken_as_it_is() {
        assert_eq!(law_of(Some(16.0), Some(20.0)), Ok(regulated(16.0, 20.0)));
    }

    /// Of 24 V, light starts by 0.88 and current is held from 0.95: 21.12 V and 22.8 V.
    #[test]
    fn a_silent_sheet_is_taken_at_the_darker_end_of_the_usual_range() {
        let Ok(StringLaw::Regulated {
            starts_at,
            regulated_from,
        }) = law_of(None, None)
        else {
            panic!("a regulated strip");
        };
        assert!((starts_at.get::<volt>() - 21.12).abs() < 1e-9);
        assert!((regulated_from.get::<volt>() - 22.8).abs() < 1e-9);
    }

    /// Held from 20 V, light can't start at 21.12 V: at 0.88 of 20 V instead. Held from 22 V, it
    /// can.
    #[test]
    fn light_starts_below_where_a_sheet_says_that_current_is_held() {
        for (held, starts) in [(20.0, 17.6), (22.0, 21.12)] {
            let Ok(StringLaw::Regulated { starts_at, .. }) = law_of(None, Some(held)) else {
                panic!("a regulated strip");
            };
            assert!((starts_at.get::<volt>() - starts).abs() < 1e-9, "{held}");
        }
    }

    /// 0.95 of 24 V is 22.8 V. Where light starts at 23.2 V, current is held from half way to 24 V;
    /// where it starts at 22.8 V exactly, too.
    #[test]
    fn current_is_held_from_above_where_a_sheet_says_that_light_starts() {
        for (starts, held) in [(20.0, 22.8), (23.2, 23.6), (22.8, 23.4)] {
            let Ok(StringLaw::Regulated { regulated_from, .. }) = law_of(Some(starts), None) else {
                panic!("a regulated strip");
            };
            assert!(
                (regulated_from.get::<volt>() - held).abs() < 1e-9,
                "{starts}"
            );
        }
    }

    #[test]
    fn a_sheet_that_contradicts_itself_is_refused_with_both_voltages() {
        for (starts, held) in [(20.0, 18.0), (18.0, 18.0)] {
            let refused = law_of(Some(starts), Some(held)).expect_err("it is refused");
            let said = format!("not at {starts:.2} V");
            assert!(refused.to_string().contains("(18.00 V)"), "{refused}");
            assert!(refused.to_string().contains(&said), "{refused}");
        }
        assert!(law_of(Some(17.9), Some(18.0)).is_ok());
    }
}
