//! A small quotation followed line by line with a calculator.
//!
//! The method is that of any cost accounting textbook (from memory), not this program's: cost, plus
//! overhead on cost, plus contingency on that; selling price = loaded cost ÷ (1 − margin), or loaded
//! cost × (1 + markup); profit is the same share of price as margin and of cost as markup, so that
//! markup = margin ÷ (1 − margin): 22 % margin is 28.2 % markup. An all-units price break (one price
//! for the whole order, by its size) is taken where the larger order costs less than the smaller.
//! Tax by rate on the sum of its lines, rounded once: EN 16931-1, BR-CO-17 (from memory).

use crate::counter::{Counter, line, program, run, shelves};

use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::Value;

fn dec(text: &str) -> Decimal {
    text.parse().expect("a decimal")
}

/// Half up to the cent, as by hand.
fn cents(amount: Decimal) -> Decimal {
    amount.round_dp_with_strategy(2, RoundingStrategy::MidpointAwayFromZero)
}

/// One shelf, by the terms of each test.
fn quote(pricing: &'static str) -> Value {
    let counter = Counter {
        strip: "reels: [{length: 5 m, price: 40.00}], labour: 6 min",
        cable: "price: 1.12",
        more: "accessories:
  - {accessory: clip, per: metre, quantity: 4, price: [{from: 1, price: 1.00}, {from: 20, price: 0.50}]}
  - {accessory: cap, per: section, price: 1.90, labour: 2 min}",
        runs: run("shelf", "3 m", "feed: start"),
        pricing,
        ..Counter::default()
    };
    counter.quote()
}

/// What all terms of the one shelf have in common.
macro_rules! terms {
    ($uplift:literal) => {
        concat!(
            "labour_rate: 42.00, overhead: 8 %, contingency: 5 %, ",
            $uplift,
            ", discount: {driver: 12 %}, tax: {name: VAT, rate: 20 %, labour: 10 %}"
        )
    };
}

/// Cost of each line by hand: item, quantity bought, its cost.
///
/// - plain: 3 m come out of one reel of 5 m: 40.00.
/// - d100: one, less the supplier's 12 %: 41.50 × 0.88 = 36.52.
/// - c2: 4 m, sold by the whole metre: 4 × 1.12 = 4.48.
/// - clip: four for each of 3 m are 12, which cost 12 × 1.00 = 12.00; 20 cost 20 × 0.50 = 10.00,
///   which is less, so 20 are bought.
/// - cap: one: 1.90.
const MATERIALS: [(&str, &str, &str); 5] = [
    ("plain", "1", "40.00"),
    ("d100", "1", "36.52"),
    ("c2", "4", "4.48"),
    ("cap", "1", "1.90"),
    ("clip", "20", "10.00"),
];

/// Hours and cost of work by hand, at 42.00 an hour: 3 m × 6 min = 18 min = 0.30 h = 12.60; one driver,
/// 25 min = 0.42 h (to the hundredth) = 17.64; one cap, 2 min = 0.03 h = 1.26.
const LABOUR: [(&str, &str, &str); 3] = [
    ("fit plain", "0.3", "12.60"),
    ("fit d100", "0.42", "17.64"),
    ("fit cap", "0.03", "1.26"),
];

