//! What would cure a run, worked out: the cheapest change of feed and cable that keeps its limits.

use super::rule::Evidence;
use crate::choose;
use crate::choose::sized::SizedRun;
use crate::choose::what_if::Remedy;
use crate::model::Choice;
use crate::model::project::Project;
use crate::model::run::FeedWish;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::{Voltage, money};
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::si::electric_potential::volt;
use uom::si::ratio::percent;

/// How a remedy that was tried is told from one in general words.
pub const TRIED: &str = "(feeds it: ";

/// The remedy for a run that breaks a limit of its light or volts: an edit of the project file
/// that was tried and keeps every limit, or else what the nearest arrangement lacks.
pub fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> String {
    if let Some(other) = other_voltage(sized) {
        return other;
    }
    if let Some(remedy) = choose::remedy(evidence.project, sized) {
        return edit(evidence, sized, &remedy, false);
    }
    if !sized.run.reach_along
        && let Some(remedy) = choose::remedy(&reaching_along(evidence.project, sized), sized)
    {
        let edit = edit(evidence, sized, &remedy, true);
        return format!("if cable may run beside the strip: {edit}");
    }
    beyond_reach(sized)
}

/// What to do first where the driver that was given is of another voltage than the strip.
fn other_voltage(sized: &SizedRun) -> Option<String> {
    let given = sized.run.driver.given()?;
    let (there, wanted) = (given.output.voltage, sized.run.strip.voltage);
    let volts = |value: Voltage| Figure::new(value.get::<volt>(), Unit::Volt);
    (there != wanted).then(|| {
        format!(
            "a driver of {}, the strip’s voltage, in place of `{}` of {}",
            volts(wanted),
            given.offer.id,
            volts(there)
        )
    })
}

/// The project with `reach_along: yes` for that run.
fn reaching_along(project: &Project, sized: &SizedRun) -> Project {
    let mut project = project.clone();
    for run in &mut project.runs {
        if run.name == sized.run.name {
            Arc::make_mut(run).reach_along = true;
        }
    }
    project
}

/// The edit in the words of the project file, with what it leads to.
fn edit(evidence: &Evidence<'_>, sized: &SizedRun, remedy: &Remedy, along: bool) -> String {
    let drop = Figure::new(remedy.light_drop.get::<percent>(), Unit::Percent);
    let currency = &evidence.project.catalogue.currency;
    let extra = remedy
        .cost_difference
        .map(|cost| format!("{} before overhead and margin", more(cost, currency)));
    format!(
        "set {} {TRIED}{}, with cable `{}`): light drop {drop} (limit {}){}",
        keys(sized, along).join(" and "),
        remedy.arrangement,
        remedy.cable,
        remedy.limit.limit,
        extra.unwrap_or_default(),
    )
}

/// The keys of the run to set.
fn keys(sized: &SizedRun, along: bool) -> Vec<&'static str> {
    let mut keys = Vec::new();
    if along {
        keys.push("`reach_along: yes`");
    }
    if sized.run.feed != FeedWish::Auto {
        keys.push("`feed: auto`");
    }
    if matches!(sized.run.cable, Choice::Given(_)) {
        keys.push("`cable: auto`");
    }
    keys
}

/// Advice to leave the feeds of a run to the program, or else to do what `otherwise` says; only that
/// where they are left to it already.
pub fn unless_auto(sized: &SizedRun, leave: &str, otherwise: &str) -> String {
    if sized.run.feed == FeedWish::Auto {
        otherwise.to_owned()
    } else {
        format!("{leave}{otherwise}")
    }
}

/// The same for feeds and cable, whichever is not left to the program.
pub fn unless_both_auto(sized: &SizedRun, otherwise: &str) -> String {
    match keys(sized, false).join(" and ") {
        keys if keys.is_empty() => otherwise.to_owned(),
        keys => format!("set {keys}, or {otherwise}"),
    }
}

/// `, +41.20 EUR`.
pub fn more(cost: Decimal, currency: &str) -> String {
    let sign = if cost.is_sign_negative() { "−" } else { "+" };
    format!(", {sign}{} {currency}", money::show(cost.abs(), 2))
}

/// No arrangement within the run's reach keeps the limits.
fn beyond_reach(sized: &SizedRun) -> String {
    match &sized.unmet {
        Some(unmet) => format!(
            "nothing in the catalogue and within reach keeps every limit; nearest: {}; {}",
            unmet.what(),
            unmet.cure
        ),
        None => "no other feed within reach keeps every limit: give `to_end` or `reach_along: yes` \
                 if the place allows it, or a shorter run, a strip of less power or of higher voltage"
            .to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// The feed loses 9.3 % on 1.5 mm² of class 5 and may lose 5 %. By resistance (IEC 60228: 13.3,
    /// 7.98 and 4.95 Ω/km) it would lose 5.6 % on 2.5 mm² and 3.5 % on 4 mm².
    #[test]
    fn a_run_that_only_a_thicker_cable_cures_is_told_to_leave_the_cable_to_the_program() {
        let end = "length: 4 m, group: outside, cupboard: cupboard-a, to_start: 5 m";
        let thin = "length: 4 m, group: outside, cupboard: cupboard-a, feed: start, \
                    cable: feed-2x1.5, to_start: 40 m";
        let job = Sample::with(end, thin);
        let told = of_run(&job.evidence(), &job.sizing.runs[2]);
        let wanted = "set `feed: auto` and `cable: auto` (feeds it: start, with cable `feed-2x4`)";
        assert!(told.starts_with(wanted), "{told}");
    }

    #[test]
    fn what_is_left_to_the_program_is_not_advised_again() {
        let told = |more: &str| {
            let run = format!("length: 4 m, group: outside, cupboard: cupboard-a, {more}");
            let end = "length: 4 m, group: outside, cupboard: cupboard-a, to_start: 5 m";
            let job = Sample::with(end, &format!("{run}, to_start: 5 m"));
            unless_both_auto(&job.sizing.runs[2], "do that")
        };
        assert_eq!(told("feed: auto, cable: auto"), "do that");
        assert_eq!(
            told("feed: start, cable: auto"),
            "set `feed: auto`, or do that"
        );
        assert_eq!(
            told("feed: auto, cable: feed-2x4"),
            "set `cable: auto`, or do that"
        );
        let both = "set `feed: auto` and `cable: auto`, or do that";
        assert_eq!(told("feed: start, cable: feed-2x4"), both);
    }
}
