//! What a meter must read on a strip that is fed as it was sized, and between which bounds: the
//! ladder is solved at every combination of the ends of what may differ.

use super::strip::{Ladder, Lit, State, solve};
use crate::quantity::{Current, Voltage};

/// How far a length of cable may lie from the one in the project, as a share. Common practice, no
/// source.
pub const CABLE_LENGTH: f64 = 0.10;

/// What may differ from the figures that a ladder was sized with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Strip power, as a share either way; 0 to less than 1.
    pub power: f64,
    /// Driver voltage, as a share either way; 0 to less than 1.
    pub supply: f64,
    /// Resistance of a feed cable, low and high, as shares of the one it was sized with: its
    /// length may differ, and copper that has just been switched on is colder.
    pub cable: [f64; 2],
}

/// A figure with what it may be within the spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band<Q> {
    /// As sized.
    pub expected: Q,
    /// Least.
    pub low: Q,
    /// Most.
    pub high: Q,
}

/// What can be measured at one feed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct AtFeed {
    /// Voltage where it joins the strip, between plus and the lit channel's return.
    pub volts: Band<Voltage>,
    /// Current in its plus core.
    pub current: Band<Current>,
}

/// What can be measured on a section with one channel lit.
#[derive(Debug, Clone, PartialEq)]
pub struct Readings {
    /// At each feed, in the ladder's order.
    pub feeds: Vec<AtFeed>,
    /// The segment with the least voltage as sized, from 0.
    pub darkest: usize,
    /// Voltage there.
    pub darkest_volts: Band<Voltage>,
}

/// What is read with one channel of a ladder full on. `None` when the strip has no working point,
/// be it as sized or at an end of the spread, and for the state with both channels on, in which a
/// meter that averages pulses reads neither.
#[must_use]
pub fn readings(ladder: &Ladder, lit: Lit, spread: &Spread) -> Option<Readings> {
    let &[channel] = lit.channels() else {
        return None;
    };
    let sized = Taken::of(ladder, lit, channel)?;
    let (darkest, least) = sized.darkest()?;
    let mut readings = Readings {
        feeds: sized
            .at_feeds
            .iter()
            .map(|it| AtFeed::exactly(*it))
            .collect(),
        darkest,
        darkest_volts: Band::exactly(least),
    };
    for corner in corners(ladder, spread) {
        let taken = Taken::of(&corner, lit, channel)?;
        for (feed, (volts, current)) in readings.feeds.iter_mut().zip(&taken.at_feeds) {
            feed.volts.widen(*volts);
            feed.current.widen(*current);
        }
        readings.darkest_volts.widen(taken.volts_in(darkest)?);
    }
    Some(readings)
}

/// Voltage across one segment with one channel full on; `None` as with [`readings`].
#[must_use]
pub fn volts_in(
    ladder: &Ladder,
    lit: Lit,
    spread: &Spread,
    segment: usize,
) -> Option<Band<Voltage>> {
    let &[channel] = lit.channels() else {
        return None;
    };
    let mut band = Band::exactly(Taken::of(ladder, lit, channel)?.volts_in(segment)?);
    for corner in corners(ladder, spread) {
        band.widen(Taken::of(&corner, lit, channel)?.volts_in(segment)?);
    }
    Some(band)
}

impl<Q: Copy + PartialOrd> Band<Q> {
    /// A figure that does not differ.
    #[must_use]
    pub fn exactly(value: Q) -> Band<Q> {
        Band {
            expected: value,
            low: value,
            high: value,
        }
    }

    fn widen(&mut self, value: Q) {
        if value < self.low {
            self.low = value;
        }
        if value > self.high {
            self.high = value;
        }
    }
}

impl AtFeed {
    fn exactly((volts, current): (Voltage, Current)) -> AtFeed {
        AtFeed {
            volts: Band::exactly(volts),
            current: Band::exactly(current),
        }
    }
}

/// What is taken from one solution.
struct Taken {
    at_feeds: Vec<(Voltage, Current)>,
    volts: Vec<f64>,
}