/// Everything after cost, by hand: `factor` turns loaded cost into price.
fn follow(quote: &Value, sell: impl Fn(Decimal) -> Decimal) {
    let loaded = |cost: Decimal| cost * dec("1.08") * dec("1.05");
    let mut nets = [Decimal::ZERO; 2];
    for (item, bought, cost) in MATERIALS {
        let line = line(quote, item);
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
    let quote = quote(terms!("margin: 22 %"));
    follow(&quote, |loaded| loaded / dec("0.78"));
    // One line to the end: 36.52 × 1.08 × 1.05 = 41.413680; ÷ 0.78 = 53.0944…
    let driver = &quote["lines"][1];
    assert_eq!(
        (&driver["item"], &driver["price"]),
        (&"d100".into(), &"53.09".into())
    );
}

#[test]
fn by_markup() {
    let quote = quote(terms!("markup: 22 %"));
    follow(&quote, |loaded| loaded * dec("1.22"));
    // 41.413680 × 1.22 = 50.5246…: 22 % markup is not 22 % margin.
    assert_eq!(quote["lines"][1]["price"], "50.52");
}

#[test]
fn a_margin_and_the_markup_that_it_is_give_one_price() {
    // markup = margin ÷ (1 − margin): 20 % is 25 %.
    let net = |quote: Value| quote["totals"]["net"].clone();
    let margin = quote(terms!("margin: 20 %"));
    assert_eq!(net(margin), net(quote(terms!("markup: 25 %"))));
}

#[test]
fn a_discount_for_the_customer_comes_off_each_line_once_it_is_rounded() {
    let quote = quote(terms!("margin: 22 %, customer_discount: 3 %"));
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

/// Everything at once, by hand. Four shelves of 3 m, each fed at its start by 4 m of cable from a driver
/// of its own.
///
/// Materials at cost:
/// - plain: two pieces of 3 m don't fit a reel of 5 m: four reels; three and more cost 33.00 each:
///   132.00. 20 m bought, 12 m used, four offcuts of 2 m: the spare 5 % of 12 m, 0.6 m, is there.
/// - d100: four are needed, and a spare (25 %). Four alone would cost 4 × 41.50 = 166.00, but five of
///   36.00 are bought; less the supplier's 12 %: 4 × 36.00 × 0.88 = 126.72 and 36.00 × 0.88 = 31.68.
/// - c2: 4 × 4 m = 16 m, 5 % of it lost, 0.8 m: 17 whole metres, but 25 are the smallest order:
///   25 × 1.12 = 28.00, and 25 − 16 − 0.8 = 8.2 m are left.
/// - cap: four, in packs of 10: 10 × 1.90 = 19.00.
/// - clip: four for each of 12 m are 48, in packs of 25: 50, at 0.50 from 20 on: 25.00.
///
/// Work at 42.00 an hour: 12 m × 6 min = 1.20 h = 50.40; four drivers × 25 min = 100 min = 1.67 h =
/// 70.14, the spare not fitted; four caps × 2 min = 0.13 h = 5.46. Commissioning at 50.00: four devices
/// × 3 min = 0.20 h = 10.00; one loop, 0.50 h = 25.00. A provisional sum of 250.00 is sold as it stands.
///
/// Each line is × 1.08 × 1.05 ÷ 0.78, to the cent, and then less 3 %, to the cent:
/// 132.00 → 191.91 → 186.15; 126.72 → 184.23 → 178.70; 31.68 → 46.06 → 44.68; 28.00 → 40.71 → 39.49;
/// 19.00 → 27.62 → 26.79; 25.00 → 36.35 → 35.26; 50.40 → 73.27 → 71.07; 70.14 → 101.97 → 98.91;
/// 5.46 → 7.94 → 7.70; 10.00 → 14.54 → 14.10; 25.00 → 36.35 → 35.26.
///
/// Materials 511.07, labour 177.68, commissioning 49.36, sums 250.00: net 988.11. Tax 10 % on cable,
/// labour and commissioning, 39.49 + 177.68 + 49.36 = 266.53: 26.65; 20 % on the rest, 721.58: 144.32.
/// Gross 988.11 + 170.97 = 1159.08.
#[test]
fn ladders_waste_discount_and_tax_together() {
    let counter = Counter {
        strip: "reels: [{length: 5 m, price: [{from: 1, price: 40.00}, {from: 3, price: 33.00}]}], \
                labour: 6 min, lead_time: 6 days, price_valid_until: 2026-11-20",
        driver: "price: [{from: 1, price: 41.50}, {from: 5, price: 36.00}], lead_time: 21 days",
        cable: "price: 1.12, smallest_order: 25, lead_time: 2 days, price_valid_until: 2026-11-19",
        more: "accessories:
  - {accessory: clip, per: metre, quantity: 4, pack: 25, price: [{from: 1, price: 1.00}, {from: 20, price: 0.50}]}
  - {accessory: cap, per: section, pack: 10, price: 1.90, labour: 2 min}",
        runs: shelves(4, "3 m"),
        pricing: "labour_rate: 42.00, overhead: 8 %, contingency: 5 %, margin: 22 %, cable_waste: 5 %, \
                  spares: {driver: 25 %, strip: 5 %}, discount: {driver: 12 %}, customer_discount: 3 %, \
                  commissioning: {device: 3 min, loop: 30 min, rate: 50.00}, \
                  provisional_sums: [{sum: temporary lighting, amount: 250.00}], \
                  tax: {name: VAT, rate: 20 %, labour: 10 %, kinds: {cable: 10 %}}",
    };
    let quote = counter.quote();
    let lines = quote["lines"].as_array().expect("lines");
    let by_hand = [
        ("plain", "4", "0", "132.00", "186.15"),
        ("plain", "0", "0", "0.00", "0.00"),
        ("d100", "4", "0", "126.72", "178.70"),
        ("d100", "1", "0", "31.68", "44.68"),
        ("c2", "25", "8.2", "28.00", "39.49"),
        ("cap", "10", "6", "19.00", "26.79"),
        ("clip", "50", "2", "25.00", "35.26"),
    ];
    assert_eq!(lines.len(), by_hand.len());
    for (line, (item, bought, left, cost, price)) in lines.iter().zip(by_hand) {
        for (key, value) in [
            ("item", item),
            ("bought", bought),
            ("left_over", left),
            ("cost", cost),
            ("price", price),
        ] {
            assert_eq!(line[key], value, "{line}");
        }
    }
    for (section, prices) in [
        ("labour", &["71.07", "98.91", "7.70"][..]),
        ("commissioning", &["14.10", "35.26"]),
        ("provisional_sums", &["250.00"]),
    ] {
        let lines = quote[section].as_array().expect(section).iter();
        let found: Vec<&str> = lines.filter_map(|line| line["price"].as_str()).collect();
        assert_eq!(found, prices, "{section}");
    }
    let totals = &quote["totals"];
    for (key, value) in [
        ("materials", "511.07"),
        ("labour", "177.68"),
        ("commissioning", "49.36"),
        ("provisional", "250.00"),
        ("net", "988.11"),
        ("tax", "170.97"),
        ("gross", "1159.08"),
    ] {
        assert_eq!(totals[key], value, "{key}");
    }
    // The price of the 19th is stale on the 20th; that of the 20th is not.
    assert_eq!(totals["lines_with_stale_price"], 1);
    assert_eq!(line(&quote, "c2")["price_stale_since"], "2026-11-19");
    let longest = &quote["longest_lead_time"];
    assert_eq!(
        (&longest["days"], &longest["line"]),
        (&21.into(), &"d100".into())
    );
    // The page says the same.
    let page = program(
        counter.folder().path(),
        &["quote", "project.yaml", "--quiet"],
    );
    // A space between digits is one that no line breaks at.
    let unbroken: Vec<&str> = page.split_whitespace().collect();
    let unbroken = unbroken.join(" ");
    for said in [
        "Total 1 159.08 EUR with VAT.",
        "1 line past the date of its price: ask again.",
        "All prices are after a discount of 3 %.",
        "Longest lead time: 21 days, d100; 2 lines have none.",
        "VAT 10 % on 266.53 26.65",
        "VAT 20 % on 721.58 144.32",
        "Commissioning 49.36",
        "Provisional sums 250.00",
        "price was valid until 19 Nov 2026",
    ] {
        assert!(unbroken.contains(said), "{said}: {page}");
    }
}
