//! Drivers onto final circuits, against answers of an independent solver in
//! `tests/oracle/mains_circuits.json`, whose `how` defines the problem. Residual-current devices
//! shared by several circuits are not laid out by this program: those cases compare circuits only.

use feedpoint::allocate::circuit::fill::{Load, Room, fewest};
use feedpoint::allocate::packing::Effort;
use serde_json::Value;
use std::collections::BTreeMap;

fn number(case: &Value, key: &str) -> u128 {
    u128::from(case[key].as_u64().unwrap())
}

/// Loads by place; all in one place when any mix is allowed.
fn loads(case: &Value) -> BTreeMap<String, Vec<Load>> {
    let scale = case["inrush_scale_percent"].as_u64().unwrap();
    let mut places: BTreeMap<String, Vec<Load>> = BTreeMap::new();
    for driver in case["drivers"].as_array().unwrap() {
        let place = if case["grouping"] == "free" {
            "all"
        } else {
            driver["place"].as_str().unwrap()
        };
        places.entry(place.to_owned()).or_default().push(Load {
            current: number(driver, "current_ma") * 1_000_000,
            most_alone: Some(driver["max_per_b16"].as_u64().unwrap() * scale / 60),
            leakage: number(driver, "leakage_ua") * 1_000_000,
            count: usize::try_from(number(driver, "count")).unwrap(),
        });
    }
    places
}

#[test]
fn every_case_needs_the_circuits_the_reference_found() {
    let text = include_str!("oracle/mains_circuits.json");
    let all: Value = serde_json::from_str(text).unwrap();
    let cases = all["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 16);
    let mut wrong = Vec::new();
    for case in cases {
        let (id, expected) = (case["id"].as_str().unwrap(), &case["expected"]);
        assert_eq!(expected["feasible"], true, "{id}: no case is infeasible");
        let per_circuit = case["rcd"] == "per_circuit";
        let room = Room {
            current: number(case, "rated_a") * number(case, "load_percent") * 10_000_000,
            leakage: per_circuit.then(|| number(case, "leakage_limit_ua") * 1_000_000),
        };
        let mut sum = 0;
        for (place, loads) in loads(case) {
            let packing = fewest(&loads, &room, Effort::default()).unwrap();
            sum += packing.cost;
            let want = expected["circuits_by_place"][&place].as_u64().unwrap();
            if packing.cost != want || !packing.proved() {
                wrong.push(format!(
                    "{id} {place}: {} circuits, expected {want}",
                    packing.cost
                ));
            }
        }
        if sum != expected["min_circuits"].as_u64().unwrap() {
            wrong.push(format!("{id}: {sum} circuits in all"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
