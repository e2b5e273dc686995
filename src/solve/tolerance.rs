//! How dark the darkest place may be within the tolerances of strip and driver: each end of each
//! range is solved as a ladder of its own, and every combination of ends.
//!
//! Light is a share of what the same strip gives at nominal voltage, so a strip that draws more
//! than its datasheet says is darker at its far end although it is brighter at its feeds. The
//! rails stay as they are.

use super::strip::{Ladder, Lit, StringLaw, extremes};
use crate::quantity::Voltage;

/// How far a strip's power may lie from its datasheet's, as a share. Common practice, no source.
pub const STRIP_POWER: f64 = 0.10;
/// How far a driver's output voltage may lie from its nominal one, as a share. Common practice,
/// no source.
pub const SUPPLY: f64 = 0.01;

/// What may differ from its nominal value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tolerances {
    /// Strip power, as a share either way; 0 to less than 1.
    pub power: f64,
    /// Driver voltage, as a share either way; 0 to less than 1.
    pub supply: f64,
    /// Where light starts, when it is given as a range.
    pub starts_at: Option<[Voltage; 2]>,
}

impl Default for Tolerances {
    fn default() -> Self {
        Tolerances {
            power: STRIP_POWER,
            supply: SUPPLY,
            starts_at: None,
        }
    }
}

/// One of the figures that may differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Figure {
    /// The strip's power.
    Power,
    /// The driver's voltage.
    Supply,
    /// Where light starts.
    StartsAt,
}

impl Figure {
    /// In words, as tables have it.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Figure::Power => "strip power",
            Figure::Supply => "driver voltage",
            Figure::StartsAt => "light starts at",
        }
    }
}

/// One end of a range with the light at the darkest place there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct End {
    /// The end: a share of nominal (0.9 for 10 % less), or volts where light starts.
    pub value: f64,
    /// Light of the darkest segment over all states, as a share of the strip's own nominal.
    pub light: f64,
}

/// What one figure does when it alone differs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// Which.
    pub figure: Figure,
    /// At the low end of its range.
    pub low: End,
    /// At the high end.
    pub high: End,
}

impl Effect {
    /// Light at its darker end.
    #[must_use]
    pub fn worst(&self) -> f64 {
        self.low.light.min(self.high.light)
    }
}

/// The light of the darkest place within tolerances.
#[derive(Debug, Clone, PartialEq)]
pub struct Within {
    /// With nothing differing.
    pub nominal: f64,
    /// Each figure alone.
    pub effects: Vec<Effect>,
    /// At the darkest combination of ends.
    pub together: f64,
}

impl Within {
    /// The figure that takes most light by itself; `None` when none takes any.
    #[must_use]
    pub fn most(&self) -> Option<&Effect> {
        self.effects
            .iter()
            .filter(|effect| effect.worst() < self.nominal)
            .min_by(|a, b| a.worst().total_cmp(&b.worst()))
    }
}

/// A ladder with the states that can occur on it.
pub type Lighted<'a> = (&'a Ladder, Vec<Lit>);

/// Solves the ladders at every end of every range. A ladder without a working point is dark.
#[must_use]
pub fn within(ladders: &[Lighted], tolerances: &Tolerances) -> Within {
    let ranges = ranges(tolerances);
    let mut together = f64::INFINITY;
    for corner in 0..(1_usize << ranges.len()) {
        let picked = ranges.iter().enumerate().map(|(bit, (figure, ends))| {
            let [low, high] = *ends;
            let end = if corner >> bit & 1 == 0 { low } else { high };
            (*figure, end)
        });
        together = together.min(darkest(ladders, &picked.collect::<Vec<_>>()));
    }
    let end = |figure: Figure, value: f64| End {
        value,
        light: darkest(ladders, &[(figure, value)]),
    };
    Within {
        nominal: darkest(ladders, &[]),
        effects: ranges
            .iter()
            .map(|(figure, [low, high])| Effect {
                figure: *figure,
                low: end(*figure, *low),
                high: end(*figure, *high),
            })
            .collect(),
        together,
    }
}

