//! Lines of the materials list.

use super::buy::buy;
use super::counts::{Counted, exact_metres};
use super::money::{Rounder, Terms, price, printed};
use super::priced::{Line, Measured, PriceFlag};
use super::stock::Cutting;
use super::strip::TooLong;
use crate::choose::sized::Sizing;
use crate::model::offer::{Offer, StockLength};
use crate::model::pricing::Pricing;
use rust_decimal::Decimal;
use time::Date;

/// What lines are priced by.
#[derive(Debug, Clone, Copy)]
pub(super) struct Desk<'a> {
    /// Rates.
    pub pricing: &'a Pricing,
    /// The project's date.
    pub date: Option<Date>,
}

/// Quantities of a line.
struct Amount {
    needed: Decimal,
    bought: Decimal,
    left_over: Decimal,
    unit_cost: Option<Decimal>,
    step_from: Option<Decimal>,
}

impl Desk<'_> {
    /// How amounts are rounded.
    pub(super) fn rounder(&self) -> Rounder {
        Rounder {
            rounding: self.pricing.rounding,
            decimals: self.pricing.decimals,
        }
    }

    /// The selling price of a cost as it is printed, the customer's discount off; `None` for a margin
    /// that leaves no price.
    pub(super) fn sell(&self, cost: Decimal) -> Option<Decimal> {
        let sell = self.undiscounted(cost)?;
        Some(printed(
            sell,
            self.pricing.customer_discount,
            self.rounder(),
        ))
    }

    fn undiscounted(&self, cost: Decimal) -> Option<Decimal> {
        let terms = Terms {
            overhead: self.pricing.overhead,
            contingency: self.pricing.contingency,
            uplift: self.pricing.uplift,
            discount: Decimal::ZERO,
        };
        price(cost, &terms).map(|priced| priced.sell)
    }

    fn spare_percent(&self, offer: &Offer) -> Decimal {
        let spares = &self.pricing.spares;
        spares.get(&offer.kind).copied().unwrap_or_default()
    }

    /// The line of an item bought by the piece or metre, and that of its spares.
    pub(super) fn counted(&self, counted: &Counted) -> Vec<Line> {
        let offer = counted.offer;
        let percent = self.spare_percent(offer);
        let spare = (counted.needed * percent / Decimal::ONE_HUNDRED).ceil();
        let purchase = buy(offer, counted.needed, spare);
        let from_the_rest = spare - purchase.spare.min(spare);
        let unit_cost = purchase.step.map(|step| step.price);
        let step_from = purchase.step.map(|step| step.from);
        let own = Amount {
            needed: counted.needed,
            bought: purchase.bought,
            left_over: purchase.bought - counted.needed - from_the_rest,
            unit_cost,
            step_from,
        };
        let mut lines = vec![Line {
            used_for: counted.used_for.clone(),
            ..self.line(offer, counted.measured, &offer.description, own)
        }];
        if spare > Decimal::ZERO {
            let amount = Amount {
                needed: spare,
                bought: purchase.spare,
                left_over: purchase.spare - (spare - from_the_rest),
                unit_cost,
                step_from,
            };
            lines.push(self.spare(offer, counted.measured, &offer.description, amount));
        }
        lines
    }

    /// The lines of an item cut from stock lengths, and that of its spares.
    pub(super) fn stocked(&self, cutting: &Cutting) -> Vec<Line> {
        let offer = cutting.offer;
        let total: usize = cutting.bought.iter().map(|bought| bought.count).sum();
        // What the smallest order asks for beyond the need is added to the first length.
        let mut short = Decimal::from(offer.smallest_order.saturating_sub(total));
        let mut lines = Vec::new();
        for bought in &cutting.bought {
            let needed = Decimal::from(bought.count);
            let amount = Amount {
                needed,
                bought: needed + short,
                left_over: short,
                unit_cost: bought.stock.price,
                step_from: bought.stock.price.map(|_| Decimal::ONE),
            };
            short = Decimal::ZERO;
            let description = stock_description(offer, bought.stock);
            lines.push(Line {
                used_for: bought.used_for.clone(),
                ..self.line(offer, Measured::StockLength, &description, amount)
            });
        }
        lines.extend(self.spare_stock(cutting));
        lines
    }

    /// Spares of cut items: their share of the length that is used, out of the offcuts where those
    /// have it, or else in the stock length that makes it cheapest.
    fn spare_stock(&self, cutting: &Cutting) -> Option<Line> {
        let percent = self.spare_percent(cutting.offer);
        if percent <= Decimal::ZERO {
            return None;
        }
        let wanted = (used_metres(cutting) * percent / Decimal::ONE_HUNDRED).normalize();
        if offcut_metres(cutting, wanted) >= wanted {
            return Some(self.spare_of_offcuts(cutting, wanted));
        }
        let choice = |stock: &'_ StockLength| {
            let length = exact_metres(stock.length);
            let count = wanted.checked_div(length)?.ceil();
            let cost = stock.price.map(|price| price * count);
            Some((cost.is_none(), cost.unwrap_or(length * count), count))
        };
        let choices = cutting.stocks.iter().filter_map(|s| Some((choice(s)?, s)));
        let ((_, _, count), stock) = choices.min_by_key(|(key, _)| *key)?;
        let amount = Amount {
            needed: count,
            bought: count,
            left_over: Decimal::ZERO,
            unit_cost: stock.price,
            step_from: stock.price.map(|_| Decimal::ONE),
        };
        let description = stock_description(cutting.offer, stock);
        Some(self.spare(cutting.offer, Measured::StockLength, &description, amount))
    }

    /// Spares that are there already: nothing is bought for them.
    fn spare_of_offcuts(&self, cutting: &Cutting, wanted: Decimal) -> Line {
        let amount = Amount {
            needed: wanted,
            bought: Decimal::ZERO,
            left_over: Decimal::ZERO,
            unit_cost: Some(Decimal::ZERO),
            step_from: None,
        };
        let description = format!("{}, out of the offcuts", cutting.offer.description);
        Line {
            unit_cost: None,
            ..self.spare(cutting.offer, Measured::Metre, &description, amount)
        }
    }

    fn spare(&self, offer: &Offer, measured: Measured, description: &str, amount: Amount) -> Line {
        Line {
            spare: true,
            ..self.line(offer, measured, &format!("{description}, spare"), amount)
        }
    }

    /// A line for a section that can't be had in one piece: no price, and so in no total.
    pub(super) fn too_long(&self, too_long: &TooLong, sizing: &Sizing) -> Option<Line> {
        let sized = sizing
            .runs
            .iter()
            .find(|sized| sized.run.name == too_long.run)?;
        let section = sized.sections.get(too_long.section.checked_sub(1)?)?;
        let offer = &sized.run.strip.offer;
        let metres = exact_metres(section.length);
        let amount = Amount {
            needed: metres,
            bought: Decimal::ZERO,
            left_over: Decimal::ZERO,
            unit_cost: None,
            step_from: None,
        };
        let description = format!(
            "{}, {metres} m in one piece: longer than any reel",
            offer.description
        );
        Some(Line {
            used_for: vec![too_long.run.clone()],
            ..self.line(offer, Measured::Metre, &description, amount)
        })
    }

    fn line(&self, offer: &Offer, measured: Measured, description: &str, amount: Amount) -> Line {
        let discount = self
            .pricing
            .discount
            .get(&offer.kind)
            .copied()
            .unwrap_or_default();
        let kept = Decimal::ONE - discount / Decimal::ONE_HUNDRED;
        let cost = amount.unit_cost.map(|unit| amount.bought * unit * kept);
        let sell = cost.and_then(|cost| self.sell(cost));
        let rounder = self.rounder();
        let stale = offer
            .price_valid_until
            .filter(|until| self.date.is_some_and(|date| *until < date));
        let flag = match (cost, stale) {
            (None, _) => Some(PriceFlag::Missing),
            (Some(_), Some(until)) => Some(PriceFlag::Stale(until)),
            (Some(_), None) => None,
        };
        Line {
            number: 0,
            kind: offer.kind,
            item: offer.id.clone(),
            description: description.to_owned(),
            spare: false,
            measured,
            needed: amount.needed,
            pack: offer.pack,
            bought: amount.bought,
            left_over: amount.left_over,
            unit_cost: amount.unit_cost,
            step_from: amount.step_from,
            discount,
            cost: cost.map(|cost| rounder.round(cost)),
            sell,
            flags: flag.into_iter().collect(),
            lead_time_days: offer.lead_time_days,
            price_valid_until: offer.price_valid_until,
            supplier: offer.supplier.clone(),
            used_for: Vec::new(),
        }
    }
}

/// Metres of pieces cut.
fn used_metres(cutting: &Cutting) -> Decimal {
    let pieces = cutting.cuts.iter().flat_map(|cut| &cut.pieces);
    pieces.map(|piece| exact_metres(piece.length)).sum()
}

/// Metres of offcuts that are worth keeping: a metre long, or as long as all that is wanted.
fn offcut_metres(cutting: &Cutting, wanted: Decimal) -> Decimal {
    let offcuts = cutting.cuts.iter().map(|cut| exact_metres(cut.offcut));
    offcuts
        .filter(|offcut| *offcut >= wanted.min(Decimal::ONE))
        .sum()
}

/// `…, reel of 5 m`.
fn stock_description(offer: &Offer, stock: &StockLength) -> String {
    use crate::model::offer::ItemKind;
    let word = match offer.kind {
        ItemKind::Strip => "reel",
        ItemKind::Cable => "drum",
        _ => "bar",
    };
    let metres = exact_metres(stock.length);
    format!("{}, {word} of {metres} m", offer.description)
}
