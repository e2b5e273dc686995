//! Totals: sums of what is printed, so that every column adds up to the last digit.

use super::line::Desk;
use super::money::{RoundingAt, Sold, Sums, sums, with_spares};
use super::priced::{LabourLine, Line, PriceFlag, TaxAt, Totals};
use crate::model::offer::ItemKind;
use crate::model::pricing::Pricing;
use rust_decimal::Decimal;

/// The totals of a materials list and its labour. Tax is taken by class of line. What overhead,
/// contingency and margin or markup add is shown so that cost and these come to the net total.
pub(super) fn totals(lines: &[Line], labour: &[LabourLine], desk: &Desk) -> Totals {
    let pricing = desk.pricing;
    let rounder = desk.rounder();
    let sum = |amounts: &mut dyn Iterator<Item = Option<Decimal>>| -> Decimal {
        rounder.round(amounts.flatten().sum())
    };
    let materials_cost = sum(&mut lines.iter().map(|line| line.cost));
    let labour_cost = sum(&mut labour.iter().map(|line| line.cost));
    let materials = sum(&mut lines.iter().map(|line| line.sell));
    let labour_sold = sum(&mut labour.iter().map(|line| line.sell));
    let taxed = taxed(lines, labour, pricing);
    let rounding = pricing.tax.as_ref().map(|tax| tax.rounding);
    let sums = sums(
        &taxed,
        Decimal::ZERO,
        rounder,
        RoundingAt::Line,
        rounding.unwrap_or_default(),
    );
    let net = sums.net;
    let cost = materials_cost + labour_cost;
    let loaded = with_spares(cost, pricing.overhead);
    let overhead = rounder.round(loaded - cost);
    let contingency = rounder.round(with_spares(loaded, pricing.contingency) - loaded);
    let flagged = |which: fn(&PriceFlag) -> bool| {
        lines
            .iter()
            .filter(|line| line.flags.iter().any(which))
            .count()
    };
    Totals {
        materials_cost,
        labour_cost,
        labour_hours: labour.iter().map(|line| line.hours).sum(),
        overhead_percent: pricing.overhead,
        overhead,
        contingency_percent: pricing.contingency,
        contingency,
        uplift: pricing.uplift,
        uplift_amount: net - cost - overhead - contingency,
        materials,
        labour: labour_sold,
        net,
        customer_discount_percent: pricing.customer_discount,
        tax_name: pricing.tax.as_ref().map(|tax| tax.name.clone()),
        taxes: match pricing.tax {
            Some(_) => taxes(&sums, &taxed),
            None => Vec::new(),
        },
        tax: sums.tax,
        gross: sums.gross,
        lines_without_price: lines.iter().filter(|line| line.sell.is_none()).count(),
        lines_with_stale_price: flagged(|flag| matches!(flag, PriceFlag::Stale(_))),
    }
}

/// Every printed net with the rate of its class: kind of item, or labour.
fn taxed(lines: &[Line], labour: &[LabourLine], pricing: &Pricing) -> Vec<Sold> {
    let rate = |kind: Option<ItemKind>| {
        let tax = pricing.tax.as_ref();
        tax.map_or(Decimal::ZERO, |tax| tax.rate_on(kind))
    };
    let sold = |sell: Option<Decimal>, kind: Option<ItemKind>| {
        sell.map(|sell| Sold {
            sell,
            tax: rate(kind),
        })
    };
    let lines = lines.iter().map(|line| sold(line.sell, Some(line.kind)));
    let labour = labour.iter().map(|line| sold(line.sell, None));
    lines.chain(labour).flatten().collect()
}

fn taxes(sums: &Sums, taxed: &[Sold]) -> Vec<TaxAt> {
    let rates = sums.tax_by_rate.iter();
    rates
        .map(|(rate, tax)| {
            let own = taxed.iter().zip(&sums.lines);
            let own = own.filter(|(sold, _)| sold.tax == *rate);
            TaxAt {
                rate: *rate,
                on: own.map(|(_, net)| *net).sum(),
                tax: *tax,
            }
        })
        .collect()
}
