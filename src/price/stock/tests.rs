//! Stock lengths with and without prices, enough of them and too few.

use super::*;
use crate::model::offer::PriceStep;
use crate::model::sample::offer;
use uom::si::length::meter;

#[test]
fn a_long_piece_is_made_of_whole_stock_and_a_rest() {
    assert_eq!(parts(184, 100), [100, 84]);
    assert_eq!(parts(200, 100), [100, 100]);
    assert_eq!(parts(84, 100), [84]);
    assert_eq!(parts(84, 0), Vec::<u64>::new());
}

#[test]
fn prices_are_compared_to_the_hundredth_of_a_cent() {
    let price = Decimal::new(23_405, 2);
    assert_eq!(parts_of(price), Some(2_340_500));
    assert_eq!(price_of(2_340_500), price);
    assert_eq!(price_of(2_340_507), Decimal::new(2_340_507, 4));
}

/// A reel of so many metres.
fn reel(metres: f64, price: Option<i64>, available: Option<usize>) -> StockLength {
    let step = |price: i64| PriceStep {
        from: Decimal::ONE,
        price: Decimal::from(price),
    };
    StockLength {
        length: Length::new::<meter>(metres),
        prices: price.map(step).into_iter().collect(),
        available,
    }
}

/// Which reels are used, how many of each, for pieces of so many decimetres; and whether that
/// is more than there is.
fn used(stocks: &[StockLength], decimetres: &[u64]) -> (Vec<(usize, usize)>, bool) {
    let unit = Unit {
        length: Length::new::<meter>(0.1),
        kerf: 0,
    };
    let piece = |units: &u64| Wanted {
        run: "shelf".to_owned(),
        section: 1,
        part: 1,
        parts: 1,
        units: *units,
        at: 0,
    };
    let wanted: Vec<Wanted> = decimetres.iter().map(piece).collect();
    let offer = offer("shelf", ItemKind::Strip);
    let cutting = cut_all(&offer, stocks, unit, &wanted).expect("it can be cut");
    let bought = cutting.bought.iter();
    let bought = bought.map(|bought| (bought.index, bought.count)).collect();
    (bought, cutting.short_of_stock)
}

#[test]
fn without_any_price_the_least_length_of_reels_is_taken() {
    let reels = [reel(5.0, None, None), reel(3.0, None, None)];
    assert_eq!(used(&reels, &[29]), (vec![(1, 1)], false));
    // 3 + 3 m, not 5 + 5 m nor 5 + 3 m.
    assert_eq!(used(&reels, &[29, 28]), (vec![(1, 2)], false));
    assert_eq!(used(&reels, &[31, 18]), (vec![(0, 1)], false));
}

#[test]
fn a_reel_without_a_price_is_as_dear_by_length_as_the_dearest_other() {
    // Only the reel of 5 m holds 4 m; at 10.00 for 2 m and 3.00 for 1 m its metre counts 5.00.
    let reels = [
        reel(5.0, None, None),
        reel(2.0, Some(10), None),
        reel(1.0, Some(3), None),
    ];
    assert_eq!(used(&reels, &[40, 10]), (vec![(0, 1)], false));
    assert_eq!(used(&reels, &[40, 10, 10]), (vec![(0, 1), (2, 1)], false));
}

#[test]
fn no_more_reels_are_used_than_there_are_while_others_do() {
    let reels = [reel(5.0, Some(10), Some(1)), reel(6.0, Some(20), None)];
    assert_eq!(used(&reels, &[40, 40]), (vec![(0, 1), (1, 1)], false));
}

#[test]
fn more_reels_than_there_are_are_said_to_be_short_of_stock() {
    for price in [Some(10), None] {
        let reels = [reel(5.0, price, Some(1))];
        assert_eq!(used(&reels, &[40]), (vec![(0, 1)], false));
        assert_eq!(used(&reels, &[40, 40]), (vec![(0, 2)], true));
    }
}
