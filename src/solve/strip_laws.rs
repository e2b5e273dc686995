//! What must hold for every strip, whatever its figures: conservation, symmetry, order, limits.

use super::extremes::Extremes;
use super::strip::{
    Ladder, LadderChannel, LadderFeed, Lit, Short, State, StringLaw, extremes, solve, solve_if,
    solve_with,
};
use crate::quantity::resistance_per_length::ohms_per_metre;
use crate::quantity::{Length, PowerPerLength, Resistance, Voltage};
use proptest::prelude::*;
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::length::meter;
use uom::si::linear_power_density::watt_per_meter;

fn channel(rail: f64, watts: f64, law: StringLaw) -> LadderChannel {
    LadderChannel {
        return_rail: ohms_per_metre(rail),
        power: PowerPerLength::new::<watt_per_meter>(watts),
        flux: None,
        law,
    }
}

fn feed(cut: usize, ohms: f64, channels: usize) -> LadderFeed {
    LadderFeed {
        cut,
        plus: Resistance::new::<ohm>(ohms),
        returns: vec![Resistance::new::<ohm>(ohms); channels],
    }
}

fn strip(segments: usize, channels: Vec<LadderChannel>, feeds: Vec<LadderFeed>) -> Ladder {
    Ladder {
        supply: Voltage::new::<volt>(24.0),
        nominal: Voltage::new::<volt>(24.0),
        segment: Length::new::<meter>(0.05),
        segments,
        plus_rail: ohms_per_metre(0.03),
        channels,
        feeds,
    }
}

fn resistor(starts_at: f64) -> StringLaw {
    StringLaw::Resistor {
        starts_at: Voltage::new::<volt>(starts_at),
    }
}

fn regulated(starts_at: f64, regulated_from: f64) -> StringLaw {
    StringLaw::Regulated {
        starts_at: Voltage::new::<volt>(starts_at),
        regulated_from: Voltage::new::<volt>(regulated_from),
    }
}

fn darkest(state: &State) -> f64 {
    state
        .channels
        .iter()
        .flat_map(|channel| channel.light.iter().copied())
        .fold(f64::INFINITY, f64::min)
}

fn law() -> impl Strategy<Value = StringLaw> {
    prop_oneof![
        (14.0..22.0).prop_map(resistor),
        (14.0..19.0, 0.5..4.0).prop_map(|(start, more)| regulated(start, start + more)),
        Just(StringLaw::Converter),
    ]
}

/// Core resistances down to none at all.
fn core() -> impl Strategy<Value = f64> {
    prop_oneof![Just(0.0), 0.001..0.8]
}

fn rail() -> impl Strategy<Value = f64> {
    prop_oneof![1 => Just(0.0), 9 => 0.002..0.3]
}

prop_compose! {
    fn any_strip()(
        segments in 1_usize..240,
        law in law(),
        two in any::<bool>(),
        rails in (rail(), rail(), rail()),
        watts in (2.0..22.0, 2.0..22.0),
        places in prop::collection::vec((0.0..1.0, core(), core(), core()), 1..6),
    ) -> Ladder {
        let mut channels = vec![channel(rails.1, watts.0, law)];
        if two {
            channels.push(channel(rails.2, watts.1, law));
        }
        let count = channels.len();
        let cut = |share: f64| (share * (segments + 1) as f64) as usize;
        let mut feeds: Vec<LadderFeed> = places
            .iter()
            .map(|(share, plus, first, second)| LadderFeed {
                cut: cut(*share),
                plus: Resistance::new::<ohm>(*plus),
                returns: [*first, *second]
                    .iter()
                    .take(count)
                    .map(|ohms| Resistance::new::<ohm>(*ohms))
                    .collect(),
            })
            .collect();
        feeds.sort_by_key(|feed| feed.cut);
        let mut ladder = strip(segments, channels, feeds);
        ladder.plus_rail = ohms_per_metre(rails.0);
        ladder
    }
}

