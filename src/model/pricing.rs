//! How costs become a price.

use super::cable::Cable;
use super::offer::ItemKind;
use crate::diagnostic::Place;
use crate::quantity::{Length, Time};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use time::Date;

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

/// Where a tax is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TaxRounding {
    /// Once for each rate, on the sum of its lines: EN 16931-1, rule BR-CO-17 (from memory).
    #[default]
    Rate,
    /// On each line.
    Line,
}

/// A tax outside the net total.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Tax {
    /// Its name.
    pub name: String,
    /// Its rate in percent, for what has none of its own.
    pub rate: Decimal,
    /// The rate on labour, where it has its own.
    pub labour: Option<Decimal>,
    /// Rates of kinds of item that have their own.
    pub kinds: BTreeMap<ItemKind, Decimal>,
    /// Where it is rounded.
    pub rounding: TaxRounding,
}

impl Tax {
    /// The rate on items of a kind; on labour for `None`.
    #[must_use]
    pub fn rate_on(&self, kind: Option<ItemKind>) -> Decimal {
        let own = match kind {
            Some(kind) => self.kinds.get(&kind).copied(),
            None => self.labour,
        };
        own.unwrap_or(self.rate)
    }
}

/// A trade that fits items of some kinds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trade {
    /// Its name.
    pub name: String,
    /// Price of an hour; `None`: as for all other work.
    pub rate: Option<Decimal>,
    /// What it fits.
    pub kinds: Vec<ItemKind>,
}

/// Time to commission what is on the control bus and the mains, at what rate. A time that is `None` is
/// not priced.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Commissioning {
    /// Price of an hour; `None`: as for all other work.
    pub rate: Option<Decimal>,
    /// To find, address and group a device on the bus.
    pub device: Option<Time>,
    /// To prove a loop.
    pub control_loop: Option<Time>,
    /// To test a mains circuit.
    pub circuit: Option<Time>,
    /// To set and store a scene.
    pub scene: Option<Time>,
}

/// An amount set aside for work that can't be counted yet, at selling price before tax.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ProvisionalSum {
    /// What it is for.
    pub what: String,
    /// How much.
    pub amount: Decimal,
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
    /// Trades, in file order; work on kinds that none names belongs to none.
    pub trades: Vec<Trade>,
    /// Commissioning; `None` when the project prices none.
    pub commissioning: Option<Commissioning>,
    /// Provisional sums, in file order; they bear neither margin nor discount.
    pub provisional: Vec<ProvisionalSum>,
    /// Off the selling price of every line, for the customer.
    pub customer_discount: Decimal,
    /// Tax; `None` when the project does not say.
    pub tax: Option<Tax>,
    /// Spares by kind, listed as lines of their own.
    pub spares: BTreeMap<ItemKind, Decimal>,
    /// The supplier's discount by kind, on cost.
    pub discount: BTreeMap<ItemKind, Decimal>,
    /// Cable lost in cutting and at ends, in percent of what is needed; `None` when the project does
    /// not say: none is reckoned.
    pub cable_waste: Option<Decimal>,
    /// Offcuts at least this long are kept, by kind; `None` for a kind: nobody says.
    pub keep_offcut: BTreeMap<ItemKind, Length>,
    /// Last day on which the quotation can be accepted; `None` when the project does not say.
    pub valid_until: Option<Date>,
    /// How lines are rounded.
    pub rounding: Rounding,
    /// Decimals of the currency.
    pub decimals: u32,
    /// Where the `pricing` block (or else the project) stands.
    pub place: Place,
}

impl Default for Pricing {
    /// Cost is the price, labour has none, and the currency has cents.
    fn default() -> Self {
        Pricing {
            labour_rate: None,
            overhead: Decimal::ZERO,
            contingency: Decimal::ZERO,
            uplift: None,
            trades: Vec::new(),
            commissioning: None,
            provisional: Vec::new(),
            customer_discount: Decimal::ZERO,
            tax: None,
            spares: BTreeMap::new(),
            discount: BTreeMap::new(),
            cable_waste: None,
            keep_offcut: BTreeMap::new(),
            valid_until: None,
            rounding: Rounding::default(),
            decimals: 2,
            place: Place::default(),
        }
    }
}

impl Pricing {
    /// What is lost of a cable in cutting and at its ends, in percent: its own, or else the project's.
    #[must_use]
    pub fn waste(&self, cable: &Cable) -> Decimal {
        let own = cable.detail.waste.or(self.cable_waste);
        own.unwrap_or_default()
    }

    /// The trade that fits items of a kind, if one is named for it.
    #[must_use]
    pub fn trade(&self, kind: ItemKind) -> Option<&Trade> {
        self.trades.iter().find(|trade| trade.kinds.contains(&kind))
    }

    /// Price of an hour of work on items of a kind; `None` when the project does not say.
    #[must_use]
    pub fn labour_rate_on(&self, kind: ItemKind) -> Option<Decimal> {
        let own = self.trade(kind).and_then(|trade| trade.rate);
        own.or(self.labour_rate)
    }
}
