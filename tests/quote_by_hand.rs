//! A small quotation followed line by line with a calculator.
//!
//! The method is that of any cost accounting textbook (from memory), not this program's: cost, plus
//! overhead on cost, plus contingency on that; selling price = loaded cost ÷ (1 − margin), or loaded
//! cost × (1 + markup); profit is the same share of price as margin and of cost as markup, so that
//! markup = margin ÷ (1 − margin): 22 % margin is 28.2 % markup. An all-units price break (one price
//! for the whole order, by its size) is taken where the larger order costs less than the smaller.
//! Tax by rate on the sum of its lines, rounded once: EN 16931-1, BR-CO-17 (from memory).

use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::Value;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

const CATALOGUE: &str = "
format: 1
catalogue: {title: By hand, currency: EUR, price_valid_until: 2026-12-31, supplier: counter}
strips:
  - {strip: plain, kind: single colour, voltage: 24 V, power: 4.8 W/m, flux: 400 lm/m, white: 3000 K,
     cut: 50 mm, light_source: resistor, light_starts_at: 16.8 V,
     rails: {common: 0.02 ohm/m, return: 0.02 ohm/m}, reels: [{length: 5 m, price: 40.00}], labour: 6 min}
drivers:
  - {driver: d60, output: {voltage: 24 V, power: 60 W, channels: 1, current_per_channel: 2.5 A},
     bus: {addresses: 1, current: 2 mA, colour: single}, terminals: {largest: 2.5 mm²},
     mains: {current: 0.30 A, most_per_b16: 28, earth_leakage: 0.4 mA}, ambient: {most: 50 °C},
     safety: [SELV], labour: 25 min, price: 41.50}
cables:
  - {cable: c2, use: strip feed, cores: 2, size: 1.5 mm², conductor: class 5, insulation: 70 °C, price: 1.12}
accessories:
  - {accessory: clip, per: metre, quantity: 4, pack: 1, price: [{from: 1, price: 1.00}, {from: 20, price: 0.50}]}
  - {accessory: cap, per: section, price: 1.90, labour: 2 min}
";

const PROJECT: &str = "
format: 1
project: {title: By hand, date: 2026-11-20}
region: iec
catalogues: [catalogue.yaml]
supply: {voltage: 230 V}
points:
  - {point: panel, kind: panel}
  - {point: cupboard, kind: cupboard, ambient: 25 °C}
  - {point: room, kind: room}
routes:
  - {from: panel, to: cupboard, length: 5 m}
  - {from: cupboard, to: room, length: 5 m}
runs:
  - {run: shelf, room: room, strip: plain, length: 3 m, cupboard: cupboard, to_start: 4.5 m, feed: start}
pricing: {labour_rate: 42.00, overhead: 8 %, contingency: 5 %, UPLIFT, discount: {driver: 12 %},
          tax: {name: VAT, rate: 20 %, labour: 10 %}}
";