proptest! {
    #![proptest_config(crate::cases::cases(256))]
    #[test]
    fn the_extremes_are_those_of_the_whole_state(ladder in any_strip()) {
        for &lit in Lit::states(ladder.channels.len()) {
            let whole = solve(&ladder, lit);
            let of_whole = whole.as_ref().map(|state| Extremes {
                darkest: state.darkest(),
                least_volts: state.least_volts(),
            });
            prop_assert_eq!(extremes(&ladder, lit), of_whole);
            prop_assert_eq!(solve_if(&ladder, lit, |_| true).ok(), whole);
            prop_assert_eq!(solve_if(&ladder, lit, |_| false), Err(of_whole));
        }
    }

    #[test]
    fn current_and_power_are_conserved(ladder in any_strip()) {
        for &lit in Lit::states(ladder.channels.len()) {
            let Some(state) = solve(&ladder, lit) else {
                prop_assert!(ladder.channels[0].law == StringLaw::Converter);
                continue;
            };
            let taken: f64 = state.channels.iter().map(|channel| channel.current.value).sum();
            let scale = taken.max(1e-3);
            prop_assert!((state.source_current.value - taken).abs() <= 1e-9 * scale);
            for (lane, channel) in state.channels.iter().enumerate() {
                let back: f64 = state.feeds.iter().map(|feed| feed.returns[lane].value).sum();
                prop_assert!((back - channel.current.value).abs() <= 1e-9 * scale);
            }
            let out = state.strip_power + state.cable_loss + state.rail_loss;
            let off = (state.source_power - out).value.abs();
            prop_assert!(off <= 1e-9 * 24.0 * scale, "{} W missing", off);
        }
    }

    #[test]
    fn a_further_feed_never_dims_the_darkest_segment(
        starts_at in 14.0..22.0,
        segments in 2_usize..200,
        places in prop::collection::vec((0.0..1.0, 0.0..0.8), 2..6),
        leave_out in 0_usize..6,
    ) {
        let mut feeds: Vec<LadderFeed> = places
            .iter()
            .map(|(share, ohms)| feed((share * segments as f64) as usize, *ohms, 1))
            .collect();
        feeds.sort_by_key(|feed| feed.cut);
        let channels = vec![channel(0.05, 14.4, resistor(starts_at))];
        let with = strip(segments, channels.clone(), feeds.clone());
        feeds.remove(leave_out % feeds.len());
        let without = strip(segments, channels, feeds);
        let (with, without) = (solve(&with, Lit::On).unwrap(), solve(&without, Lit::On).unwrap());
        prop_assert!(darkest(&with) >= darkest(&without) - 1e-12);
    }

    #[test]
    fn feeds_in_mirror_image_give_light_in_mirror_image(
        law in law(),
        segments in 2_usize..200,
        at in 0.0..0.5,
        ohms in core(),
    ) {
        let cut = (at * segments as f64) as usize;
        let channels = vec![channel(0.04, 9.6, law), channel(0.06, 12.0, law)];
        let feeds = vec![feed(cut, ohms, 2), feed(segments - cut, ohms, 2)];
        let Some(state) = solve(&strip(segments, channels, feeds), Lit::Both) else {
            return Ok(());
        };
        for channel in &state.channels {
            for (one, other) in channel.light.iter().zip(channel.light.iter().rev()) {
                prop_assert!((one - other).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn a_longer_strip_is_never_brighter_at_its_darkest(
        law in prop_oneof![
            (14.0..22.0).prop_map(resistor),
            (14.0..19.0, 0.5..4.0).prop_map(|(start, more)| regulated(start, start + more)),
        ],
        segments in 1_usize..300,
        ohms in core(),
    ) {
        let of = |segments| {
            let channels = vec![channel(0.05, 14.4, law)];
            darkest(&solve(&strip(segments, channels, vec![feed(0, ohms, 1)]), Lit::On).unwrap())
        };
        prop_assert!(of(segments + 1) <= of(segments) + 1e-12);
    }
}

/// One converter segment behind R in all draws p = v·(V − v)/R: there is a working point up to
/// p = V²/(4R), where v = V/2.
#[test]
fn a_converter_is_told_to_work_up_to_its_limit_and_not_beyond() {
    let ohms = 2.0;
    let loop_ohms = 2.0 * ohms + 0.08 * 0.025;
    let limit = 24.0 * 24.0 / (4.0 * loop_ohms);
    let at = |share: f64| {
        let one = channel(0.05, limit * share / 0.05, StringLaw::Converter);
        solve(&strip(1, vec![one], vec![feed(0, ohms, 1)]), Lit::On)
    };
    for beyond in [1e-11, 1e-6, 0.1, 10.0] {
        assert!(
            at(1.0 + beyond).is_none(),
            "works at {beyond} beyond its limit"
        );
    }
    for short in [1e-11, 1e-6, 0.1, 0.9] {
        let state = at(1.0 - short).unwrap_or_else(|| panic!("fails {short} short of its limit"));
        let expected = 12.0 * (1.0 + f64::sqrt(short));
        let found = state.channels[0].volts[0];
        assert!(
            (found - expected).abs() < 1e-4,
            "{short}: {found} V, expected {expected} V"
        );
    }
}

/// The limit of a long converter strip, found from both sides, is one sharp figure.
#[test]
fn a_long_converter_strip_has_a_sharp_limit() {
    let works = |watts: f64| {
        let channels = vec![channel(0.05, watts, StringLaw::Converter); 2];
        solve(&strip(800, channels, vec![feed(0, 0.05, 2)]), Lit::Both).is_some()
    };
    let (mut under, mut over) = (0.1, 40.0);
    assert!(works(under) && !works(over));
    while over - under > 1e-9 * over {
        let middle = 0.5 * (under + over);
        if works(middle) {
            under = middle
        } else {
            over = middle
        }
    }
    assert!(works(under * (1.0 - 1e-9)) && !works(over * (1.0 + 1e-9)));
}

#[test]
fn a_strip_without_resistance_has_the_supply_at_every_segment() {
    let mut ladder = strip(
        40,
        vec![channel(0.0, 14.4, resistor(18.0))],
        vec![feed(0, 0.0, 1), feed(40, 0.0, 1)],
    );
    ladder.plus_rail = ohms_per_metre(0.0);
    let state = solve(&ladder, Lit::On).unwrap();
    assert!(state.channels[0].volts.iter().all(|volts| *volts == 24.0));
    assert!((state.source_current.value - 1.2).abs() < 1e-12);
    for feed in &state.feeds {
        assert!(
            (feed.plus.value - 0.6).abs() < 1e-12 && (feed.returns[0].value - 0.6).abs() < 1e-12
        );
    }
}

/// A short takes its voltage squared over its resistance (Ohm's law), which counts as the strip's
/// power; what is left over of the source's is lost in cables and rails.
#[test]
fn what_a_short_takes_is_in_the_balance() {
    for channel_of_short in [0, 1] {
        let channels = vec![
            channel(0.05, 9.6, resistor(18.0)),
            channel(0.04, 4.8, regulated(17.0, 21.0)),
        ];
        let feeds = vec![feed(0, 0.1, 2), feed(80, 0.0, 2)];
        let ladder = strip(80, channels, feeds);
        let short = Short {
            segment: 30,
            channel: channel_of_short,
            resistance: Resistance::new::<ohm>(4.0),
        };
        let state = solve_with(&ladder, Lit::Both, Some(&short)).unwrap();
        let out = state.strip_power + state.cable_loss + state.rail_loss;
        let off = (state.source_power - out).value.abs();
        assert!(off < 1e-9 * state.source_power.value, "{off} W missing");
        let strings: f64 = state
            .channels
            .iter()
            .flat_map(|lit| lit.volts.iter().zip(&lit.amperes))
            .map(|(volts, amperes)| volts * amperes)
            .sum();
        let volts = state.channels[channel_of_short].volts[30];
        let taken = state.strip_power.value - strings;
        assert!(
            (taken - volts * volts / 4.0).abs() < 1e-6,
            "{taken} W at {volts} V"
        );
        let currents = state.channels.iter().map(|lit| lit.current.value);
        let all = currents.sum::<f64>() + volts / 4.0;
        assert!((state.source_current.value - all).abs() < 1e-9);
    }
}

#[test]
fn a_core_without_resistance_is_the_limit_of_a_small_one() {
    let with = |ohms: f64| {
        let channels = vec![
            channel(0.05, 9.6, regulated(17.0, 21.0)),
            channel(0.04, 9.6, regulated(17.0, 21.0)),
        ];
        let feeds = vec![feed(0, ohms, 2), feed(130, ohms, 2), feed(400, 0.2, 2)];
        solve(&strip(400, channels, feeds), Lit::Both).unwrap()
    };
    let (none, tiny) = (with(0.0), with(1e-9));
    for (none, tiny) in none.feeds.iter().zip(&tiny.feeds) {
        assert!((none.plus - tiny.plus).value.abs() < 1e-6);
        assert!((none.returns[1] - tiny.returns[1]).value.abs() < 1e-6);
    }
    assert!((darkest(&none) - darkest(&tiny)).abs() < 1e-8);
}
