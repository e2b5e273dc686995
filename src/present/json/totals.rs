//! Totals of a quotation.

use super::{money, quantity};
use crate::model::pricing::Uplift;
use crate::price::priced;
use schemars::JsonSchema;
use serde::Serialize;

/// Totals.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Totals {
    /// Cost of materials.
    pub materials_cost: String,
    /// Cost of labour.
    pub labour_cost: String,
    /// Hours of labour.
    pub labour_hours: String,
    /// Cost of commissioning.
    pub commissioning_cost: String,
    /// Hours of commissioning.
    pub commissioning_hours: String,
    /// Overhead rate.
    pub overhead_percent: String,
    /// Overhead.
    pub overhead: String,
    /// Contingency rate.
    pub contingency_percent: String,
    /// Contingency.
    pub contingency: String,
    /// Margin, of the selling price.
    pub margin_percent: Option<String>,
    /// Markup, on cost.
    pub markup_percent: Option<String>,
    /// What margin or markup adds.
    pub uplift: String,
    /// Materials at selling price.
    pub materials: String,
    /// Labour at selling price.
    pub labour: String,
    /// Commissioning at selling price.
    pub commissioning: String,
    /// Provisional sums, on which nothing is added.
    pub provisional: String,
    /// Net total.
    pub net: String,
    /// Off the selling price of every line; lines are with it off.
    pub customer_discount_percent: String,
    /// Name of the tax.
    pub tax_name: Option<String>,
    /// Its rate; `null` when there are several.
    pub tax_percent: Option<String>,
    /// Each rate with what it is on.
    pub taxes: Vec<TaxAt>,
    /// Tax.
    pub tax: String,
    /// Gross total.
    pub gross: String,
    /// Lines of materials without a price, which are in no total.
    pub lines_without_price: usize,
    /// Lines of labour and commissioning without a price, which are in no total.
    pub work_without_price: usize,
    /// Lines whose price is past its date.
    pub lines_with_stale_price: usize,
}

/// A rate of the tax.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TaxAt {
    /// The rate.
    pub percent: String,
    /// Net of the lines that it is on.
    pub on: String,
    /// The tax.
    pub tax: String,
}

impl TaxAt {
    fn of(tax: &priced::TaxAt) -> TaxAt {
        TaxAt {
            percent: quantity(tax.rate),
            on: money(tax.on),
            tax: money(tax.tax),
        }
    }
}

impl Totals {
    pub(super) fn of(totals: &priced::Totals) -> Totals {
        let (margin, markup) = match totals.uplift {
            Some(Uplift::Margin(rate)) => (Some(quantity(rate)), None),
            Some(Uplift::Markup(rate)) => (None, Some(quantity(rate))),
            None => (None, None),
        };
        Totals {
            materials_cost: money(totals.materials_cost),
            labour_cost: money(totals.labour_cost),
            labour_hours: quantity(totals.labour_hours),
            commissioning_cost: money(totals.commissioning_cost),
            commissioning_hours: quantity(totals.commissioning_hours),
            overhead_percent: quantity(totals.overhead_percent),
            overhead: money(totals.overhead),
            contingency_percent: quantity(totals.contingency_percent),
            contingency: money(totals.contingency),
            margin_percent: margin,
            markup_percent: markup,
            uplift: money(totals.uplift_amount),
            materials: money(totals.materials),
            labour: money(totals.labour),
            commissioning: money(totals.commissioning),
            provisional: money(totals.provisional),
            net: money(totals.net),
            customer_discount_percent: quantity(totals.customer_discount_percent),
            tax_name: totals.tax_name.clone(),
            tax_percent: match totals.taxes.as_slice() {
                [tax] => Some(quantity(tax.rate)),
                _ => None,
            },
            taxes: totals.taxes.iter().map(TaxAt::of).collect(),
            tax: money(totals.tax),
            gross: money(totals.gross),
            lines_without_price: totals.lines_without_price,
            work_without_price: totals.work_without_price,
            lines_with_stale_price: totals.lines_with_stale_price,
        }
    }
}
