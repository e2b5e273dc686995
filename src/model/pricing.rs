//! How costs become a price.

use super::offer::ItemKind;
use crate::diagnostic::Place;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// How the selling price follows from cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Uplift {
    /// Percent of the selling price: price = cost / (1 − p/100).
    Margin(Decimal),
    /// Percent on cost: price = cost × (1 + p/100).
    Markup(Decimal),
}

/// How amounts are rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Rounding {
    /// Halves away from zero.
    #[default]
    HalfUp,
    /// Halves to even.
    HalfEven,
}

/// A tax outside the net total.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tax {
    /// Its name.
    pub name: String,
    /// Its rate in percent.
    pub rate: Decimal,
}

/// Pricing of a project. All rates are in percent.
#[derive(Debug, Clone, PartialEq)]
pub struct Pricing {
    /// Price of an hour of work; `None` when the project does not say.
    pub labour_rate: Option<Decimal>,
    /// On materials and labour, before margin.
    pub overhead: Decimal,
    /// On cost with overhead.
    pub contingency: Decimal,
    /// Margin or markup; `None` when the project does not say: cost is then the price.
    pub uplift: Option<Uplift>,
    /// Tax; `None` when the project does not say.
    pub tax: Option<Tax>,
    /// Spares by kind, listed as lines of their own.
    pub spares: BTreeMap<ItemKind, Decimal>,
    /// The supplier's discount by kind, on cost.
    pub discount: BTreeMap<ItemKind, Decimal>,
    /// How lines are rounded.
    pub rounding: Rounding,
    /// Decimals of the currency.
    pub decimals: u32,
    /// Where the `pricing` block (or else the project) stands.
    pub place: Place,
}
