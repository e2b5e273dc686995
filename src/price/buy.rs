//! How much of an item to buy: whole packs, smallest orders, and the step of the ladder that makes
//! the total least.

use super::money::{quantity, step};
use crate::model::offer::{Offer, PriceStep, StockLength};
use rust_decimal::Decimal;

/// How something is sold: an item, or one of the lengths that it is sold in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sale<'a> {
    ladder: &'a [PriceStep],
    pack: Decimal,
    smallest: Decimal,
    /// How many can be had; `None` for no limit.
    most: Option<Decimal>,
}

impl<'a> Sale<'a> {
    /// An item sold by the piece or by the metre.
    pub(super) fn of(offer: &'a Offer) -> Sale<'a> {
        Sale {
            ladder: &offer.prices,
            pack: Decimal::from(offer.pack.max(1)),
            smallest: Decimal::from(offer.smallest_order),
            most: None,
        }
    }

    /// A length in which an item is sold, with the item's packs and smallest order.
    pub(super) fn of_length(offer: &'a Offer, stock: &'a StockLength) -> Sale<'a> {
        Sale {
            ladder: &stock.prices,
            most: stock.available.map(Decimal::from),
            ..Sale::of(offer)
        }
    }

    /// The same without a limit of what can be had.
    pub(super) fn without_limit(self) -> Sale<'a> {
        Sale { most: None, ..self }
    }

    /// Whether so much can be had.
    pub(super) fn has(&self, amount: Decimal) -> bool {
        self.most.is_none_or(|most| amount <= most)
    }
}

/// What is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Purchase {
    /// For the job.
    pub bought: Decimal,
    /// For spares, where what is left over of the job's does not cover them.
    pub spare: Decimal,
    /// The step of the ladder for both together; `None` without a price.
    pub step: Option<PriceStep>,
}

impl Purchase {
    /// What it costs together, before discount; `None` without a price.
    pub(super) fn cost(&self) -> Option<Decimal> {
        let together = self.bought + self.spare;
        self.step.map(|step| step.price * together)
    }
}

/// Buys `needed` and `spare` of what is on sale at least cost: more than needed where a step of the
/// ladder makes that cheaper and so much can be had.
pub(super) fn buy(sale: Sale, needed: Decimal, spare: Decimal) -> Purchase {
    let least = quantity(needed, sale.smallest, sale.pack);
    let together = quantity(needed + spare, sale.smallest, sale.pack);
    let up_to = |from: &PriceStep| quantity(from.from.max(together), sale.smallest, sale.pack);
    let further = sale.ladder.iter().map(up_to);
    let further = further.filter(|bought| together > Decimal::ZERO && sale.has(*bought));
    let choices = std::iter::once(together).chain(further);
    let cheapest = choices
        .filter_map(|bought| Some((step(sale.ladder, bought)?, bought)))
        .min_by_key(|(step, bought)| (step.price * bought, *bought));
    let Some((step, bought)) = cheapest else {
        return Purchase {
            bought: least,
            spare: together - least,
            step: None,
        };
    };
    // What is bought up to a step belongs to the job; spares get what they ask for.
    let spare = together - least;
    Purchase {
        bought: bought - spare,
        spare,
        step: Some(step),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::offer::ItemKind;
    use crate::model::sample;

    fn offer(ladder: &[(i64, &str)], pack: usize, smallest_order: usize) -> Offer {
        let step = |(from, price): &(i64, &str)| PriceStep {
            from: Decimal::from(*from),
            price: price.parse().unwrap(),
        };
        Offer {
            prices: ladder.iter().map(step).collect(),
            pack,
            smallest_order,
            ..sample::offer("item", ItemKind::Driver)
        }
    }

    fn bought(offer: &Offer, needed: i64, spare: i64) -> (Decimal, Decimal, Option<Decimal>) {
        let purchase = buy(Sale::of(offer), Decimal::from(needed), Decimal::from(spare));
        (
            purchase.bought,
            purchase.spare,
            purchase.step.map(|s| s.from),
        )
    }

    #[test]
    fn twenty_are_bought_where_eleven_cost_more() {
        // 11 × 10.00 = 110.00; 20 × 5.00 = 100.00.
        let offer = offer(&[(1, "10.00"), (20, "5.00")], 1, 1);
        assert_eq!(
            bought(&offer, 11, 0),
            (20.into(), 0.into(), Some(20.into()))
        );
        // 9 × 10.00 = 90.00.
        assert_eq!(bought(&offer, 9, 0), (9.into(), 0.into(), Some(1.into())));
        // 10 × 10.00 = 20 × 5.00: no more than needed.
        assert_eq!(bought(&offer, 10, 0), (10.into(), 0.into(), Some(1.into())));
    }

    #[test]
    fn packs_and_smallest_orders_hold() {
        let offer = offer(&[(1, "1.00")], 10, 25);
        assert_eq!(bought(&offer, 3, 0), (30.into(), 0.into(), Some(1.into())));
        assert_eq!(bought(&offer, 31, 0), (40.into(), 0.into(), Some(1.into())));
    }

    #[test]
    fn spares_come_out_of_what_is_left_of_a_pack() {
        let offer = offer(&[(1, "1.00")], 10, 1);
        assert_eq!(bought(&offer, 8, 1), (10.into(), 0.into(), Some(1.into())));
        assert_eq!(
            bought(&offer, 10, 1),
            (10.into(), 10.into(), Some(1.into()))
        );
    }

    #[test]
    fn what_spares_add_is_in_the_cost() {
        let offer = offer(&[(1, "1.50")], 10, 1);
        let purchase = buy(Sale::of(&offer), Decimal::from(10), Decimal::from(1));
        assert_eq!(purchase.cost(), Some(Decimal::from(30)));
    }

    // 11 × 10.00 = 110.00; 20 × 5.00 = 100.00, where there are so many.
    #[test]
    fn no_more_is_bought_than_can_be_had() {
        let ladder = offer(&[(1, "10.00"), (20, "5.00")], 1, 1).prices;
        let offer = offer(&[], 1, 1);
        let with = |available: Option<usize>| {
            let stock = StockLength {
                length: crate::quantity::Length::default(),
                prices: ladder.clone(),
                available,
            };
            let sale = Sale::of_length(&offer, &stock);
            let limited = buy(sale, Decimal::from(11), Decimal::ZERO);
            let unlimited = buy(sale.without_limit(), Decimal::from(11), Decimal::ZERO);
            assert_eq!(unlimited.bought, Decimal::from(20));
            limited.bought
        };
        assert_eq!(with(None), Decimal::from(20));
        assert_eq!(with(Some(20)), Decimal::from(20));
        assert_eq!(with(Some(19)), Decimal::from(11));
    }

    #[test]
    fn without_a_price_the_quantity_still_counts() {
        assert_eq!(bought(&offer(&[], 1, 1), 3, 1), (3.into(), 1.into(), None));
    }
}