fn dec(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

/// Half up to the cent, as by hand.
fn cents(amount: Decimal) -> Decimal {
    amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
}

fn quote(uplift: &str) -> Value {
    let folder: TempDir = tempfile::tempdir().expect("a folder");
    let write = |name: &str, text: &str| {
        std::fs::write(folder.path().join(name), text).expect("written");
    };
    write("catalogue.yaml", CATALOGUE);
    write("project.yaml", &PROJECT.replace("UPLIFT", uplift));
    json(folder.path())
}

fn json(folder: &Path) -> Value {
    let output = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(["quote", "project.yaml", "--format", "json", "--quiet"])
        .current_dir(folder)
        .output()
        .expect("the program runs");
    let error = String::from_utf8_lossy(&output.stderr);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{error}"))
}

/// Cost of each line by hand: item, quantity bought, its cost.
///
/// - plain: 3 m come out of one reel of 5 m: 40.00.
/// - d60: one, less the supplier's 12 %: 41.50 × 0.88 = 36.52.
/// - c2: 4.5 m, sold by the whole metre: 5 × 1.12 = 5.60.
/// - clip: four for each of 3 m are 12, which cost 12 × 1.00 = 12.00; 20 cost 20 × 0.50 = 10.00,
///   which is less, so 20 are bought.
/// - cap: one: 1.90.
const MATERIALS: [(&str, &str, &str); 5] = [
    ("plain", "1", "40.00"),
    ("d60", "1", "36.52"),
    ("c2", "5", "5.60"),
    ("cap", "1", "1.90"),
    ("clip", "20", "10.00"),
];

/// Hours and cost of work by hand, at 42.00 an hour: 3 m × 6 min = 18 min = 0.30 h = 12.60; one driver,
/// 25 min = 0.42 h (to the hundredth) = 17.64; one cap, 2 min = 0.03 h = 1.26.
const LABOUR: [(&str, &str, &str); 3] = [
    ("fit plain", "0.3", "12.60"),
    ("fit d60", "0.42", "17.64"),
    ("fit cap", "0.03", "1.26"),
];

/// Everything after cost, by hand: `factor` turns loaded cost into price.
fn follow(quote: &Value, sell: impl Fn(Decimal) -> Decimal) {
    let loaded = |cost: Decimal| cost * dec("1.08") * dec("1.05");
    let mut nets = [Decimal::ZERO; 2];
    for (item, bought, cost) in MATERIALS {
        let lines = quote["lines"].as_array().expect("lines");
        let line = lines.iter().find(|line| line["item"] == item).expect(item);
        assert_eq!(line["bought"], bought, "{item}");
        assert_eq!(line["cost"], cost, "{item}");
        let price = cents(sell(loaded(dec(cost))));
        assert_eq!(line["price"], price.to_string(), "{item}");
        nets[0] += price;
    }
    assert_eq!(
        quote["lines"].as_array().expect("lines").len(),
        MATERIALS.len()
    );
    for (work, hours, cost) in LABOUR {
        let lines = quote["labour"].as_array().expect("labour");
        let line = lines.iter().find(|line| line["work"] == work).expect(work);
        assert_eq!(line["hours"], hours, "{work}");
        assert_eq!(line["cost"], cost, "{work}");
        let price = cents(sell(loaded(dec(cost))));
        assert_eq!(line["price"], price.to_string(), "{work}");
        nets[1] += price;
    }
    let totals = &quote["totals"];
    let [materials, labour] = nets;
    assert_eq!(totals["materials"], materials.to_string());
    assert_eq!(totals["labour"], labour.to_string());
    assert_eq!(totals["net"], (materials + labour).to_string());
    let tax = cents(materials * dec("0.20")) + cents(labour * dec("0.10"));
    assert_eq!(totals["tax"], tax.to_string());
    assert_eq!(totals["gross"], (materials + labour + tax).to_string());
}

#[test]
fn by_margin() {
    let quote = quote("margin: 22 %");
    follow(&quote, |loaded| loaded / dec("0.78"));
    // One line to the end: 36.52 × 1.08 × 1.05 = 41.413680; ÷ 0.78 = 53.0944…
    let driver = &quote["lines"][1];
    assert_eq!(
        (&driver["item"], &driver["price"]),
        (&"d60".into(), &"53.09".into())
    );
}

#[test]
fn by_markup() {
    let quote = quote("markup: 22 %");
    follow(&quote, |loaded| loaded * dec("1.22"));
    // 41.413680 × 1.22 = 50.5246…: 22 % markup is not 22 % margin.
    assert_eq!(quote["lines"][1]["price"], "50.52");
}

#[test]
fn a_margin_and_the_markup_that_it_is_give_one_price() {
    // markup = margin ÷ (1 − margin): 20 % is 25 %.
    let price = |uplift| quote(uplift)["totals"]["net"].clone();
    assert_eq!(price("margin: 20 %"), price("markup: 25 %"));
}

#[test]
fn a_discount_for_the_customer_comes_off_each_line_once_it_is_rounded() {
    let quote = quote("margin: 22 %, customer_discount: 3 %");
    let printed = |cost: Decimal| cents(cost * dec("1.08") * dec("1.05") / dec("0.78"));
    follow_discounted(&quote, |cost| cents(printed(cost) * dec("0.97")));
}

fn follow_discounted(quote: &Value, price: impl Fn(Decimal) -> Decimal) {
    let mut net = Decimal::ZERO;
    for lines in [&quote["lines"], &quote["labour"]] {
        for line in lines.as_array().expect("lines") {
            let cost = dec(line["cost"].as_str().expect("a cost"));
            let price = price(cost);
            assert_eq!(line["price"], price.to_string(), "{line}");
            net += price;
        }
    }
    assert_eq!(quote["totals"]["net"], net.to_string());
}
