//! Cutting against an independent solver: see `how` and `tools` in `oracle/cutting.json`.

use feedpoint::choose::cutting::{Piece, Plan, Stock, cut};
use serde_json::Value;

fn number(value: &Value) -> u64 {
    value.as_u64().expect("a whole number")
}

fn count(value: &Value) -> usize {
    usize::try_from(number(value)).expect("a count")
}

/// The case in whole units: millimetres, or increments of a strip.
fn problem(case: &Value) -> (Vec<Stock>, Vec<Piece>, u64) {
    let strip = case["kind"] == "strip";
    let increment = if strip {
        number(&case["increment_um"])
    } else {
        1
    };
    let key = if strip { "length_um" } else { "length_mm" };
    let stocks = case["stock"].as_array().expect("stock").iter();
    let stocks = stocks.map(|stock| Stock {
        length: number(&stock[key]) / increment,
        price_minor: number(&stock["price_cents"]),
        available: stock["available"]
            .as_u64()
            .map(|n| usize::try_from(n).expect("a count")),
    });
    let up = case["rounding"] == "up";
    let pieces = case["pieces"].as_array().expect("pieces").iter();
    let pieces = pieces.map(|piece| {
        let length = number(&piece[key]);
        Piece {
            length: if up {
                length.div_ceil(increment)
            } else {
                length / increment
            },
            count: count(&piece["count"]),
        }
    });
    (
        stocks.collect(),
        pieces.collect(),
        case["kerf_mm"].as_u64().unwrap_or(0),
    )
}

/// What is wrong with a plan in itself.
fn fault(stocks: &[Stock], pieces: &[Piece], kerf: u64, plan: &Plan) -> Option<&'static str> {
    let mut made = vec![0; pieces.len()];
    let mut used = vec![0; stocks.len()];
    let mut price = 0;
    for bar in &plan.bars {
        let lengths: u64 = bar.pieces.iter().map(|piece| pieces[*piece].length).sum();
        let cuts = u64::try_from(bar.pieces.len())
            .expect("a count")
            .saturating_sub(1);
        if lengths + kerf * cuts > stocks[bar.stock].length {
            return Some("pieces longer than their stock");
        }
        bar.pieces.iter().for_each(|piece| made[*piece] += 1);
        used[bar.stock] += 1;
        price += stocks[bar.stock].price_minor;
    }
    if pieces
        .iter()
        .zip(&made)
        .any(|(piece, made)| piece.count != *made)
    {
        return Some("pieces missing or too many");
    }
    if stocks
        .iter()
        .zip(&used)
        .any(|(stock, used)| stock.available.is_some_and(|a| *used > a))
    {
        return Some("more stock than there is");
    }
    (price != plan.price_minor).then_some("price is not the sum")
}

#[test]
fn agrees_with_every_case() {
    let file: Value = serde_json::from_str(include_str!("oracle/cutting.json")).expect("JSON");
    let cases = file["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 34);
    let mut wrong = Vec::new();
    let mut proved = 0;
    for case in cases {
        let id = &case["id"];
        let expected = &case["expected"];
        let (stocks, pieces, kerf) = problem(case);
        let answer = cut(&stocks, &pieces, kerf);
        let Some(plan) = answer else {
            if expected["feasible"] == true {
                wrong.push(format!("{id}: no plan found"));
            }
            continue;
        };
        if let Some(fault) = fault(&stocks, &pieces, kerf, &plan) {
            wrong.push(format!("{id}: {fault}"));
        }
        let found = (plan.price_minor, plan.bars.len());
        let wanted = (
            number(&expected["min_price_cents"]),
            count(&expected["stock_pieces"]),
        );
        if expected["feasible"] != true || expected["proven"] != true || found != wanted {
            wrong.push(format!("{id}: found {found:?}, expected {wanted:?}"));
        }
        if plan.bound_minor > wanted.0 || (plan.optimal && found != wanted) {
            wrong.push(format!("{id}: a bound of {} is false", plan.bound_minor));
        }
        proved += usize::from(plan.optimal);
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(proved >= 32, "proved only {proved} of 33");
}
