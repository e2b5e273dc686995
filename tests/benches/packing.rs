//! How long drivers take to choose: every instance of `oracle/driver_packing.json` against a
//! general-purpose integer programming solver in the same run, and growth to 2,000 outputs.
//!
//! Run with `cargo bench --bench packing`.

use divan::{Bencher, black_box};
use feedpoint::choose::packing::{Load, Packing, Unit, pack};
use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Problem, SolutionStatus, Variable};
use serde_json::Value;
use std::time::{Duration, Instant};

fn main() {
    compare();
    for outputs in SIZES {
        let packing = packed(outputs);
        let gap = 1.0 - packing.bound_minor as f64 / packing.price_minor as f64;
        println!(
            "{outputs} outputs: {} drivers, {}, gap at most {:.3} %",
            packing.drivers.len(),
            if packing.optimal {
                "proved"
            } else {
                "not proved"
            },
            100.0 * gap
        );
    }
    divan::main();
}

/// The solver is stopped after this; what it has not proved by then counts as that long.
const LIMIT: Duration = Duration::from_secs(2);

/// Each instance in turn: ours must not be slower, nor dearer.
fn compare() {
    let file: Value =
        serde_json::from_str(include_str!("../oracle/driver_packing.json")).expect("JSON");
    let cases = file["cases"].as_array().expect("cases").iter();
    let mut slower = Vec::new();
    println!("instance     outputs   ours, ms   solver, ms");
    for case in cases.filter(|case| case["kind"] != "split") {
        let (units, loads) = instance(case);
        let started = Instant::now();
        let ours = pack(&units, &loads).expect("a packing");
        let our_time = started.elapsed();
        let started = Instant::now();
        let theirs = by_solver(&units, &loads);
        let their_time = started.elapsed();
        let id = case["id"].as_str().expect("an id");
        if let Some(price) = theirs {
            assert_eq!(ours.price_minor, price, "{id}: the two disagree");
        }
        let unproved = if theirs.is_none() {
            ", stopped unproved"
        } else {
            ""
        };
        println!(
            "{id:<12} {:>7} {:>10.2} {:>12.2}{unproved}",
            loads.len(),
            1e3 * our_time.as_secs_f64(),
            1e3 * their_time.as_secs_f64(),
        );
        if our_time > their_time {
            slower.push(id.to_owned());
        }
    }
    println!("slower than the solver on: {slower:?}");
}

fn number(value: &Value) -> u64 {
    value.as_u64().expect("a whole number")
}

fn count(value: &Value) -> usize {
    usize::try_from(number(value)).expect("a count")
}

fn instance(case: &Value) -> (Vec<Unit>, Vec<Load>) {
    let drivers = case["drivers"].as_array().expect("drivers").iter();
    let units = drivers.map(|driver| Unit {
        usable: number(&driver["rated_dw"]) * number(&driver["usable_percent"]) / 100,
        outputs: driver["outputs"]
            .as_u64()
            .map(|n| usize::try_from(n).expect("a count")),
        price_minor: number(&driver["price_cents"]),
    });
    let runs = case["runs"].as_array().expect("runs").iter();
    let loads = runs.flat_map(|run| {
        let load = Load {
            power: number(&run["load_dw"]),
            outputs: count(&run["channels"]),
        };
        vec![load; count(&run["count"])]
    });
    (units.collect(), loads.collect())
}

/// What units of one kind cost that hold the loads, each, largest first, on the first with room; the
/// cheapest kind, or a unit for each load.
fn first_fit(units: &[Unit], loads: &[Load]) -> u64 {
    let mut largest_first: Vec<&Load> = loads.iter().collect();
    largest_first.sort_by_key(|load| std::cmp::Reverse(load.power));
    let of = |unit: &Unit| {
        let mut copies: Vec<(u64, usize)> = Vec::new();
        for load in &largest_first {
            let outputs = unit.outputs.unwrap_or(usize::MAX);
            if load.power > unit.usable || load.outputs > outputs {
                return None;
            }
            let fits = |(power, taken): &(u64, usize)| {
                power + load.power <= unit.usable && taken + load.outputs <= outputs
            };
            match copies.iter().position(fits) {
                Some(at) => {
                    copies[at].0 += load.power;
                    copies[at].1 += load.outputs;
                }
                None => copies.push((load.power, load.outputs)),
            }
        }
        Some(unit.price_minor * copies.len() as u64)
    };
    let alone = loads.iter().map(|load| {
        let fits = |unit: &&Unit| {
            load.power <= unit.usable && unit.outputs.is_none_or(|most| load.outputs <= most)
        };
        let prices = units.iter().filter(fits).map(|unit| unit.price_minor);
        prices.min().expect("every load fits a unit")
    });
    let alone: u64 = alone.sum();
    units.iter().filter_map(of).fold(alone, u64::min)
}

/// The price proved least by assigning loads to copies of the units, no more copies of each than
/// a first fit costs; `None` when that is not proved within the limit.
fn by_solver(units: &[Unit], loads: &[Load]) -> Option<u64> {
    let most = first_fit(units, loads);
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut on: Vec<Vec<Variable>> = vec![Vec::new(); loads.len()];
    for unit in units {
        let affordable = usize::try_from(most / unit.price_minor).expect("a count");
        let mut before: Option<Variable> = None;
        for _ in 0..affordable.min(loads.len()) {
            let bought = problem.add_binary_var(unit.price_minor as f64);
            let mut power = LinearExpr::empty();
            let mut outputs = LinearExpr::empty();
            for (load, on) in loads.iter().zip(&mut on) {
                let here = problem.add_binary_var(0.0);
                power.add(here, load.power as f64);
                outputs.add(here, load.outputs as f64);
                on.push(here);
            }
            power.add(bought, -(unit.usable as f64));
            problem.add_constraint(power, ComparisonOp::Le, 0.0);
            if let Some(most) = unit.outputs {
                outputs.add(bought, -(most as f64));
                problem.add_constraint(outputs, ComparisonOp::Le, 0.0);
            }
            if let Some(before) = before.replace(bought) {
                problem.add_constraint([(before, 1.0), (bought, -1.0)], ComparisonOp::Ge, 0.0);
            }
        }
    }
    for variables in on {
        let once: Vec<(Variable, f64)> = variables.into_iter().map(|here| (here, 1.0)).collect();
        problem.add_constraint(once, ComparisonOp::Eq, 1.0);
    }
    problem.set_time_limit(LIMIT);
    let solution = problem.solve().ok()?.into_solution().ok()?;
    let proved = solution.status() == SolutionStatus::Optimal;
    proved.then(|| solution.objective().round() as u64)
}

const SIZES: [usize; 6] = [20, 60, 200, 600, 1200, 2000];

/// Outputs of 10 W to 120 W in steps of 0.7 W, on four ratings at 85 %.
fn packed(outputs: usize) -> Packing {
    let units =
        [(60, 4150), (96, 5500), (200, 8600), (320, 13900)].map(|(watts, price_minor)| Unit {
            usable: watts * 85 / 10,
            outputs: None,
            price_minor,
        });
    let mut state = 20_261_125_u64;
    let loads: Vec<Load> = (0..outputs)
        .map(|_| {
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            Load {
                power: 100 + 7 * ((state >> 33) % 158),
                outputs: 1,
            }
        })
        .collect();
    pack(black_box(&units), black_box(&loads)).expect("every load fits the largest")
}

#[divan::bench(args = SIZES, sample_count = 2, sample_size = 1)]
fn outputs(bencher: Bencher, outputs: usize) {
    bencher.bench_local(|| packed(outputs));
}