fn ranges(tolerances: &Tolerances) -> Vec<(Figure, [f64; 2])> {
    let about = |share: f64| [1.0 - share, 1.0 + share];
    let starts = tolerances.starts_at;
    [
        Some((Figure::Power, about(tolerances.power))),
        Some((Figure::Supply, about(tolerances.supply))),
        starts.map(|ends| (Figure::StartsAt, ends.map(|volts| volts.value))),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn darkest(ladders: &[Lighted], changes: &[(Figure, f64)]) -> f64 {
    let of_one = |(ladder, states): &Lighted| {
        let changed = changed(ladder, changes);
        states
            .iter()
            .map(|lit| extremes(&changed, *lit).map_or(0.0, |state| state.darkest))
            .fold(f64::INFINITY, f64::min)
    };
    ladders.iter().map(of_one).fold(f64::INFINITY, f64::min)
}

fn changed(ladder: &Ladder, changes: &[(Figure, f64)]) -> Ladder {
    let mut ladder = ladder.clone();
    for (figure, value) in changes {
        match figure {
            Figure::Supply => ladder.supply *= *value,
            Figure::Power => {
                for channel in &mut ladder.channels {
                    channel.power *= *value;
                }
            }
            Figure::StartsAt => {
                for channel in &mut ladder.channels {
                    channel.law = starting_at(channel.law, *value);
                }
            }
        }
    }
    ladder
}

fn starting_at(law: StringLaw, volts: f64) -> StringLaw {
    let starts_at = Voltage::new::<uom::si::electric_potential::volt>(volts);
    match law {
        StringLaw::Resistor { .. } => StringLaw::Resistor { starts_at },
        StringLaw::Regulated { regulated_from, .. } => StringLaw::Regulated {
            starts_at,
            regulated_from,
        },
        StringLaw::Converter => StringLaw::Converter,
    }
}

/// Below which voltage light must start on every channel, for the ladder to have an answer;
/// `None` where light has no such voltage.
#[must_use]
pub fn starts_below(ladder: &Ladder) -> Option<Voltage> {
    ladder
        .channels
        .iter()
        .filter_map(|channel| match channel.law {
            StringLaw::Resistor { .. } => Some(ladder.nominal),
            StringLaw::Regulated { regulated_from, .. } => Some(regulated_from),
            StringLaw::Converter => None,
        })
        .min_by(|a, b| a.value.total_cmp(&b.value))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Length, PowerPerLength, Resistance, ResistancePerLength};
    use crate::solve::strip::{LadderChannel, LadderFeed};
    use std::marker::PhantomData;
    use uom::si::electric_potential::volt;
    use uom::si::electrical_resistance::ohm;
    use uom::si::length::meter;
    use uom::si::linear_power_density::watt_per_meter;

    /// 24 V, 14.4 W/m, 0.12 Ω/m, light from 18 V, 6 m of 10 mm segments fed at the start.
    fn ladder() -> Ladder {
        let rail = ResistancePerLength {
            dimension: PhantomData,
            units: PhantomData,
            value: 0.06,
        };
        Ladder {
            supply: Voltage::new::<volt>(24.0),
            nominal: Voltage::new::<volt>(24.0),
            segment: Length::new::<meter>(0.01),
            segments: 600,
            plus_rail: rail,
            channels: vec![LadderChannel {
                return_rail: rail,
                power: PowerPerLength::new::<watt_per_meter>(14.4),
                flux: None,
                law: StringLaw::Resistor {
                    starts_at: Voltage::new::<volt>(18.0),
                },
            }],
            feeds: vec![LadderFeed {
                cut: 0,
                plus: Resistance::new::<ohm>(0.0),
                returns: vec![Resistance::new::<ohm>(0.0)],
            }],
        }
    }

    /// The far end of a continuous resistor strip without cable: the share
    /// (Vs − v₀)/(Vn − v₀)·1/cosh(kL), k = √(R·i_n/(Vn − v₀)). Ladder theory of a uniform line
    /// with leakage, as in textbooks of transmission lines.
    fn far_end(power: f64, supply: f64, starts: f64) -> f64 {
        let g = power / 24.0 / (24.0 - starts);
        (supply - starts) / (24.0 - starts) / ((0.12 * g).sqrt() * 6.0).cosh()
    }

    #[test]
    fn each_end_agrees_with_the_closed_form() {
        let ladder = ladder();
        let tolerances = Tolerances {
            starts_at: Some([16.0, 19.0].map(Voltage::new::<volt>)),
            ..Tolerances::default()
        };
        let found = within(&[(&ladder, vec![Lit::On])], &tolerances);
        let near = |a: f64, b: f64| assert!((a - b).abs() < 2e-4, "{a} against {b}");
        near(found.nominal, far_end(14.4, 24.0, 18.0));
        let [power, supply, starts] = found.effects.as_slice() else {
            panic!("{:?}", found.effects);
        };
        near(power.low.light, far_end(14.4 * 0.9, 24.0, 18.0));
        near(power.high.light, far_end(14.4 * 1.1, 24.0, 18.0));
        near(supply.low.light, far_end(14.4, 24.0 * 0.99, 18.0));
        near(supply.high.light, far_end(14.4, 24.0 * 1.01, 18.0));
        near(starts.low.light, far_end(14.4, 24.0, 16.0));
        near(starts.high.light, far_end(14.4, 24.0, 19.0));
        near(found.together, far_end(14.4 * 1.1, 24.0 * 0.99, 19.0));
        // Lost by the closed form: 0.035 with 1 % less supply, 0.023 from 19 V, 0.012 with 10 % more.
        assert_eq!(found.most().map(|it| it.figure), Some(Figure::Supply));
    }

    #[test]
    fn without_tolerances_nothing_differs() {
        let ladder = ladder();
        let none = Tolerances {
            power: 0.0,
            supply: 0.0,
            starts_at: None,
        };
        let found = within(&[(&ladder, vec![Lit::On])], &none);
        assert_eq!(found.nominal, found.together);
        assert_eq!(found.most(), None);
    }
}
