//! How much of an item to buy: whole packs, smallest orders, and the step of the ladder that makes
//! the total least.

use super::money::{quantity, step};
use crate::model::offer::{Offer, PriceStep};
use rust_decimal::Decimal;

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

/// Buys `needed` and `spare` of an item at least cost: more than needed where a step of the ladder
/// makes that cheaper.
pub(super) fn buy(offer: &Offer, needed: Decimal, spare: Decimal) -> Purchase {
    let pack = Decimal::from(offer.pack.max(1));
    let smallest = Decimal::from(offer.smallest_order);
    let least = quantity(needed, smallest, pack);
    let together = quantity(needed + spare, smallest, pack);
    let up_to = |from: &PriceStep| quantity(from.from.max(together), smallest, pack);
    let choices = std::iter::once(together).chain(offer.prices.iter().map(up_to));
    let cheapest = choices
        .filter_map(|bought| Some((step(&offer.prices, bought)?, bought)))
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
    use crate::diagnostic::Place;
    use crate::model::offer::ItemKind;

    fn offer(ladder: &[(i64, &str)], pack: usize, smallest_order: usize) -> Offer {
        let step = |(from, price): &(i64, &str)| PriceStep {
            from: Decimal::from(*from),
            price: price.parse().unwrap(),
        };
        Offer {
            id: "item".to_owned(),
            description: "item".to_owned(),
            kind: ItemKind::Driver,
            prices: ladder.iter().map(step).collect(),
            pack,
            smallest_order,
            lead_time_days: None,
            labour: None,
            price_valid_until: None,
            supplier: None,
            place: Place {
                file: "made.yaml".into(),
                line: 1,
                column: 1,
            },
        }
    }

    fn bought(offer: &Offer, needed: i64, spare: i64) -> (Decimal, Decimal, Option<Decimal>) {
        let purchase = buy(offer, Decimal::from(needed), Decimal::from(spare));
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
    fn without_a_price_the_quantity_still_counts() {
        assert_eq!(bought(&offer(&[], 1, 1), 3, 1), (3.into(), 1.into(), None));
    }
}
