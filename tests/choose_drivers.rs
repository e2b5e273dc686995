//! How sections come onto driver outputs, on small cases that can be worked out by hand.

use crate::invented;

use feedpoint::choose::demand::Demand;
use feedpoint::choose::derating::usable;
use feedpoint::choose::driver::pack;
use feedpoint::choose::limits::class_2_power;
use feedpoint::choose::sharing::Sharing;
use feedpoint::choose::suited::known_unfit;
use feedpoint::choose::unit::{Match, Unit, suits};
use feedpoint::quantity::{Current, Power, Ratio, Temperature, Voltage};
use invented::{cable, driver};
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::power::watt;
use uom::si::ratio::percent;
use uom::si::thermodynamic_temperature::degree_celsius;

fn unit(watts: f64, outputs: usize, amperes: f64, cost: Option<i64>) -> Unit {
    Unit {
        pieces: 1,
        item: driver("driver", 24.0, watts / 0.85, 1, 0),
        sharing: Sharing::Single,
        outputs,
        loadable: Power::new::<watt>(watts),
        current: Some(Current::new::<ampere>(amperes)),
        cost: cost.map(Decimal::from),
        region: feedpoint::norms::region::Region::Iec,
    }
}

fn demand(watts: f64, mm2: f64) -> Demand {
    Demand {
        power: Power::new::<watt>(watts),
        current: Current::new::<ampere>(watts / 24.0),
        channels: vec![Current::new::<ampere>(watts / 24.0)],
        cable: cable("feed", 2, mm2, 100),
        ampacity: Some(Current::new::<ampere>(30.0)),
        longest_feed: feedpoint::quantity::Length::default(),
    }
}

/// A driver of two outputs is two supplies of what each may give; of one output its whole power counts
/// (NEC Chapter 9 Table 11(B), from memory: 100 VA at 24 V).
#[test]
fn each_output_of_a_class_2_driver_is_a_supply_by_itself() {
    let power = |outputs: usize, each: Option<f64>| {
        let mut driver = driver("driver", 24.0, 150.0, outputs, 0);
        let output = &mut Arc::make_mut(&mut driver).output;
        output.current_per_channel = each.map(Current::new::<ampere>);
        let checked = class_2_power(&driver);
        (checked.found.value, checked.limit.value, checked.keeps)
    };
    assert_eq!(power(2, Some(3.0)), (72.0, 100.0, true));
    assert_eq!(power(2, Some(5.0)), (120.0, 100.0, false));
    assert_eq!(power(2, Some(7.0)), (150.0, 100.0, false));
    assert_eq!(power(2, None), (150.0, 100.0, false));
    assert_eq!(power(1, Some(3.0)), (150.0, 100.0, false));
}

fn loads(units: &[Unit], demands: &[Demand]) -> Vec<(usize, Vec<Vec<usize>>)> {
    let packed = pack(units, demands);
    packed
        .drivers
        .into_iter()
        .map(|loaded| (loaded.unit, loaded.outputs))
        .collect()
}

#[test]
fn sections_share_a_driver_up_to_its_power() {
    let units = [
        unit(100.0, 1, 10.0, Some(50)),
        unit(50.0, 1, 10.0, Some(30)),
    ];
    let demands = [60.0, 40.0, 45.0].map(|watts| demand(watts, 1.5));
    assert_eq!(
        loads(&units, &demands),
        [(0, vec![vec![0, 1]]), (1, vec![vec![2]])]
    );
    let packed = pack(&units, &demands);
    assert!(packed.optimal);
    assert_eq!(packed.cost, Some(Decimal::from(80)));
    assert_eq!(packed.bound, packed.cost);
}

#[test]
fn an_output_is_not_loaded_beyond_its_current() {
    // 100 W would go on one driver, but each of its two outputs gives 2.5 A, 60 W.
    let units = [unit(200.0, 2, 2.5, Some(50))];
    let demands = [40.0, 40.0, 20.0].map(|watts| demand(watts, 1.5));
    assert_eq!(loads(&units, &demands), [(0, vec![vec![0, 2], vec![1]])]);
    // Three of 40 W don't divide onto two such outputs, though 120 W is their current together.
    let demands = [40.0, 40.0, 40.0].map(|watts| demand(watts, 1.5));
    let packed = pack(&units, &demands);
    assert_eq!(packed.drivers.len(), 2);
    assert_eq!(packed.cost, Some(Decimal::from(100)));
}

#[test]
fn a_thick_cable_needs_a_driver_with_large_terminals() {
    // Up to 150 W the terminals take 4 mm².
    let units = [
        unit(100.0, 1, 10.0, Some(50)),
        unit(200.0, 1, 10.0, Some(90)),
    ];
    let demands = [demand(30.0, 6.0), demand(30.0, 1.5)];
    assert_eq!(loads(&units, &demands), [(1, vec![vec![0, 1]])]);
}

#[test]
fn a_driver_that_could_overload_the_cable_is_not_taken() {
    // 200 W at 24 V is 9.8 A rated, more than the 6 A that the cable may carry there.
    let units = [
        unit(100.0, 1, 10.0, Some(50)),
        unit(200.0, 1, 10.0, Some(40)),
    ];
    let thin = Demand {
        ampacity: Some(Current::new::<ampere>(6.0)),
        ..demand(30.0, 1.5)
    };
    assert_eq!(loads(&units, &[thin]), [(0, vec![vec![0]])]);
    assert_eq!(loads(&units, &[demand(30.0, 1.5)]), [(1, vec![vec![0]])]);
}

