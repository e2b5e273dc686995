//! How long one strip takes: growth with its segments, by kind of string, and against a
//! general-purpose sparse solver in the same run.
//!
//! Run with `cargo bench --bench ladder`.

use divan::{Bencher, black_box};
use feedpoint::quantity::resistance_per_length::ohms_per_metre;
use feedpoint::quantity::{Length, PowerPerLength, Resistance, Voltage};
use feedpoint::solve::strip::{Ladder, LadderChannel, LadderFeed, Lit, StringLaw, solve};
use nalgebra_sparse::factorization::CscCholesky;
use nalgebra_sparse::{CooMatrix, CscMatrix};
use uom::si::electric_potential::volt;
use uom::si::electrical_resistance::ohm;
use uom::si::length::meter;
use uom::si::linear_power_density::watt_per_meter;

fn main() {
    let off = difference(&resistor(400));
    assert!(off < 1e-6, "the two solvers differ by {off} V");
    divan::main();
}

const RAIL: f64 = 0.05;
const CORE: f64 = 0.06;
const SEGMENT: f64 = 0.025;
const WATTS: f64 = 7.2;
const STARTS: f64 = 17.0;

/// A strip of two channels with five feeds.
fn strip(segments: usize, law: StringLaw) -> Ladder {
    let core = Resistance::new::<ohm>(CORE);
    let channel = LadderChannel {
        return_rail: ohms_per_metre(RAIL),
        power: PowerPerLength::new::<watt_per_meter>(WATTS),
        flux: None,
        law,
    };
    Ladder {
        supply: Voltage::new::<volt>(24.0),
        nominal: Voltage::new::<volt>(24.0),
        segment: Length::new::<meter>(SEGMENT),
        segments,
        plus_rail: ohms_per_metre(RAIL),
        channels: vec![channel; 2],
        feeds: (0..5)
            .map(|n| LadderFeed {
                cut: n * segments / 4,
                plus: core,
                returns: vec![core; 2],
            })
            .collect(),
    }
}

fn resistor(segments: usize) -> Ladder {
    let starts_at = Voltage::new::<volt>(STARTS);
    strip(segments, StringLaw::Resistor { starts_at })
}

fn regulated(segments: usize) -> Ladder {
    let law = StringLaw::Regulated {
        starts_at: Voltage::new::<volt>(STARTS),
        regulated_from: Voltage::new::<volt>(22.5),
    };
    strip(segments, law)
}

fn every_state(bencher: Bencher, ladder: &Ladder) {
    bencher.bench_local(|| {
        for lit in Lit::states(2) {
            black_box(solve(black_box(ladder), *lit));
        }
    });
}

#[divan::bench(args = [100, 400, 1600, 6400])]
fn resistor_three_states(bencher: Bencher, segments: usize) {
    every_state(bencher, &resistor(segments));
}

#[divan::bench(args = [100, 400, 1600, 6400])]
fn regulated_three_states(bencher: Bencher, segments: usize) {
    every_state(bencher, &regulated(segments));
}

#[divan::bench(args = [100, 400, 1600])]
fn converter_three_states(bencher: Bencher, segments: usize) {
    every_state(bencher, &strip(segments, StringLaw::Converter));
}

/// Both channels on, as the sparse solver below.
#[divan::bench(args = [100, 400, 1600])]
fn resistor_both_on(bencher: Bencher, segments: usize) {
    let ladder = resistor(segments);
    bencher.bench_local(|| black_box(solve(black_box(&ladder), Lit::Both)));
}

/// The same strip, every string above v₀, as one symmetric sparse system: assembled, factored by
/// Cholesky and solved.
#[divan::bench(args = [100, 400, 1600])]
fn resistor_both_on_by_sparse_cholesky(bencher: Bencher, segments: usize) {
    bencher.bench_local(|| black_box(by_cholesky(black_box(segments))));
}

/// Volts across each segment's strings (both channels are alike).
fn by_cholesky(segments: usize) -> Vec<f64> {
    let feeds: Vec<usize> = (0..5).map(|n| 2 * (n * segments / 4)).collect();
    let mut places: Vec<usize> = (0..segments)
        .map(|n| 2 * n + 1)
        .chain(feeds.clone())
        .collect();
    places.sort_unstable();
    let count = places.len() * 3;
    let slope = WATTS * SEGMENT / 24.0 / (24.0 - STARTS);
    let mut matrix = CooMatrix::new(count, count);
    let mut right = nalgebra_sparse::na::DMatrix::zeros(count, 1);
    for (index, two) in places.windows(2).enumerate() {
        let conductance = 2.0 / (RAIL * SEGMENT * (two[1] - two[0]) as f64);
        for rail in 0..3 {
            join(
                &mut matrix,
                3 * index + rail,
                3 * index + 3 + rail,
                conductance,
            );
        }
    }
    for (index, place) in places.iter().enumerate() {
        let plus = 3 * index;
        if place % 2 == 0 {
            for rail in 0..3 {
                matrix.push(plus + rail, plus + rail, 1.0 / CORE);
            }
            right[(plus, 0)] += 24.0 / CORE;
            continue;
        }
        for rail in 1..3 {
            join(&mut matrix, plus, plus + rail, slope);
            right[(plus, 0)] += slope * STARTS;
            right[(plus + rail, 0)] -= slope * STARTS;
        }
    }
    let factors = CscCholesky::factor(&CscMatrix::from(&matrix)).expect("positive definite");
    let solved = factors.solve(&right);
    let loads = places
        .iter()
        .enumerate()
        .filter(|(_, place)| *place % 2 == 1);
    loads
        .map(|(index, _)| solved[(3 * index, 0)] - solved[(3 * index + 1, 0)])
        .collect()
}

fn join(matrix: &mut CooMatrix<f64>, a: usize, b: usize, conductance: f64) {
    matrix.push(a, a, conductance);
    matrix.push(b, b, conductance);
    matrix.push(a, b, -conductance);
    matrix.push(b, a, -conductance);
}

/// The most by which the two solvers differ.
fn difference(ladder: &Ladder) -> f64 {
    let ours = solve(ladder, Lit::Both).expect("resistor strips always work");
    let theirs = by_cholesky(ladder.segments);
    let pairs = ours.channels[0].volts.iter().zip(&theirs);
    pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}
