//! Lines of the materials list.

use super::buy::{Purchase, Sale, buy};
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

/// What a line or two are about.
struct Subject<'a> {
    offer: &'a Offer,
    measured: Measured,
    description: &'a str,
    used_for: &'a [String],
}

/// What the job needs of it.
struct Need {
    needed: Decimal,
    waste: Decimal,
    spare: Decimal,
}

/// Spares of what is cut.
enum Spares {
    /// None are asked for.
    None,
    /// So many metres, which the offcuts have.
    OutOfOffcuts(Decimal),
    /// So many of a stock length, by its place in the list.
    Stock(usize, Decimal),
}

/// Quantities of a line.
#[derive(Default)]
struct Amount {
    needed: Decimal,
    waste: Decimal,
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
        let need = Need {
            needed: counted.needed,
            waste: counted.waste,
            spare: (counted.needed * percent / Decimal::ONE_HUNDRED).ceil(),
        };
        let subject = Subject {
            offer,
            measured: counted.measured,
            description: &offer.description,
            used_for: &counted.used_for,
        };
        let purchase = buy(Sale::of(offer), need.needed + need.waste, need.spare);
        self.own_and_spare(&subject, &need, &purchase)
    }

    /// The line of what the job needs, and that of its spares.
    fn own_and_spare(&self, subject: &Subject, need: &Need, purchase: &Purchase) -> Vec<Line> {
        let from_the_rest = need.spare - purchase.spare.min(need.spare);
        let unit_cost = purchase.step.map(|step| step.price);
        let step_from = purchase.step.map(|step| step.from);
        let (offer, measured) = (subject.offer, subject.measured);
        let mut lines = Vec::new();
        if need.needed > Decimal::ZERO {
            let own = Amount {
                needed: need.needed,
                waste: need.waste,
                bought: purchase.bought,
                left_over: purchase.bought - need.needed - need.waste - from_the_rest,
                unit_cost,
                step_from,
            };
            lines.push(Line {
                used_for: subject.used_for.to_vec(),
                ..self.line(offer, measured, subject.description, own)
            });
        }
        if need.spare > Decimal::ZERO {
            // Where nothing else is needed, what a step or a pack adds is the spares' own.
            let (bought, from_the_rest) = match lines.is_empty() {
                true => (purchase.bought + purchase.spare, Decimal::ZERO),
                false => (purchase.spare, from_the_rest),
            };
            let amount = Amount {
                needed: need.spare,
                waste: Decimal::ZERO,
                bought,
                left_over: bought - (need.spare - from_the_rest),
                unit_cost,
                step_from,
            };
            lines.push(self.spare(offer, measured, subject.description, amount));
        }
        lines
    }

    /// The lines of an item cut from stock lengths, and that of its spares.
    pub(super) fn stocked(&self, cutting: &Cutting) -> Vec<Line> {
        let offer = cutting.offer;
        let spares = self.spares_of(cutting);
        let mut waste = cutting.waste;
        let mut lines = Vec::new();
        for (index, stock) in cutting.stocks.iter().enumerate() {
            let used = cutting.bought.iter().find(|used| used.index == index);
            let need = Need {
                needed: used.map_or(Decimal::ZERO, |used| Decimal::from(used.count)),
                waste: Decimal::ZERO,
                spare: match spares {
                    Spares::Stock(of, count) if of == index => count,
                    _ => Decimal::ZERO,
                },
            };
            let subject = Subject {
                offer,
                measured: Measured::StockLength,
                description: &stock_description(offer, stock),
                used_for: used.map_or(&[], |used| &used.used_for),
            };
            let purchase = buy(Sale::of_length(offer, stock), need.needed, need.spare);
            let mut own = self.own_and_spare(&subject, &need, &purchase);
            // What is lost of the item as a whole stands on its first line.
            if let Some(line) = own.first_mut() {
                line.waste = std::mem::take(&mut waste);
            }
            lines.extend(own);
        }
        if let Spares::OutOfOffcuts(metres) = spares {
            lines.push(self.spare_of_offcuts(cutting, metres));
        }
        lines
    }

    /// Spares of cut items: their share of the length that is used, out of the offcuts where those
    /// have it, or else in the stock length that makes the purchase dearer by least.
    fn spares_of(&self, cutting: &Cutting) -> Spares {
        let percent = self.spare_percent(cutting.offer);
        if percent <= Decimal::ZERO {
            return Spares::None;
        }
        let wanted = (used_metres(cutting) * percent / Decimal::ONE_HUNDRED).normalize();
        if offcut_metres(cutting, wanted) >= wanted {
            return Spares::OutOfOffcuts(wanted);
        }
        let choice = |(index, stock): (usize, &StockLength)| {
            let length = exact_metres(stock.length);
            let count = wanted.checked_div(length)?.ceil();
            let used = cutting.bought.iter().find(|used| used.index == index);
            let used = used.map_or(Decimal::ZERO, |used| Decimal::from(used.count));
            let sale = Sale::of_length(cutting.offer, stock);
            let cost = |spare: Decimal| buy(sale, used, spare).cost();
            let dearer = cost(count).zip(cost(Decimal::ZERO).or(Some(Decimal::ZERO)));
            let dearer = dearer.map(|(with, without)| with - without);
            let had = sale.has(used + count);
            let key = (!had, dearer.is_none(), dearer.unwrap_or(length * count));
            Some((key, index, count))
        };
        let choices = cutting.stocks.iter().enumerate().filter_map(choice);
        let cheapest = choices.min_by_key(|(key, ..)| *key);
        cheapest.map_or(Spares::None, |(_, index, count)| {
            Spares::Stock(index, count)
        })
    }

    /// Spares that are there already: nothing is bought for them.
    fn spare_of_offcuts(&self, cutting: &Cutting, wanted: Decimal) -> Line {
        let amount = Amount {
            needed: wanted,
            ..Amount::default()
        };
        let description = format!("{}, out of the offcuts", cutting.offer.description);
        self.spare(cutting.offer, Measured::Metre, &description, amount)
    }

    /// A line of spares. Where nothing is bought for them they cost nothing, priced or not.
    fn spare(&self, offer: &Offer, measured: Measured, description: &str, amount: Amount) -> Line {
        let description = format!("{description}, spare");
        let free = amount.bought.is_zero();
        let amount = Amount {
            unit_cost: if free {
                Some(Decimal::ZERO)
            } else {
                amount.unit_cost
            },
            step_from: amount.step_from.filter(|_| !free),
            ..amount
        };
        let line = self.line(offer, measured, &description, amount);
        Line {
            spare: true,
            unit_cost: line.unit_cost.filter(|_| !free),
            flags: if free { Vec::new() } else { line.flags },
            ..line
        }
    }

    /// A line for a section that can't be had in one piece: no price, and so in no total.
    pub(super) fn too_long(&self, too_long: &TooLong, sizing: &Sizing) -> Option<Line> {
        let sized = sizing.run(&too_long.run)?;
        let section = sized.sections.get(too_long.section.checked_sub(1)?)?;
        let offer = &sized.run.strip.offer;
        let metres = exact_metres(section.length);
        let amount = Amount {
            needed: metres,
            ..Amount::default()
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
            waste: amount.waste,
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