#[test]
fn too_large_a_section_gets_the_largest_driver_to_itself() {
    let units = [
        unit(100.0, 1, 10.0, Some(50)),
        unit(200.0, 1, 20.0, Some(90)),
    ];
    let demands = [demand(300.0, 1.5), demand(10.0, 1.5)];
    assert_eq!(
        loads(&units, &demands),
        [(1, vec![vec![0]]), (0, vec![vec![1]])]
    );
    let none = pack(&[], &demands);
    assert!(none.drivers.is_empty() && !none.optimal);
}

#[test]
fn a_driver_without_a_price_is_a_last_resort() {
    let units = [unit(100.0, 1, 10.0, None), unit(100.0, 1, 10.0, Some(90))];
    assert_eq!(loads(&units, &[demand(50.0, 1.5)]), [(1, vec![vec![0]])]);
    let unpriced = pack(&units[..1], &[demand(50.0, 1.5), demand(50.0, 1.5)]);
    assert_eq!((unpriced.drivers.len(), unpriced.cost), (1, None));
}

#[test]
fn ambient_above_the_highest_derates_along_the_points_given() {
    let celsius = |value: f64| Temperature::new::<degree_celsius>(value);
    let mut item = driver("driver", 24.0, 100.0, 1, 0);
    let given = Arc::make_mut(&mut item);
    given.derating = vec![
        (celsius(55.0), Ratio::new::<percent>(80.0)),
        (celsius(65.0), Ratio::new::<percent>(40.0)),
    ];
    let watts = |at: f64| usable(&item, Some(celsius(at))).get::<watt>();
    let expected = [
        (35.0, 100.0),
        (45.0, 100.0),
        (50.0, 90.0),
        (55.0, 80.0),
        (60.0, 60.0),
    ];
    for (at, power) in expected {
        assert!((watts(at) - power).abs() < 1e-9, "{at} °C: {}", watts(at));
    }
    assert!(watts(66.0).abs() < 1e-9);
    assert!((usable(&item, None).get::<watt>() - 100.0).abs() < 1e-9);
}

#[test]
fn two_whites_want_colour_gear_or_two_addresses() {
    let volts = Voltage::new::<volt>(24.0);
    let colour = driver("pair", 24.0, 60.0, 2, 0);
    assert_eq!(suits(&colour, volts, 2), Some(Match::Own));
    assert_eq!(suits(&colour, volts, 1), None);
    assert_eq!(suits(&colour, Voltage::new::<volt>(48.0), 2), None);
    let mut single = driver("single", 24.0, 60.0, 1, 0);
    assert_eq!(suits(&single, volts, 1), Some(Match::Own));
    assert_eq!(suits(&single, volts, 2), None);
    let two = Arc::make_mut(&mut single);
    two.output.channels = 2;
    two.bus.as_mut().expect("on the bus").addresses = 2;
    assert_eq!(suits(&single, volts, 2), Some(Match::StandsIn));
    Arc::make_mut(&mut single).bus = None;
    assert_eq!(suits(&single, volts, 2), Some(Match::Switched));
}

/// A driver that stays within what strip stands, 24.48 V of 25.2 V (5 % above nominal: common practice,
/// no source), flickers as much as it may at Pst LM 1.0 (Regulation (EU) 2019/2020 Annex II, from
/// memory).
#[test]
fn one_figure_out_of_bounds_makes_a_driver_unfit_and_a_silent_sheet_does_not() {
    let strip = invented::strip("line", 24.0, &[10.0]);
    let project = invented::project(&[invented::Wanted::new("line", &strip, 4.0)]);
    let unfit = |tolerance: Option<f64>, pst_lm: Option<f64>| {
        let mut item = driver("driver", 24.0, 100.0, 1, 0);
        let detail = &mut Arc::make_mut(&mut item).detail;
        detail.tolerance = tolerance.map(Ratio::new::<percent>);
        detail.flicker.pst_lm = pst_lm;
        known_unfit(&project, &project.runs[0], &item)
    };
    assert!(!unfit(None, None));
    assert!(!unfit(Some(2.0), Some(1.0)));
    assert!(unfit(Some(2.0), Some(1.1)));
    assert!(unfit(Some(6.0), Some(1.0)));
    assert!(unfit(None, Some(1.1)));
}

#[test]
fn strips_whose_channels_differ_are_not_said_to_be_packed_best_unless_proved() {
    // Together they draw 3 A on each channel, which one driver gives; counted by the larger channel
    // of each it is 4 A. Two drivers are kept, and not called the cheapest.
    let units = [unit(100.0, 1, 3.0, Some(50))];
    let of = |warm: f64, cool: f64| Demand {
        power: Power::new::<watt>(48.0),
        current: Current::new::<ampere>(2.0),
        channels: [warm, cool].map(Current::new::<ampere>).to_vec(),
        ..demand(48.0, 1.5)
    };
    let mixed = pack(&units, &[of(2.0, 1.0), of(1.0, 2.0)]);
    assert_eq!(mixed.drivers.len(), 2);
    assert!(!mixed.optimal);
    assert_eq!(mixed.bound, Some(Decimal::from(50)));
    let alike = pack(&units, &[of(2.0, 1.0), of(2.0, 2.0)]);
    assert_eq!(alike.drivers.len(), 2);
    assert!(alike.optimal);
}
