//! Rooms packed whole onto control loops, against answers of an independent solver: column
//! generation with an integer master (HiGHS) and a constraint solver, in
//! `tests/oracle/loop_allocation.json`, whose `how` defines the problem.

use feedpoint::allocate::packing::{Bin, Effort, Item, Packing, pack};
use serde_json::Value;

fn cases() -> Vec<Value> {
    let text = include_str!("oracle/loop_allocation.json");
    let all: Value = serde_json::from_str(text).unwrap();
    all["cases"].as_array().unwrap().clone()
}

fn items(case: &Value) -> Vec<Item> {
    let size = |room: &Value, key: &str| u128::from(room[key].as_u64().unwrap());
    // The cases count no groups.
    let room = |room: &Value| Item {
        sizes: [
            size(room, "gear"),
            size(room, "control"),
            size(room, "draw_ua"),
            0,
        ],
        count: 1,
    };
    case["rooms"].as_array().unwrap().iter().map(room).collect()
}

fn bins(case: &Value) -> Vec<Bin> {
    let counts = ["gear_cap", "control_cap"].map(|key| u128::from(case[key].as_u64().unwrap()));
    let bin = |budget: &Value, cost: u64| Bin {
        capacity: [
            counts[0],
            counts[1],
            u128::from(budget.as_u64().unwrap()),
            0,
        ],
        cost,
    };
    if case["kind"] == "fixed" {
        vec![bin(&case["budget_ua"], 1)]
    } else {
        let supplies = case["supplies"].as_array().unwrap();
        let of = |s: &Value| bin(&s["budget_ua"], s["price_cents"].as_u64().unwrap());
        supplies.iter().map(of).collect()
    }
}

/// Every item packed once, no bin over its capacity, the cost as stated.
fn check(packing: &Packing, items: &[Item], bins: &[Bin]) {
    let mut packed = vec![0; items.len()];
    let mut cost = 0;
    for filled in &packing.bins {
        let mut used = [0; 3];
        for ((count, item), sum) in filled.counts.iter().zip(items).zip(&mut packed) {
            *sum += count;
            for (used, size) in used.iter_mut().zip(item.sizes) {
                *used += size * u128::try_from(*count).unwrap();
            }
        }
        let bin = &bins[filled.bin];
        assert!(
            used.iter()
                .zip(bin.capacity)
                .all(|(used, room)| *used <= room)
        );
        cost += bin.cost;
    }
    assert!(packed.iter().zip(items).all(|(n, item)| *n == item.count));
    assert_eq!(cost, packing.cost);
}

#[test]
fn every_case_costs_what_the_reference_found() {
    let cases = cases();
    assert_eq!(cases.len(), 30);
    let mut wrong = Vec::new();
    for case in &cases {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        let (items, bins) = (items(case), bins(case));
        let Some(packing) = pack(&items, &bins, Effort::default()) else {
            assert_eq!(expected["feasible"], false, "{id}: found no packing");
            continue;
        };
        check(&packing, &items, &bins);
        let best = if case["kind"] == "fixed" {
            "min_loops"
        } else {
            "min_price_cents"
        };
        let best = expected[best].as_u64().unwrap();
        let least = expected["lower_bound"].as_u64().unwrap();
        let known = expected["proven"] == true;
        let good = packing.bound <= best
            && if known {
                packing.cost == best
            } else {
                (least..=best).contains(&packing.cost)
            };
        if !good || (known && !packing.proved()) {
            wrong.push(format!(
                "{id}: cost {} bound {}, expected {best} (bound {least})",
                packing.cost, packing.bound
            ));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn an_item_that_fits_no_bin_has_no_packing() {
    let item = Item {
        sizes: [65, 0, 0, 0],
        count: 1,
    };
    let bin = Bin {
        capacity: [64, 64, 250_000, 0],
        cost: 1,
    };
    assert_eq!(pack(&[item], &[bin], Effort::default()), None);
}
