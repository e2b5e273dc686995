//! Labour: minutes to fit one, times how many.

use super::counts::{Counts, exact_metres};
use super::line::Desk;
use super::priced::LabourLine;
use super::stock::Cutting;
use crate::model::offer::Offer;
use crate::quantity::{Length, Time};
use rust_decimal::{Decimal, RoundingStrategy};
use uom::ConstZero;
use uom::si::time::second;

/// Decimals of hours, as they are printed and charged.
const HOUR_DECIMALS: u32 = 2;

/// What the work on an item is for, and how much there is of it: pieces, or metres of what is cut.
pub(super) struct Work<'a> {
    /// The item.
    pub offer: &'a Offer,
    /// How many pieces or metres are fitted.
    pub quantity: Decimal,
}

/// The work on everything that the job needs, spares and offcuts not counted.
pub(super) fn works<'a>(counts: &Counts<'a>, cuttings: &[&Cutting<'a>]) -> Vec<Work<'a>> {
    let mut works: Vec<Work> = cuttings
        .iter()
        .map(|cutting| {
            let pieces = cutting.cuts.iter().flat_map(|cut| &cut.pieces);
            let length: Length = pieces.fold(Length::ZERO, |sum, piece| sum + piece.length);
            Work {
                offer: cutting.offer,
                quantity: exact_metres(length) - cutting.waste,
            }
        })
        .collect();
    works.extend(counts.iter().map(|counted| Work {
        offer: counted.offer,
        quantity: counted.needed,
    }));
    works.sort_by(|a, b| (a.offer.kind, &a.offer.id).cmp(&(b.offer.kind, &b.offer.id)));
    works
}

/// The lines of labour. Hours are rounded as they are printed, and charged as they are printed.
pub(super) fn lines(works: &[Work], desk: &Desk) -> Vec<LabourLine> {
    works
        .iter()
        .filter_map(|work| Some((work, work.offer.labour?)))
        .filter(|(_, each)| each.get::<second>() > 0.0)
        .map(|(work, each)| {
            let hours = hours(each, work.quantity);
            let kind = work.offer.kind;
            let rate = desk.pricing.labour_rate_on(kind);
            let cost = rate.map(|rate| hours * rate);
            let rounder = desk.rounder();
            let sell = cost.and_then(|cost| desk.sell(cost));
            LabourLine {
                work: format!("fit {}", work.offer.description),
                quantity: work.quantity,
                each,
                hours,
                cost: cost.map(|cost| rounder.round(cost)),
                sell,
                trade: desk.pricing.trade(kind).map(|trade| trade.name.clone()),
            }
        })
        .collect()
}

fn hours(each: Time, quantity: Decimal) -> Decimal {
    let exact = seconds(each) * quantity / Decimal::from(3600);
    let mut hours =
        exact.round_dp_with_strategy(HOUR_DECIMALS, RoundingStrategy::MidpointAwayFromZero);
    hours.rescale(HOUR_DECIMALS);
    hours
}

fn seconds(time: Time) -> Decimal {
    let seconds = Decimal::try_from(time.get::<second>()).unwrap_or_default();
    seconds.round_dp(3)
}
