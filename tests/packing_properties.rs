//! Drivers against every other way to buy them: a few demands on units of several ratings, prices,
//! outputs, terminals and least loads, each assignment tried one by one.

use crate::invented;
use crate::made::cases::cases;

use feedpoint::choose::demand::{Demand, takes};
use feedpoint::choose::driver::{Packed, pack};
use feedpoint::choose::sharing::Sharing;
use feedpoint::choose::unit::Unit;
use feedpoint::model::driver::Driver;
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::{Area, Current, Power, Ratio};
use proptest::prelude::*;
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::power::watt;
use uom::si::ratio::percent;

fn square_millimetres(value: f64) -> ConductorSize {
    ConductorSize::Metric(Area::new::<square_millimeter>(value))
}

/// What a unit is made from: rated watts, outputs, amperes of each, its terminals' size, least load
/// in percent, price in cents.
type Sheet = (u32, usize, f64, usize, u32, u32);

const SIZES: [f64; 3] = [1.5, 2.5, 4.0];

fn unit((watts, outputs, amperes, terminal, least, cents): Sheet) -> Unit {
    let project = invented::project(&[]);
    let mut item: Driver = (*project.catalogue.drivers[3]).clone();
    item.output.power = Power::new::<watt>(f64::from(watts));
    item.output.channels = outputs;
    item.output.current_per_channel = Some(Current::new::<ampere>(amperes));
    item.largest_terminal = Some(square_millimetres(SIZES[terminal]));
    item.least_load = Some(Ratio::new::<percent>(f64::from(least)));
    Unit {
        pieces: 1,
        loadable: item.output.power * 0.85,
        current: item.output.current_per_channel,
        item: Arc::new(item),
        sharing: Sharing::Single,
        outputs,
        cost: Some(Decimal::new(i64::from(cents), 2)),
        region: project.region,
    }
}

/// Whole watts at 24 V, over cable of a size.
fn demand((watts, size): (u32, usize)) -> Demand {
    let project = invented::project(&[]);
    let mut cable = (*project.catalogue.cables[0]).clone();
    cable.size = square_millimetres(SIZES[size]);
    Demand {
        power: Power::new::<watt>(f64::from(watts)),
        current: Current::new::<ampere>(f64::from(watts) / 24.0),
        channels: vec![Current::new::<ampere>(f64::from(watts) / 24.0)],
        cable: Arc::new(cable),
        ampacity: None,
        longest_feed: feedpoint::quantity::Length::default(),
    }
}

fn sheets() -> impl Strategy<Value = Vec<Sheet>> {
    let sheet = (
        40_u32..260,
        1..4_usize,
        (20_u32..90).prop_map(|tenths| f64::from(tenths) / 10.0),
        0..3_usize,
        0_u32..30,
        2000_u32..15000,
    );
    prop::collection::vec(sheet, 1..5)
}

fn demands() -> impl Strategy<Value = Vec<(u32, usize)>> {
    prop::collection::vec((5_u32..120, 0..3_usize), 1..6)
}

/// Whether a unit can carry some demands, each of its outputs within its current.
fn carries(unit: &Unit, held: &[&Demand]) -> bool {
    let power: Power = held.iter().map(|demand| demand.power).sum();
    let taken = held.iter().all(|demand| takes(unit, demand));
    taken
        && power <= unit.loadable * (1.0 + 1e-9)
        && divides(unit, held, &mut vec![0.0; unit.outputs])
}

fn divides(unit: &Unit, held: &[&Demand], outputs: &mut Vec<f64>) -> bool {
    let Some((first, rest)) = held.split_first() else {
        return true;
    };
    let most = unit.current.expect("a limit").get::<ampere>();
    (0..outputs.len()).any(|output| {
        outputs[output] += first.current.get::<ampere>();
        let fits = outputs[output] <= most * (1.0 + 1e-9) && divides(unit, rest, outputs);
        outputs[output] -= first.current.get::<ampere>();
        fits
    })
}

fn idle(unit: &Unit, held: &[&Demand]) -> bool {
    let load: Power = held.iter().map(|demand| demand.power).sum();
    load < unit.item.output.power * unit.item.least_load.expect("a least load")
}

