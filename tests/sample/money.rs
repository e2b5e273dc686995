//! The sample job's price. Each total is the sum of its lines.

use super::{HOSTILE, dec, m, sizing};
use feedpoint::model::offer::ItemKind;
use feedpoint::model::pricing::Uplift;
use feedpoint::price::priced::{
    CutPiece, CutStock, LabourLine, Line, Measured, Otherwise, PriceFlag, PricedOption, Quote,
    Reckoned, Stake, TaxAt, Totals,
};
use feedpoint::quantity::{Ratio, Time};
use rust_decimal::Decimal;
use time::macros::date;
use uom::si::ratio::percent;
use uom::si::time::minute;

pub fn quote() -> Quote {
    Quote {
        currency: "EUR".to_owned(),
        decimals: 2,
        lines: lines(),
        cuts: vec![
            cut(1, &[(1, 4.6, 0.0), (2, 0.35, 4.6)], 0.05),
            cut(2, &[(1, 4.6, 4.6)], 0.4),
        ],
        cut_proofs: vec![
            ("white-24".to_owned(), true, None),
            ("white-pair-24-19".to_owned(), false, Some(dec("221.00"))),
        ],
        labour: vec![LabourLine {
            work: "fit driver pair-120".to_owned(),
            trade: None,
            quantity: dec("2"),
            each: Time::new::<minute>(25.0),
            hours: dec("0.83"),
            cost: Some(dec("34.86")),
            sell: Some(dec("50.69")),
        }],
        totals: Totals {
            materials_cost: dec("459.20"),
            labour_cost: dec("34.86"),
            labour_hours: dec("0.83"),
            commissioning_cost: dec("0.00"),
            commissioning_hours: Decimal::ZERO,
            overhead_percent: dec("8"),
            overhead: dec("39.52"),
            contingency_percent: dec("5"),
            contingency: dec("26.68"),
            uplift: Some(Uplift::Margin(dec("22"))),
            uplift_amount: dec("158.06"),
            materials: dec("667.63"),
            labour: dec("50.69"),
            commissioning: dec("0.00"),
            provisional: dec("0.00"),
            net: dec("718.32"),
            customer_discount_percent: Decimal::ZERO,
            tax_name: Some("VAT".to_owned()),
            taxes: vec![TaxAt {
                rate: dec("20"),
                on: dec("718.32"),
                tax: dec("143.66"),
            }],
            tax: dec("143.66"),
            gross: dec("861.98"),
            lines_without_price: 1,
            work_without_price: 0,
            lines_with_stale_price: 1,
        },
        commissioning: Vec::new(),
        provisional: Vec::new(),
        longest_lead_time: Some((35, "line 3, ceiling-sensor".to_owned())),
        assumptions: vec![sizing::assumption()],
        stakes: vec![stake()],
        options: vec![option()],
        exclusions: vec!["making good".to_owned(), "builder's work".to_owned()],
    }
}

fn stake() -> Stake {
    Stake {
        lines: vec![1],
        otherwise: Some(Otherwise {
            words: "rails of half that resistance".to_owned(),
            outcome: Ok(reckoned("-41.20")),
        }),
    }
}

fn option() -> PricedOption {
    PricedOption {
        name: "softer".to_owned(),
        title: "Light limit 20 %".to_owned(),
        outcome: Ok(reckoned("-118.32")),
    }
}

/// A job that differs from the sample by an amount of net price.
fn reckoned(difference: &str) -> Reckoned {
    let net = dec("718.32") + dec(difference);
    Reckoned {
        net,
        difference: dec(difference),
        gross: net + (net * dec("0.20")).round_dp(2),
        labour_hours: dec("0.83"),
        light_least: Some(Ratio::new::<percent>(84.0)),
        drivers: 2,
        loops: 1,
        feed_cable: m(80.0),
        faults: 0,
        cannot_tell: 0,
        lines_without_price: 1,
    }
}

fn lines() -> Vec<Line> {
    let mut sensor = line(4, ItemKind::ControlDevice, "ceiling-sensor", "2", None);
    sensor.flags = vec![PriceFlag::Missing];
    sensor.lead_time_days = None;
    sensor.price_valid_until = None;
    let mut cable = line(
        3,
        ItemKind::Cable,
        "flex-3-2.5",
        "89.6",
        Some(("0.97", "86.91", "126.36")),
    );
    cable.measured = Measured::Metre;
    cable.flags = vec![PriceFlag::Stale(date!(2026 - 10 - 31))];
    let mut strip = line(
        1,
        ItemKind::Strip,
        "white-pair-24-19",
        "1",
        Some(("221.00", "221.00", "321.31")),
    );
    strip.measured = Measured::StockLength;
    strip.description = "LED strip white-pair-24-19, reel of 20 m".to_owned();
    let mut driver = line(
        2,
        ItemKind::Driver,
        "pair-120",
        "2",
        Some(("74.20", "151.29", "219.96")),
    );
    driver.description = HOSTILE.to_owned();
    driver.discount = dec("12");
    vec![strip, driver, cable, sensor]
}

fn line(
    number: usize,
    kind: ItemKind,
    item: &str,
    bought: &str,
    money: Option<(&str, &str, &str)>,
) -> Line {
    Line {
        number,
        kind,
        item: item.to_owned(),
        description: format!("The {item}"),
        spare: false,
        measured: Measured::Piece,
        needed: dec(bought),
        waste: Decimal::ZERO,
        pack: 1,
        bought: dec(bought),
        left_over: Decimal::ZERO,
        unit_cost: money.map(|(each, _, _)| dec(each)),
        step_from: money.map(|_| Decimal::ONE),
        discount: Decimal::ZERO,
        cost: money.map(|(_, cost, _)| dec(cost)),
        sell: money.map(|(_, _, sell)| dec(sell)),
        flags: Vec::new(),
        lead_time_days: Some(14),
        price_valid_until: Some(date!(2027 - 03 - 31)),
        supplier: Some("Wholesale North".to_owned()),
        used_for: vec!["hall-cove-north".to_owned()],
    }
}

fn cut(number: usize, pieces: &[(usize, f64, f64)], offcut: f64) -> CutStock {
    CutStock {
        number,
        kind: ItemKind::Strip,
        item: "white-24".to_owned(),
        stock: m(5.0),
        pieces: pieces
            .iter()
            .map(|(section, length, from)| CutPiece {
                run: "stacks-shelf-1".to_owned(),
                section: *section,
                length: m(*length),
                part: 1,
                parts: 1,
                from: m(*from),
                to: m(from + length),
                at: m(0.0),
            })
            .collect(),
        mark: Some(m(0.05)),
        offcut: m(offcut),
        kept: Some(offcut >= 0.3),
    }
}
