//! Totals: sums of what is printed, so that every column adds up to the last digit.

use super::line::Desk;
use super::money::{RoundingAt, Sold, Sums, sums, with_spares};
use super::priced::{LabourLine, Line, PriceFlag, Provisional, TaxAt, Totals};
use crate::model::offer::ItemKind;
use crate::model::pricing::{Pricing, Tax};
use rust_decimal::Decimal;

/// Everything that is priced.
pub(super) struct Sections<'a> {
    /// The materials list.
    pub materials: &'a [Line],
    /// Fitting.
    pub labour: &'a [LabourLine],
    /// Commissioning.
    pub commissioning: &'a [LabourLine],
    /// Provisional sums.
    pub provisional: &'a [Provisional],
}

/// The totals of all sections. Tax is taken by class of line. What overhead,
/// contingency and margin or markup add is shown so that cost and these come to the net total.
pub(super) fn totals(sections: &Sections, desk: &Desk) -> Totals {
    let Sections {
        materials: lines,
        labour,
        commissioning,
        provisional,
    } = sections;
    let pricing = desk.pricing;
    let rounder = desk.rounder();
    let sum = |amounts: &mut dyn Iterator<Item = Option<Decimal>>| -> Decimal {
        rounder.round(amounts.flatten().sum())
    };
    let materials_cost = sum(&mut lines.iter().map(|line| line.cost));
    let labour_cost = sum(&mut labour.iter().map(|line| line.cost));
    let materials = sum(&mut lines.iter().map(|line| line.sell));
    let labour_sold = sum(&mut labour.iter().map(|line| line.sell));
    let commissioning_cost = sum(&mut commissioning.iter().map(|line| line.cost));
    let commissioned = sum(&mut commissioning.iter().map(|line| line.sell));
    let provisional = sum(&mut provisional.iter().map(|line| Some(line.sell)));
    let taxed = taxed(sections, pricing);
    let rounding = pricing.tax.as_ref().map(|tax| tax.rounding);
    let sums = sums(
        &taxed,
        Decimal::ZERO,
        rounder,
        RoundingAt::Line,
        rounding.unwrap_or_default(),
    );
    let net = sums.net;
    let cost = materials_cost + labour_cost + commissioning_cost;
    let loaded = with_spares(cost, pricing.overhead);
    let overhead = rounder.round(loaded - cost);
    let contingency = rounder.round(with_spares(loaded, pricing.contingency) - loaded);
    let flagged = |which: fn(&PriceFlag) -> bool| {
        lines
            .iter()
            .filter(|line| line.flags.iter().any(which))
            .count()
    };
    let work = || labour.iter().chain(*commissioning);
    Totals {
        materials_cost,
        labour_cost,
        labour_hours: labour.iter().map(|line| line.hours).sum(),
        commissioning_cost,
        commissioning_hours: commissioning.iter().map(|line| line.hours).sum(),
        overhead_percent: pricing.overhead,
        overhead,
        contingency_percent: pricing.contingency,
        contingency,
        uplift: pricing.uplift,
        uplift_amount: net - provisional - cost - overhead - contingency,
        materials,
        labour: labour_sold,
        commissioning: commissioned,
        provisional,
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
        work_without_price: work().filter(|line| line.sell.is_none()).count(),
        lines_with_stale_price: flagged(|flag| matches!(flag, PriceFlag::Stale(_))),
    }
}

/// Every printed net with the rate of its class: kind of item, labour, or neither.
fn taxed(sections: &Sections, pricing: &Pricing) -> Vec<Sold> {
    let rate = |of: fn(&Tax, Option<ItemKind>) -> Decimal, kind| {
        let tax = pricing.tax.as_ref();
        tax.map_or(Decimal::ZERO, |tax| of(tax, kind))
    };
    let on_class = |kind| rate(Tax::rate_on, kind);
    let materials = sections.materials.iter();
    let materials = materials.map(|line| (line.sell, on_class(Some(line.kind))));
    let work = sections.labour.iter().chain(sections.commissioning);
    let work = work.map(|line| (line.sell, on_class(None)));
    let sums = sections.provisional.iter();
    let sums = sums.map(|line| (Some(line.sell), rate(|tax, _| tax.rate, None)));
    let all = materials.chain(work).chain(sums);
    all.filter_map(|(sell, tax)| Some(Sold { sell: sell?, tax }))
        .collect()
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
