//! How far packing is proved on loads that all differ, and what gap is left beyond (slow:
//! `cargo test packing_proof -- --ignored --nocapture`).

use crate::made::draw::Draw;
use feedpoint::choose::packing::{Load, Packing, Unit, pack};

/// Loads of 4 W to 120 W on three to five ratings at 85 %, with or without a limit of outputs, and
/// prices that rise with the rating by no plain rule. With a limit, a third of the loads take two
/// outputs; the others, and all without one, take one.
fn job(seed: u64, size: Size, outputs: Option<usize>) -> Packing {
    let mut draw = Draw(seed);
    let ratings = [600, 960, 1500, 2000, 3200];
    let units: Vec<Unit> = ratings
        .into_iter()
        .take(3 + usize::try_from(draw.below(3)).expect("small"))
        .map(|rating| Unit {
            usable: rating * 85 / 100,
            outputs,
            price_minor: 1800 + rating * 4 + draw.below(1500),
        })
        .collect();
    let largest = units.last().expect("units").usable;
    let mut loads: Vec<Load> = Vec::new();
    let full = |loads: &[Load]| match size {
        Size::Loads(most) => loads.len() == most,
        Size::Outputs(most) => loads.iter().map(|load| load.outputs).sum::<usize>() >= most,
    };
    while !full(&loads) {
        loads.push(Load {
            power: (40 + draw.below(1160)).min(largest),
            outputs: 1 + usize::from(outputs.is_some() && draw.below(3) == 0),
        });
    }
    pack(&units, &loads).expect("every load fits the largest")
}

/// How large a job is.
#[derive(Debug, Clone, Copy)]
enum Size {
    Loads(usize),
    /// So many outputs, or one more.
    Outputs(usize),
}

fn gap(packing: &Packing) -> f64 {
    1.0 - packing.bound_minor as f64 / packing.price_minor as f64
}

#[test]
fn twenty_outputs_are_proved() {
    for outputs in [None, Some(4), Some(2)] {
        for seed in 0..12 {
            let packing = job(seed, Size::Loads(20), outputs);
            assert!(packing.optimal, "outputs {outputs:?}, seed {seed}");
            assert_eq!(packing.bound_minor, packing.price_minor);
        }
    }
}

/// Loads of one and of two outputs on units of two: at most two loads a unit, which are matched.
#[test]
fn two_loads_a_unit_are_proved_however_many() {
    for count in [40, 60, 100, 200] {
        for seed in 0..6 {
            let packing = job(seed, Size::Loads(count), Some(2));
            assert!(packing.optimal, "{count}, seed {seed}");
        }
    }
}

#[test]
#[ignore = "slow"]
fn sixty_outputs_are_proved() {
    let mut open = Vec::new();
    let jobs = [
        (Size::Loads(40), None, 6),
        (Size::Loads(60), None, 6),
        (Size::Loads(40), Some(4), 6),
        (Size::Loads(60), Some(4), 6),
        (Size::Outputs(60), Some(3), 12),
    ];
    for (size, outputs, seeds) in jobs {
        for seed in 0..seeds {
            let packing = job(seed, size, outputs);
            if !packing.optimal {
                let gap = 100.0 * gap(&packing);
                open.push(format!("{size:?}, {outputs:?}, seed {seed}: {gap:.3} %"));
            }
        }
    }
    assert!(open.is_empty(), "not proved:\n{}", open.join("\n"));
}

/// Sixty outputs on units of four that have to be filled to the last output: one such job in twelve
/// is left with a gap.
#[test]
#[ignore = "slow"]
fn units_of_four_filled_to_the_last_output_are_within_a_hundredth() {
    let gaps: Vec<f64> = (0..12)
        .map(|seed| 100.0 * gap(&job(seed, Size::Outputs(60), Some(4))))
        .collect();
    let proved = gaps.iter().filter(|gap| **gap == 0.0).count();
    let widest = gaps.iter().copied().fold(0.0, f64::max);
    println!("60 outputs on units of 4: {proved} of 12 proved, gap at most {widest:.2} %");
    assert!(proved >= 11 && widest <= 1.0, "{gaps:?}");
}

/// The purchase that is filled leaves 13 W or 16 W of 2.8 kW free, over fifteen units: each job was
/// left unproved before things were exchanged between containers.
#[test]
fn a_purchase_that_leaves_next_to_nothing_is_filled() {
    for seed in [6, 7] {
        let packing = job(seed, Size::Outputs(60), Some(4));
        assert!(
            packing.optimal,
            "seed {seed}: {:.3} %",
            100.0 * gap(&packing)
        );
    }
}

/// Loads of one and of two outputs that all differ, on units of three: hardest to prove.
#[test]
#[ignore = "slow"]
fn what_is_not_proved_is_within_a_hundredth() {
    let mut wide = Vec::new();
    for (count, outputs) in [(40, 3), (60, 3), (100, 3), (60, 4), (100, 4), (200, 4)] {
        let gaps: Vec<f64> = (0..4)
            .map(|seed| 100.0 * gap(&job(seed, Size::Loads(count), Some(outputs))))
            .collect();
        let proved = gaps.iter().filter(|gap| **gap == 0.0).count();
        let widest = gaps.iter().copied().fold(0.0, f64::max);
        println!(
            "{count} loads, {outputs} outputs: {proved} of 4 proved, gap at most {widest:.2} %"
        );
        if widest > 1.0 {
            wide.push(format!("{count} loads, {outputs} outputs: {widest:.2} %"));
        }
    }
    assert!(wide.is_empty(), "too wide:\n{}", wide.join("\n"));
}
