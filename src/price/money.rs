//! From costs to net, tax and gross, on exact decimals.
//!
//! Every amount stays unrounded until the rule says to round it: by line (each line is rounded,
//! and totals are sums of what is printed) or on the totals.

use crate::model::offer::PriceStep;
use crate::model::pricing::{Rounding, TaxRounding, Uplift};
use rust_decimal::{Decimal, RoundingStrategy};
use std::collections::BTreeMap;

/// Where amounts are rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RoundingAt {
    /// Each line; totals are sums of rounded lines.
    #[default]
    Line,
    /// The totals only.
    Total,
}

/// What is bought of an item, and at what price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Order {
    /// Quantity: whole packs, at least the smallest order.
    pub quantity: Decimal,
    /// The step of the ladder that holds at that quantity.
    pub step: PriceStep,
}

/// The smallest order that covers `needed`: rounded up to whole units, the smallest order and
/// whole packs. Nothing needed, nothing ordered.
#[must_use]
pub fn quantity(needed: Decimal, smallest: Decimal, pack: Decimal) -> Decimal {
    if needed <= Decimal::ZERO {
        return Decimal::ZERO;
    }
    let pack = pack.max(Decimal::ONE);
    let wanted = needed.ceil().max(smallest);
    (wanted / pack).ceil() * pack
}

/// The step of a ladder that holds at `quantity`; the first step below its own `from`; `None` for
/// an empty ladder.
#[must_use]
pub fn step(ladder: &[PriceStep], quantity: Decimal) -> Option<PriceStep> {
    ladder
        .iter()
        .rfind(|step| step.from <= quantity)
        .or_else(|| ladder.first())
        .copied()
}

/// `needed` more by `percent`.
#[must_use]
pub fn with_spares(needed: Decimal, percent: Decimal) -> Decimal {
    needed * (Decimal::ONE + percent / Decimal::ONE_HUNDRED)
}

/// How a cost becomes a selling price. All rates in percent.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Terms {
    /// Added to the cost first.
    pub overhead: Decimal,
    /// Added to cost with overhead.
    pub contingency: Decimal,
    /// Margin or markup; none: sold at cost.
    pub uplift: Option<Uplift>,
    /// Taken off the selling price.
    pub discount: Decimal,
}

/// A cost on its way to a price.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Priced {
    /// Cost with overhead and contingency.
    pub loaded: Decimal,
    /// Selling price, discount off, unrounded.
    pub sell: Decimal,
}

/// The selling price of `cost`. A margin of 100 % and more has none.
#[must_use]
pub fn price(cost: Decimal, terms: &Terms) -> Option<Priced> {
    let loaded = with_spares(with_spares(cost, terms.overhead), terms.contingency);
    let less_discount = loaded * (Decimal::ONE_HUNDRED - terms.discount);
    // Multiplied out before the one division, which alone can't always be exact.
    let sell = match terms.uplift {
        None => less_discount / Decimal::ONE_HUNDRED,
        Some(Uplift::Markup(percent)) => {
            less_discount * (Decimal::ONE_HUNDRED + percent) / Decimal::from(10_000)
        }
        Some(Uplift::Margin(percent)) => {
            let rest = Decimal::ONE_HUNDRED - percent;
            if rest <= Decimal::ZERO {
                return None;
            }
            less_discount / rest
        }
    };
    Some(Priced { loaded, sell })
}

/// How amounts are rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rounder {
    /// Which way halves go.
    pub rounding: Rounding,
    /// Decimals of the currency.
    pub decimals: u32,
}

impl Rounder {
    /// The amount, rounded.
    #[must_use]
    pub fn round(self, amount: Decimal) -> Decimal {
        let strategy = match self.rounding {
            Rounding::HalfUp => RoundingStrategy::MidpointAwayFromZero,
            Rounding::HalfEven => RoundingStrategy::MidpointNearestEven,
        };
        let mut rounded = amount.round_dp_with_strategy(self.decimals, strategy);
        rounded.rescale(self.decimals);
        rounded
    }
}

/// A line on its way into the totals.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Sold {
    /// Selling price, unrounded.
    pub sell: Decimal,
    /// Tax on it, in percent.
    pub tax: Decimal,
}

/// Net, tax and gross.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sums {
    /// Each line's net, as printed; unrounded when rounding is on the total.
    pub lines: Vec<Decimal>,
    /// Net total.
    pub net: Decimal,
    /// Tax by rate in percent.
    pub tax_by_rate: BTreeMap<Decimal, Decimal>,
    /// Tax in all.
    pub tax: Decimal,
    /// Net and tax.
    pub gross: Decimal,
}

/// The net of a line as it is printed: rounded, and rounded again after `discount` percent off.
#[must_use]
pub fn printed(sell: Decimal, discount: Decimal, rounder: Rounder) -> Decimal {
    let rounded = rounder.round(sell);
    if discount > Decimal::ZERO {
        let kept = Decimal::ONE_HUNDRED - discount;
        rounder.round(rounded * kept / Decimal::ONE_HUNDRED)
    } else {
        rounded
    }
}

/// Sums lines, with `discount` percent off the whole document. With rounding on each line `tax`
/// says whether the tax is rounded there too.
#[must_use]
pub fn sums(
    lines: &[Sold],
    discount: Decimal,
    rounder: Rounder,
    at: RoundingAt,
    tax: TaxRounding,
) -> Sums {
    let off = |amount: Decimal| amount * (Decimal::ONE_HUNDRED - discount) / Decimal::ONE_HUNDRED;
    let by_line = at == RoundingAt::Line && tax == TaxRounding::Line;
    let net_of = |line: &Sold| match at {
        RoundingAt::Line => printed(line.sell, discount, rounder),
        RoundingAt::Total => off(line.sell),
    };
    let nets: Vec<Decimal> = lines.iter().map(net_of).collect();
    let mut tax_by_rate: BTreeMap<Decimal, Decimal> = BTreeMap::new();
    for (line, net) in lines.iter().zip(&nets) {
        let tax = net * line.tax / Decimal::ONE_HUNDRED;
        let tax = if by_line { rounder.round(tax) } else { tax };
        *tax_by_rate.entry(line.tax).or_default() += tax;
    }
    for tax in tax_by_rate.values_mut() {
        *tax = rounder.round(*tax);
    }
    let net = rounder.round(nets.iter().sum());
    let tax = rounder.round(tax_by_rate.values().sum());
    Sums {
        lines: nets,
        net,
        tax_by_rate,
        tax,
        gross: net + tax,
    }
}
