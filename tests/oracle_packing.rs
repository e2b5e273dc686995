//! Driver packing against an independent solver: see `how` and `tools` in
//! `oracle/driver_packing.json`.

mod cut_chains;

use cut_chains::{Chain, split};
use feedpoint::choose::packing::{Load, Unit, pack};
use serde_json::Value;

fn number(value: &Value) -> u64 {
    value.as_u64().expect("a whole number")
}

fn count(value: &Value) -> usize {
    usize::try_from(number(value)).expect("a count")
}

fn units(case: &Value) -> Vec<Unit> {
    let drivers = case["drivers"].as_array().expect("drivers").iter();
    drivers
        .map(|driver| Unit {
            usable: number(&driver["rated_dw"]) * number(&driver["usable_percent"]) / 100,
            outputs: driver["outputs"]
                .as_u64()
                .map(|n| usize::try_from(n).expect("a count")),
            price_minor: number(&driver["price_cents"]),
        })
        .collect()
}

/// (price, bound, optimal) with the answer checked for being whole and within every driver.
type Answer = Result<Option<(u64, u64, bool)>, String>;

fn whole_runs(case: &Value) -> Answer {
    let units = units(case);
    let runs = case["runs"].as_array().expect("runs").iter();
    let loads: Vec<Load> = runs
        .flat_map(|run| {
            let load = Load {
                power: number(&run["load_dw"]),
                outputs: count(&run["channels"]),
            };
            vec![load; count(&run["count"])]
        })
        .collect();
    let Some(packing) = pack(&units, &loads) else {
        return Ok(None);
    };
    let on: Vec<(usize, Vec<usize>)> = packing
        .drivers
        .iter()
        .map(|driver| (driver.unit, driver.loads.clone()))
        .collect();
    check(&units, &loads, &on, packing.price_minor)?;
    Ok(Some((
        packing.price_minor,
        packing.bound_minor,
        packing.optimal,
    )))
}

fn split_runs(case: &Value) -> Answer {
    let units = units(case);
    let runs = case["runs"].as_array().expect("runs").iter();
    let chains: Vec<Chain> = runs
        .map(|run| Chain {
            parts: run["parts_dw"]
                .as_array()
                .expect("parts")
                .iter()
                .map(number)
                .collect(),
            outputs: count(&run["channels"]),
        })
        .collect();
    let cut_price = number(&case["split_price_cents"]);
    let Some(answer) = split(&units, &chains, cut_price) else {
        return Ok(None);
    };
    let loads: Vec<Load> = answer
        .pieces
        .iter()
        .map(|&(chain, from, to)| Load {
            power: chains[chain].parts[from..to].iter().sum(),
            outputs: chains[chain].outputs,
        })
        .collect();
    let parts: usize = answer.pieces.iter().map(|(_, from, to)| to - from).sum();
    let wanted: usize = chains.iter().map(|chain| chain.parts.len()).sum();
    if parts != wanted {
        return Err(format!("{parts} parts of {wanted}"));
    }
    let on: Vec<(usize, Vec<usize>)> = answer
        .packing
        .drivers
        .iter()
        .map(|driver| (driver.unit, driver.loads.clone()))
        .collect();
    check(&units, &loads, &on, answer.packing.price_minor)?;
    let cuts = u64::try_from(answer.pieces.len() - chains.len()).expect("a count");
    if answer.packing.price_minor + cuts * cut_price != answer.price_minor {
        return Err("price is not the sum".to_owned());
    }
    Ok(Some((
        answer.price_minor,
        answer.bound_minor,
        answer.optimal,
    )))
}

fn check(
    units: &[Unit],
    loads: &[Load],
    on: &[(usize, Vec<usize>)],
    price: u64,
) -> Result<(), String> {
    let mut placed: Vec<usize> = on
        .iter()
        .flat_map(|(_, loads)| loads.iter().copied())
        .collect();
    placed.sort_unstable();
    if placed != (0..loads.len()).collect::<Vec<_>>() {
        return Err("a load is missing or on two drivers".to_owned());
    }
    for (unit, held) in on {
        let power: u64 = held.iter().map(|load| loads[*load].power).sum();
        let outputs: usize = held.iter().map(|load| loads[*load].outputs).sum();
        if power > units[*unit].usable || units[*unit].outputs.is_some_and(|most| outputs > most) {
            return Err("a driver is overloaded".to_owned());
        }
    }
    let sum: u64 = on.iter().map(|(unit, _)| units[*unit].price_minor).sum();
    if sum == price {
        Ok(())
    } else {
        Err("price is not the sum".to_owned())
    }
}

#[test]
fn agrees_with_every_case() {
    let file: Value =
        serde_json::from_str(include_str!("oracle/driver_packing.json")).expect("JSON");
    let cases = file["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 32);
    let mut wrong = Vec::new();
    let mut proved = 0;
    for case in cases {
        let (id, expected) = (&case["id"], &case["expected"]);
        let answer = if case["kind"] == "split" {
            split_runs(case)
        } else {
            whole_runs(case)
        };
        let best = number(&expected["min_price_cents"]);
        match answer {
            Err(fault) => wrong.push(format!("{id}: {fault}")),
            Ok(None) => wrong.push(format!("{id}: no packing found")),
            Ok(Some((price, bound, optimal))) => {
                let proven = expected["proven"] == true;
                if price > best || price < number(&expected["lower_bound"]) {
                    wrong.push(format!(
                        "{id}: found {price}, expected {best} (proven: {proven})"
                    ));
                }
                if bound > best || (optimal && proven && price != best) {
                    wrong.push(format!(
                        "{id}: a bound of {bound} is false, {best} was found"
                    ));
                }
                proved += usize::from(optimal);
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(proved >= 30, "proved only {proved} of 32");
}