impl Taken {
    fn of(ladder: &Ladder, lit: Lit, channel: usize) -> Option<Taken> {
        let State {
            feeds, channels, ..
        } = solve(ladder, lit)?;
        let at_feed = |(feed, currents): (&super::strip::LadderFeed, _)| {
            let currents: &super::strip::FeedCurrents = currents;
            let core = *feed.returns.get(channel)?;
            let back = *currents.returns.first()?;
            let there = ladder.supply - currents.plus * feed.plus - back * core;
            Some((there, currents.plus))
        };
        let at_feeds: Option<Vec<_>> = ladder.feeds.iter().zip(&feeds).map(at_feed).collect();
        Some(Taken {
            at_feeds: at_feeds?,
            volts: channels.into_iter().next()?.volts,
        })
    }

    /// The first segment with the least voltage.
    fn darkest(&self) -> Option<(usize, Voltage)> {
        let least = self.volts.iter().enumerate();
        let (segment, _) = least.min_by(|a, b| a.1.total_cmp(b.1))?;
        Some((segment, self.volts_in(segment)?))
    }

    fn volts_in(&self, segment: usize) -> Option<Voltage> {
        let volts = *self.volts.get(segment)?;
        Some(Voltage::new::<uom::si::electric_potential::volt>(volts))
    }
}

/// The ladder at every combination of ends: power and supply, with all cables at one end and, where
/// there are several, each at the end opposite to the others, which is where it carries most and
/// least.
fn corners(ladder: &Ladder, spread: &Spread) -> Vec<Ladder> {
    let [low, high] = spread.cable;
    let feeds = ladder.feeds.len();
    let mut cables = vec![vec![low; feeds], vec![high; feeds]];
    if feeds > 1 {
        for feed in 0..feeds {
            for (own, others) in [(low, high), (high, low)] {
                let shares = (0..feeds).map(|at| if at == feed { own } else { others });
                cables.push(shares.collect());
            }
        }
    }
    let about = |share: f64| [1.0 - share, 1.0 + share];
    let mut corners = Vec::new();
    for power in about(spread.power) {
        for supply in about(spread.supply) {
            corners.extend(cables.iter().map(|it| changed(ladder, power, supply, it)));
        }
    }
    corners
}

