//! Rails found from what a catalogue says give it back when put into the ladder.

use super::rails::{RailsError, resolve, track};
use super::sample::{channel, pair};
use super::strip::{Ladder, LadderFeed, Lit, State, solve};
use super::strip_model::{STARTS_AT, StripError, StripModel};
use crate::model::strip::{Channels, LightSource, RailsKnown, RatedFeed, Strip};
use crate::quantity::{
    Current, Length, PowerPerLength, Ratio, Resistance, ResistancePerLength, Temperature, Voltage,
};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::{meter, micrometer, millimeter};
use uom::si::linear_power_density::watt_per_meter;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

fn unfed(cut: usize) -> LadderFeed {
    LadderFeed {
        cut,
        plus: Resistance::default(),
        returns: vec![Resistance::default(); 2],
    }
}

fn both_on(ladder: &Ladder) -> State {
    solve(ladder, Lit::Both).unwrap()
}

fn longest_run(feed: RatedFeed, drop: f64) -> RailsKnown {
    RailsKnown::LongestRun {
        length: Length::new::<meter>(8.0),
        feed,
        drop: Ratio::new::<percent>(drop),
    }
}

#[test]
fn a_longest_run_is_given_back() {
    for source in [LightSource::Resistor, LightSource::Regulated] {
        for (feed, cuts) in [
            (RatedFeed::OneEnd, vec![0]),
            (RatedFeed::BothEnds, vec![0, 160]),
            (RatedFeed::Middle, vec![80]),
        ] {
            for drop in [1.0, 10.0, 45.0] {
                let model = StripModel::of(&pair(source, longest_run(feed, drop))).unwrap();
                assert!(model.is_known() && model.assumptions.len() == 1);
                let feeds = cuts.iter().map(|cut| unfed(*cut)).collect();
                let ladder = model.ladder(Voltage::new::<volt>(24.0), 160, feeds);
                let found = 100.0 * (1.0 - both_on(&ladder).darkest());
                assert!(
                    (found - drop).abs() < 1e-7,
                    "{source:?} {feed:?}: {found} %"
                );
                assert!(ladder.plus_rail == ladder.channels[0].return_rail);
            }
        }
    }
}

fn bench(volts_out: f64, amperes: f64) -> RailsKnown {
    RailsKnown::Bench {
        length: Length::new::<meter>(5.0),
        volts_in: Voltage::new::<volt>(24.0),
        volts_out: Voltage::new::<volt>(volts_out),
        current: Current::new::<ampere>(amperes),
    }
}

/// A strip with known rails is read on the bench; the reading gives its rails back, also when the
/// strip draws more or less than its datasheet says.
#[test]
fn a_bench_reading_gives_the_rails_back() {
    for source in [
        LightSource::Resistor,
        LightSource::Regulated,
        LightSource::Converter,
    ] {
        for tolerance in [0.9, 1.0, 1.1] {
            let each = ResistancePerLength {
                value: 0.08,
                ..ResistancePerLength::default()
            };
            let rails = RailsKnown::Resistance {
                common: each,
                returns: vec![each; 2],
            };
            let mut real = pair(source, rails);
            let mut drawing = channel();
            drawing.power *= tolerance;
            real.channels = Channels::TunableWhite {
                warm: drawing.clone(),
                cool: drawing,
            };
            let model = StripModel::of(&real).unwrap();
            let read = both_on(&model.ladder(Voltage::new::<volt>(24.0), 100, vec![unfed(0)]));
            let known = bench(read.end_volts(), read.source_current.get::<ampere>());
            let model = StripModel::of(&pair(source, known)).unwrap();
            let ladder = model.ladder(Voltage::new::<volt>(24.0), 100, vec![unfed(0)]);
            let found = ladder.plus_rail.value;
            assert!(
                (found - 0.08).abs() < 1e-8,
                "{source:?} {tolerance}: {found}"
            );
        }
    }
}

#[test]
fn what_gives_no_resistance_is_refused() {
    let refused = |source, rails| {
        let strip = pair(source, rails);
        StripModel::of(&strip).unwrap_err()
    };
    let strip = || "pair".to_owned();
    for known in [
        bench(24.0, 3.0),
        bench(25.0, 3.0),
        bench(22.0, 0.0),
        bench(22.0, -1.0),
        bench(0.0, 3.0),
        bench(-2.0, 3.0),
    ] {
        let error = refused(LightSource::Resistor, known);
        assert_eq!(
            error,
            StripError::Rails(RailsError::Bench { strip: strip() })
        );
    }
    for drop in [0.0, 100.0] {
        let error = refused(LightSource::Resistor, longest_run(RatedFeed::OneEnd, drop));
        assert_eq!(
            error,
            StripError::Rails(RailsError::Drop { strip: strip() })
        );
    }
    let error = refused(LightSource::Converter, longest_run(RatedFeed::OneEnd, 10.0));
    assert_eq!(
        error,
        StripError::Rails(RailsError::Converter { strip: strip() })
    );
}

