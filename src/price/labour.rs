//! Labour and commissioning: minutes for one, times how many.

use super::counts::{Counts, exact_metres};
use super::line::Desk;
use super::priced::LabourLine;
use super::stock::Cutting;
use crate::allocate::allocated::Allocation;
use crate::model::offer::Offer;
use crate::model::project::Project;
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
    let timed = works
        .iter()
        .filter_map(|work| Some((work, work.offer.labour?)));
    let lines = timed.map(|(work, each)| {
        let kind = work.offer.kind;
        let what = format!("fit {}", work.offer.description);
        LabourLine {
            trade: desk.pricing.trade(kind).map(|trade| trade.name.clone()),
            ..line(
                what,
                work.quantity,
                each,
                desk.pricing.labour_rate_on(kind),
                desk,
            )
        }
    });
    lines
        .filter(|line| line.each.get::<second>() > 0.0)
        .collect()
}

/// The lines of commissioning that the project asks for.
pub(super) fn commissioning(
    project: &Project,
    allocation: &Allocation,
    desk: &Desk,
) -> Vec<LabourLine> {
    let Some(asked) = &desk.pricing.commissioning else {
        return Vec::new();
    };
    let rate = asked.rate.or(desk.pricing.labour_rate);
    let devices = allocation.loops.iter().map(|one| one.members.len()).sum();
    let all: [(&str, usize, Option<Time>); 4] = [
        ("find, address and group a device", devices, asked.device),
        ("prove a loop", allocation.loops.len(), asked.control_loop),
        ("test a circuit", allocation.circuits.len(), asked.circuit),
        ("set and store a scene", project.scenes.len(), asked.scene),
    ];
    let lines = all.into_iter().filter_map(|(what, count, each)| {
        let each = each.filter(|each| each.get::<second>() > 0.0 && count > 0)?;
        Some(line(
            what.to_owned(),
            Decimal::from(count),
            each,
            rate,
            desk,
        ))
    });
    lines.collect()
}

/// A line of work of no trade.
fn line(
    work: String,
    quantity: Decimal,
    each: Time,
    rate: Option<Decimal>,
    desk: &Desk,
) -> LabourLine {
    let hours = hours(each, quantity);
    let cost = rate.map(|rate| hours * rate);
    let rounder = desk.rounder();
    LabourLine {
        work,
        trade: None,
        quantity,
        each,
        hours,
        cost: cost.map(|cost| rounder.round(cost)),
        sell: cost.and_then(|cost| desk.sell(cost)),
    }
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