/// Fewest drivers below their least load, then least cost, over every assignment; `None` when there
/// is none.
fn cheapest(
    units: &[Unit],
    demands: &[Demand],
    blocks: &mut Vec<Vec<usize>>,
    next: usize,
) -> Option<(usize, Decimal)> {
    if next == demands.len() {
        let mut sum = (0, Decimal::ZERO);
        for block in blocks.iter() {
            let held: Vec<&Demand> = block.iter().map(|demand| &demands[*demand]).collect();
            let able = units.iter().filter(|unit| carries(unit, &held));
            let best = able
                .map(|unit| (usize::from(idle(unit, &held)), unit.cost.expect("priced")))
                .min()?;
            sum = (sum.0 + best.0, sum.1 + best.1);
        }
        return Some(sum);
    }
    let mut best: Option<(usize, Decimal)> = None;
    for block in 0..=blocks.len() {
        if block == blocks.len() {
            blocks.push(Vec::new());
        }
        blocks[block].push(next);
        let found = cheapest(units, demands, blocks, next + 1);
        best = best.into_iter().chain(found).min();
        blocks[block].pop();
        if blocks[block].is_empty() {
            blocks.pop();
        }
    }
    best
}

/// What was packed, held against the same limits: drivers below their least load, and cost.
fn found(units: &[Unit], demands: &[Demand], packed: &Packed) -> (usize, Decimal) {
    let mut sum = (0, Decimal::ZERO);
    let mut placed: Vec<usize> = Vec::new();
    for driver in &packed.drivers {
        let unit = &units[driver.unit];
        assert!(driver.outputs.len() <= unit.outputs);
        let all: Vec<usize> = driver.outputs.iter().flatten().copied().collect();
        let held: Vec<&Demand> = all.iter().map(|demand| &demands[*demand]).collect();
        assert!(carries(unit, &held), "an overloaded driver");
        for output in &driver.outputs {
            let current: Current = output.iter().map(|demand| demands[*demand].current).sum();
            assert!(current <= unit.current.expect("a limit") * (1.0 + 1e-9));
        }
        sum = (
            sum.0 + usize::from(idle(unit, &held)),
            sum.1 + unit.cost.expect("priced"),
        );
        placed.extend(all);
    }
    placed.sort_unstable();
    assert_eq!(placed, (0..demands.len()).collect::<Vec<_>>());
    sum
}

/// 62 W and 46 W at 24 V take 4.5 A to the last digit, though neither current is a short decimal:
/// they go on one output of 4.5 A. (Currents were once counted in milliamperes, each rounded up.)
#[test]
fn currents_that_add_up_to_the_limit_share_an_output() {
    let units = [unit((128, 1, 4.5, 2, 0, 2000))];
    let demands = [(62, 0), (62, 0), (46, 0)].map(demand);
    let packed = pack(&units, &demands);
    assert_eq!(found(&units, &demands, &packed), (0, Decimal::from(40)));
    assert!(packed.optimal);
}

proptest! {
    #![proptest_config(cases(400))]
    #[test]
    fn no_assignment_is_cheaper((sheets, wanted) in (sheets(), demands())) {
        let units: Vec<Unit> = sheets.into_iter().map(unit).collect();
        let demands: Vec<Demand> = wanted.into_iter().map(demand).collect();
        if let Some(best) = cheapest(&units, &demands, &mut Vec::new(), 0) {
            let packed = pack(&units, &demands);
            prop_assert_eq!(found(&units, &demands, &packed), best);
            prop_assert_eq!(packed.cost, Some(best.1));
            prop_assert!(packed.optimal, "not proved: {:?}", packed.bound);
        }
    }
}

proptest! {
    #![proptest_config(cases(60))]
    #[test]
    fn many_demands_all_get_a_driver(
        sheets in sheets(),
        wanted in prop::collection::vec((5_u32..120, 0..3_usize), 11..30),
    ) {
        let units: Vec<Unit> = sheets.into_iter().map(unit).collect();
        let all = wanted.into_iter().map(demand);
        let able = |demand: &Demand| units.iter().any(|unit| carries(unit, &[demand]));
        let demands: Vec<Demand> = all.filter(able).collect();
        let packed = pack(&units, &demands);
        let (_, cost) = found(&units, &demands, &packed);
        prop_assert_eq!(packed.cost, Some(cost));
        prop_assert!(packed.bound <= packed.cost);
    }
}

/// Cables of three sizes, so that which demands go together decides which terminals they need.
#[test]
fn mixed_cables_are_packed_as_cheaply_as_every_assignment_tells() {
    let units: Vec<Unit> = [
        (100, 1, 9.0, 0, 0, 5000),
        (200, 1, 9.0, 1, 0, 8000),
        (300, 1, 9.0, 2, 0, 14000),
    ]
    .into_iter()
    .map(unit)
    .collect();
    let demands: Vec<Demand> = [(80, 0), (80, 1), (80, 2), (80, 0), (80, 1), (20, 2)]
        .into_iter()
        .map(demand)
        .collect();
    let packed = pack(&units, &demands);
    let best = cheapest(&units, &demands, &mut Vec::new(), 0).expect("an assignment");
    assert_eq!(found(&units, &demands, &packed), best);
}
