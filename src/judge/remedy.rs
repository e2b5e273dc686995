//! What would cure a run, worked out: the cheapest change of feed and cable that keeps its limits.

use super::rule::Evidence;
use crate::choose;
use crate::choose::sized::SizedRun;
use crate::choose::what_if::Remedy;
use crate::model::Choice;
use crate::model::run::FeedWish;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::money;
use rust_decimal::Decimal;
use uom::si::ratio::percent;

/// The remedy for a run that breaks a limit of its light or volts: an edit of the project file
/// that was tried and keeps every limit, or else what the nearest arrangement lacks.
pub fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> String {
    match choose::remedy(evidence.project, sized) {
        Some(remedy) => edit(evidence, sized, &remedy),
        None => beyond_reach(sized),
    }
}

/// The edit in the words of the project file, with what it leads to.
fn edit(evidence: &Evidence<'_>, sized: &SizedRun, remedy: &Remedy) -> String {
    let drop = Figure::new(remedy.light_drop.get::<percent>(), Unit::Percent);
    let extra = remedy
        .cost_difference
        .map(|cost| more(cost, &evidence.project.catalogue.currency));
    format!(
        "set {} (feeds it: {}, with cable `{}`): light drop {drop} (limit {}){}",
        keys(sized).join(" and "),
        remedy.arrangement,
        remedy.cable,
        remedy.limit.limit,
        extra.unwrap_or_default(),
    )
}

/// The keys of the run to set to `auto`: those that are not.
fn keys(sized: &SizedRun) -> Vec<&'static str> {
    let mut keys = Vec::new();
    if sized.run.feed != FeedWish::Auto {
        keys.push("`feed: auto`");
    }
    if matches!(sized.run.cable, Choice::Given(_)) {
        keys.push("`cable: auto`");
    }
    keys
}

fn more(cost: Decimal, currency: &str) -> String {
    let sign = if cost.is_sign_negative() { "−" } else { "+" };
    format!(", {sign}{} {currency}", money::show(cost.abs(), 2))
}

/// No arrangement within the run's reach keeps the limits.
fn beyond_reach(sized: &SizedRun) -> String {
    match &sized.unmet {
        Some(unmet) => format!(
            "nothing in the catalogue and within reach keeps every limit; nearest: {} {}; {}",
            unmet.limit, unmet.by, unmet.cure
        ),
        None => "no other feed within reach keeps every limit: give `to_end` or `reach_along: yes` \
                 if the place allows it, or a shorter run, a strip of less power or of higher voltage"
            .to_owned(),
    }
}