fn changed(ladder: &Ladder, power: f64, supply: f64, cables: &[f64]) -> Ladder {
    let mut ladder = ladder.clone();
    ladder.supply *= supply;
    for channel in &mut ladder.channels {
        channel.power *= power;
    }
    for (feed, share) in ladder.feeds.iter_mut().zip(cables) {
        feed.plus *= *share;
        for core in &mut feed.returns {
            *core *= *share;
        }
    }
    ladder
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Length, PowerPerLength, Resistance, ResistancePerLength};
    use crate::solve::strip::{LadderChannel, LadderFeed, StringLaw};
    use std::marker::PhantomData;
    use uom::si::electric_current::ampere;
    use uom::si::electric_potential::volt;
    use uom::si::electrical_resistance::ohm;
    use uom::si::length::meter;
    use uom::si::linear_power_density::watt_per_meter;

    const SPREAD: Spread = Spread {
        power: 0.10,
        supply: 0.01,
        cable: [0.75, 1.1],
    };

    /// 24 V, 14.4 W/m, light from 18 V, 0.12 Ω/m of rails, `metres` of 10 mm segments, fed through
    /// cores of so many ohms at both ends or at the start.
    fn ladder(metres: usize, law: StringLaw, cores: &[f64]) -> Ladder {
        let rail = ResistancePerLength {
            dimension: PhantomData,
            units: PhantomData,
            value: 0.06,
        };
        let segments = 100 * metres;
        let feed = |(at, ohms): (usize, &f64)| LadderFeed {
            cut: at * segments,
            plus: Resistance::new::<ohm>(*ohms),
            returns: vec![Resistance::new::<ohm>(*ohms)],
        };
        Ladder {
            supply: Voltage::new::<volt>(24.0),
            nominal: Voltage::new::<volt>(24.0),
            segment: Length::new::<meter>(0.01),
            segments,
            plus_rail: rail,
            channels: vec![LadderChannel {
                return_rail: rail,
                power: PowerPerLength::new::<watt_per_meter>(14.4),
                flux: None,
                law,
            }],
            feeds: cores.iter().enumerate().map(feed).collect(),
        }
    }

    fn resistor() -> StringLaw {
        StringLaw::Resistor {
            starts_at: Voltage::new::<volt>(18.0),
        }
    }

    /// Voltage above v₀ at the fed end of a uniform line of length L fed through Rc:
    /// (Vs − v₀)/(1 + Rc·(g/k)·tanh kL), and its current, by the ladder theory of a uniform line
    /// with leakage as textbooks of transmission lines have it.
    fn at_feed(power: f64, supply: f64, core: f64, metres: f64) -> (f64, f64) {
        let g = power / 24.0 / 6.0;
        let k = (0.12 * g).sqrt();
        let into = g / k * (k * metres).tanh();
        let above = (supply - 18.0) / (1.0 + 2.0 * core * into);
        (18.0 + above, above * into)
    }

    #[test]
    fn one_feed_agrees_with_the_closed_form_at_its_ends() {
        let found = readings(&ladder(5, resistor(), &[0.1]), Lit::On, &SPREAD).unwrap();
        let [feed] = found.feeds.as_slice() else {
            panic!("{found:?}");
        };
        let near = |a: f64, b: f64| assert!((a - b).abs() < 5e-4, "{a} against {b}");
        let sized = at_feed(14.4, 24.0, 0.1, 5.0);
        near(feed.volts.expected.value, sized.0);
        near(feed.current.expected.value, sized.1);
        // Least volts: most power, least supply, most cable; most volts the other way round.
        near(feed.volts.low.value, at_feed(15.84, 23.76, 0.11, 5.0).0);
        near(feed.volts.high.value, at_feed(12.96, 24.24, 0.075, 5.0).0);
        near(feed.current.low.value, at_feed(12.96, 23.76, 0.11, 5.0).1);
        near(feed.current.high.value, at_feed(15.84, 24.24, 0.075, 5.0).1);
        assert_eq!(found.darkest, 499);
        assert!(found.darkest_volts.low < found.darkest_volts.expected);
    }

    #[test]
    fn a_feed_carries_most_where_it_is_short_and_the_others_are_long() {
        let both = ladder(8, resistor(), &[0.1, 0.3]);
        let found = readings(&both, Lit::On, &SPREAD).unwrap();
        let own = changed(&both, 1.1, 1.01, &[0.75, 1.1]);
        let state = solve(&own, Lit::On).unwrap();
        let most = found.feeds[0].current.high.get::<ampere>();
        assert!((most - state.feeds[0].plus.get::<ampere>()).abs() < 1e-12);
        let together = solve(&changed(&both, 1.1, 1.01, &[0.75, 0.75]), Lit::On).unwrap();
        assert!(most > together.feeds[0].plus.get::<ampere>());
    }

    #[test]
    fn a_converter_draws_most_where_its_volts_are_least() {
        let found = readings(&ladder(3, StringLaw::Converter, &[0.1]), Lit::On, &SPREAD).unwrap();
        let low = changed(&ladder(3, StringLaw::Converter, &[0.1]), 1.1, 0.99, &[1.1]);
        let state = solve(&low, Lit::On).unwrap();
        assert_eq!(found.feeds[0].current.high, state.feeds[0].plus);
    }

    #[test]
    fn what_has_no_working_point_within_the_spread_is_not_expected() {
        let far = ladder(14, StringLaw::Converter, &[0.5]);
        assert_eq!(readings(&far, Lit::On, &SPREAD), None);
        let pair = ladder(1, resistor(), &[0.1]);
        assert_eq!(readings(&pair, Lit::Both, &SPREAD), None);
    }

    #[test]
    fn without_spread_the_band_is_the_figure() {
        let none = Spread {
            power: 0.0,
            supply: 0.0,
            cable: [1.0, 1.0],
        };
        let found = readings(&ladder(5, resistor(), &[0.1]), Lit::On, &none).unwrap();
        let volts = found.feeds[0].volts;
        assert_eq!((volts.low, volts.high), (volts.expected, volts.expected));
    }
}