#[test]
fn light_that_starts_above_nominal_is_refused() {
    let mut strip = pair(LightSource::Resistor, RailsKnown::Unknown);
    let mut odd = channel();
    odd.light_starts_at = Some(Voltage::new::<volt>(24.0));
    strip.channels = Channels::SingleColour(odd);
    let error = StripModel::of(&strip).unwrap_err();
    assert_eq!(
        error.to_string(),
        "strip `pair`: light must start below its voltage (24.00 V), not at 24.00 V"
    );
}

/// Copper 70 µm thick and 3 mm wide at 20 °C: 0.0821 Ω/m by ρ/(t·w), ρ after IEC 60028.
#[test]
fn a_track_follows_from_its_copper() {
    let (thickness, width) = (
        Length::new::<micrometer>(70.0),
        Length::new::<millimeter>(3.0),
    );
    let cold = track(thickness, width, Temperature::new::<degree_celsius>(20.0));
    assert!((cold.value - 0.0821).abs() < 1e-5);
    let strip = pair(
        LightSource::Resistor,
        RailsKnown::Copper {
            thickness,
            common_width: width,
            return_width: Length::new::<millimeter>(1.5),
        },
    );
    let resolved = resolve(&strip, &[]).unwrap();
    let warm = cold.value * (1.0 + 0.00393 * 40.0);
    assert!((resolved.rails.common.value - warm).abs() < 1e-12);
    assert!((resolved.rails.returns[1].value - 2.0 * warm).abs() < 1e-12);
    assert_eq!(resolved.assumptions[0].statement, "copper rails at 60 °C");
}

/// Every v₀ in the range is no darker than the end that was taken.
#[test]
fn an_unknown_start_of_light_takes_the_darkest_of_its_range() {
    let each = ResistancePerLength {
        value: 0.05,
        ..ResistancePerLength::default()
    };
    for source in [LightSource::Resistor, LightSource::Regulated] {
        let rails = RailsKnown::Resistance {
            common: each,
            returns: vec![each],
        };
        let strip_with = |starts_at: Option<f64>| -> Strip {
            let mut strip = pair(source, rails.clone());
            let mut one = channel();
            one.power = PowerPerLength::new::<watt_per_meter>(14.4);
            one.light_starts_at = starts_at.map(Voltage::new::<volt>);
            one.regulated_from = Some(Voltage::new::<volt>(22.0));
            strip.channels = Channels::SingleColour(one);
            strip
        };
        for (supply, segments) in [
            (24.0, 20),
            (24.0, 100),
            (24.0, 240),
            (25.0, 20),
            (25.0, 100),
        ] {
            let supply = Voltage::new::<volt>(supply);
            let darkest = |starts_at| {
                let model = StripModel::of(&strip_with(starts_at)).unwrap();
                assert_eq!(model.is_known(), starts_at.is_some());
                let ladder = model.ladder(supply, segments, vec![unfed(0)]);
                solve(&ladder, Lit::On).unwrap().darkest()
            };
            let taken = darkest(None);
            for step in 0..=18 {
                let share = 0.70 + 0.01 * f64::from(step);
                assert!(
                    taken <= darkest(Some(24.0 * share)) + 1e-12,
                    "{source:?} {share}"
                );
            }
            let ends = STARTS_AT.map(|share| darkest(Some(24.0 * share)));
            assert!((taken - ends[0].min(ends[1])).abs() < 1e-12, "{source:?}");
            // All of it is below nominal voltage at 24 V, and above it at 25 V where it is short.
            if source == LightSource::Resistor && segments == 20 {
                let early_is_darker = ends[0] < ends[1];
                assert_eq!(early_is_darker, supply > strip_with(None).voltage);
            }
        }
    }
}

/// That the rails of a longest run are taken to be equal keeps nothing from being told.
#[test]
fn what_is_missing_is_named_and_not_what_is_assumed_beside_it() {
    let rails = longest_run(RatedFeed::OneEnd, 10.0);
    let mut strip = pair(LightSource::Resistor, rails);
    let mut silent = channel();
    silent.light_starts_at = None;
    strip.channels = Channels::TunableWhite {
        warm: silent.clone(),
        cool: silent,
    };
    let model = StripModel::of(&strip).unwrap();
    let untold = model.untold.expect("where light starts is not known");
    assert_eq!(untold.missing, "`light_starts_at` in strip `pair`");
    assert_ne!(model.assumptions.first(), Some(&untold));
}

#[test]
fn nothing_known_is_named() {
    let mut strip = pair(LightSource::Regulated, RailsKnown::Unknown);
    let mut silent = channel();
    (silent.light_starts_at, silent.regulated_from) = (None, None);
    strip.channels = Channels::SingleColour(silent);
    let model = StripModel::of(&strip).unwrap();
    let untold = model.untold.as_ref().expect("nothing can be told");
    assert!(untold.missing.starts_with("`rails` (or "), "{untold:?}");
    let statements: Vec<&str> = model
        .assumptions
        .iter()
        .map(|assumption| assumption.statement.as_str())
        .collect();
    assert_eq!(
        statements,
        [
            "rails of 0.25 Ω/m each, the poorest in common use (35 µm copper, 2 mm wide)",
            "light starts between 16.80 V and 21.12 V (0.70 to 0.88 of nominal), whichever is \
             darker",
            "current is held from between 21.60 V and 22.80 V (0.90 to 0.95 of nominal), \
             whichever is darker",
        ]
    );
}
