//! Quote totals against exact rational arithmetic done twice elsewhere, in
//! `tests/oracle/money.json`, whose `how` defines every step.

use feedpoint::model::offer::PriceStep;
use feedpoint::model::pricing::{Rounding, TaxRounding, Uplift};
use feedpoint::price::money::{
    Rounder, RoundingAt, Sold, Terms, price, quantity, step, sums, with_spares,
};
use rust_decimal::{Decimal, RoundingStrategy};
use serde_json::Value;

fn decimal(value: &Value) -> Decimal {
    match value {
        Value::String(text) => text.parse().unwrap(),
        Value::Number(number) => number.to_string().parse().unwrap(),
        other => panic!("{other} is no number"),
    }
}

fn or_zero(value: &Value) -> Decimal {
    if value.is_null() {
        Decimal::ZERO
    } else {
        decimal(value)
    }
}

/// Cost of a line, with the quantity and unit price of a material line.
fn cost(line: &Value) -> (Decimal, Option<(Decimal, Decimal)>) {
    if line["class"] == "labour" {
        return (decimal(&line["hours"]) * decimal(&line["rate"]), None);
    }
    let needed = with_spares(decimal(&line["need"]), decimal(&line["spares_percent"]));
    let bought = quantity(needed, decimal(&line["moq"]), decimal(&line["pack"]));
    let ladder: Vec<PriceStep> = line["breaks"]
        .as_array()
        .unwrap()
        .iter()
        .map(|b| PriceStep {
            from: decimal(&b["from_qty"]),
            price: decimal(&b["unit_price"]),
        })
        .collect();
    let unit = step(&ladder, bought).unwrap().price;
    (bought * unit, Some((bought, unit)))
}

fn terms(case: &Value, line: &Value) -> Terms {
    let percent = line
        .get("price_percent")
        .unwrap_or(&case["pricing"]["percent"]);
    let percent = decimal(percent);
    let loaded = case["overhead_on"]
        .as_array()
        .unwrap()
        .contains(&line["class"]);
    Terms {
        overhead: if loaded {
            decimal(&case["overhead_percent"])
        } else {
            Decimal::ZERO
        },
        contingency: decimal(&case["contingency_percent"]),
        uplift: Some(match case["pricing"]["mode"].as_str().unwrap() {
            "margin" => Uplift::Margin(percent),
            _ => Uplift::Markup(percent),
        }),
        discount: or_zero(&line["discount_percent"]),
    }
}

/// What differs between a case and what is expected of it.
fn differences(case: &Value) -> Vec<String> {
    let expected = &case["expected"];
    let rounder = Rounder {
        rounding: if case["rounding"] == "half_even" {
            Rounding::HalfEven
        } else {
            Rounding::HalfUp
        },
        decimals: u32::try_from(case["currency_decimals"].as_u64().unwrap()).unwrap(),
    };
    let at = if case["rounding_at"] == "line" {
        RoundingAt::Line
    } else {
        RoundingAt::Total
    };
    let (mut wrong, mut sold, mut loaded, mut total) =
        (Vec::new(), Vec::new(), Decimal::ZERO, Decimal::ZERO);
    let mut compare = |what: String, found: Decimal, want: &Value| {
        if !want.is_null() && found != decimal(want) {
            wrong.push(format!("{} {what}: {found}, expected {want}", case["id"]));
        }
    };
    for (n, line) in case["lines"].as_array().unwrap().iter().enumerate() {
        let (cost, order) = cost(line);
        let want = &expected["lines"][n];
        compare(format!("cost of line {n}"), cost, &want["cost"]);
        if let Some((bought, unit)) = order {
            compare(format!("quantity of line {n}"), bought, &want["order_qty"]);
            if bought > Decimal::ZERO {
                compare(format!("unit price of line {n}"), unit, &want["unit_price"]);
            }
        }
        let priced = price(cost, &terms(case, line)).unwrap();
        total += cost;
        loaded += priced.loaded;
        sold.push(Sold {
            sell: priced.sell,
            tax: decimal(&line["tax_percent"]),
        });
    }
    let sums = sums(
        &sold,
        decimal(&case["document_discount_percent"]),
        rounder,
        at,
        TaxRounding::Line,
    );
    for (n, net) in sums.lines.iter().enumerate() {
        compare(
            format!("net of line {n}"),
            *net,
            &expected["lines"][n]["net"],
        );
    }
    compare("net".to_owned(), sums.net, &expected["net"]);
    compare("tax".to_owned(), sums.tax, &expected["tax"]);
    compare("gross".to_owned(), sums.gross, &expected["gross"]);
    for (rate, tax) in expected["tax_by_rate"].as_object().unwrap() {
        let found = sums.tax_by_rate.get(&rate.parse().unwrap()).copied();
        compare(format!("tax at {rate}"), found.unwrap_or_default(), tax);
    }
    let four =
        |amount: Decimal| amount.round_dp_with_strategy(4, RoundingStrategy::MidpointAwayFromZero);
    compare(
        "cost in all".to_owned(),
        four(total),
        &expected["cost_total"],
    );
    if sums.net > Decimal::ZERO {
        let margin = Decimal::ONE_HUNDRED * (sums.net - loaded) / sums.net;
        compare(
            "margin".to_owned(),
            four(margin),
            &expected["margin_percent_achieved"],
        );
    }
    wrong
}

#[test]
fn every_case_agrees_to_the_last_digit() {
    let all: Value = serde_json::from_str(include_str!("oracle/money.json")).unwrap();
    let cases = all["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 26);
    let wrong: Vec<String> = cases.iter().flat_map(differences).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
