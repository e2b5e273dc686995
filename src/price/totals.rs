//! Totals: sums of what is printed, so that every column adds up to the last digit.

use super::line::Desk;
use super::money::with_spares;
use super::priced::{LabourLine, Line, PriceFlag, Totals};
use rust_decimal::Decimal;

/// The totals of a materials list and its labour. Tax is taken on the net total. What overhead,
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
    let net = materials + labour_sold;
    let cost = materials_cost + labour_cost;
    let loaded = with_spares(cost, pricing.overhead);
    let overhead = rounder.round(loaded - cost);
    let contingency = rounder.round(with_spares(loaded, pricing.contingency) - loaded);
    let tax_rate = pricing.tax.as_ref().map_or(Decimal::ZERO, |tax| tax.rate);
    let tax = rounder.round(net * tax_rate / Decimal::ONE_HUNDRED);
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
        tax_name: pricing.tax.as_ref().map(|tax| (tax.name.clone(), tax.rate)),
        tax,
        gross: net + tax,
        lines_without_price: lines.iter().filter(|line| line.sell.is_none()).count(),
        lines_with_stale_price: flagged(|flag| matches!(flag, PriceFlag::Stale(_))),
    }
}
