//! Which lines of the price rest on an assumption, and how the project is when it turns out the
//! other way.

use super::priced::{Line, Stake};
use crate::choose::sized::{Section, Sizing};
use crate::model::alternate::Alteration;
use crate::model::assumption::Assumption;
use crate::model::cable::CableUse;
use crate::model::driver::Mixing;
use crate::model::limits::Limits;
use crate::model::offer::ItemKind;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::strip::RailsKnown;
use crate::norms::defaults::{evenness, slack_share};
use crate::quantity::{Length, Ratio, ResistancePerLength, Temperature};
use crate::solve::strip_model::STARTS_AT;
use rust_decimal::Decimal;
use std::collections::HashSet;
use uom::si::length::millimeter;
use uom::si::ratio::{percent, ratio};
use uom::si::thermodynamic_temperature::degree_celsius;

/// What an assumption touches.
pub(super) fn of(assumption: &Assumption, lines: &[Line], project: &Project) -> Stake {
    let runs = runs_of(assumption, project);
    let touched = lines
        .iter()
        .filter(|line| touches(assumption, line, project, &runs));
    Stake {
        lines: touched.map(|line| line.number).collect(),
        otherwise: None,
    }
}

/// The runs that have to do with what an assumption is about, if it is about a strip or a point.
fn runs_of<'a>(assumption: &Assumption, project: &'a Project) -> HashSet<&'a str> {
    let touched: &dyn Fn(&Run) -> bool = match subject(assumption) {
        Some(("strip", id)) => &move |run| run.strip.offer.id == id,
        Some(("point", id)) => &move |run| {
            let cupboard = run.cupboard.given();
            cupboard.is_some_and(|point| point.name == id)
        },
        _ => &|_| false,
    };
    let runs = project.runs.iter().filter(|run| touched(run));
    runs.map(|run| run.name.as_str()).collect()
}

/// Whether a line rests on an assumption; `runs` are those of [`runs_of`].
fn touches(assumption: &Assumption, line: &Line, project: &Project, runs: &HashSet<&str>) -> bool {
    let for_them = || {
        line.used_for
            .iter()
            .any(|name| runs.contains(name.as_str()))
    };
    let Some((kind, id)) = subject(assumption) else {
        return of_project(assumption, line, project);
    };
    match kind {
        "run" | "circuit" | "loop" => {
            let cut = matches!(line.kind, ItemKind::Strip | ItemKind::Cable);
            cut && line.used_for.iter().any(|name| name == id)
        }
        "point" => line.kind == ItemKind::Driver && for_them(),
        // What a strip is like decides its own feeds, and so the cable to them.
        "strip" => {
            let own = line.kind == ItemKind::Strip && line.item == id;
            own || (line.kind == ItemKind::Cable && for_them())
        }
        _ => line.item == id,
    }
}

/// Whether a line rests on an assumption about the project as a whole.
fn of_project(assumption: &Assumption, line: &Line, project: &Project) -> bool {
    match key(assumption) {
        Some("cable_waste" | "slack") => line.kind == ItemKind::Cable,
        Some("upstream_drop") => {
            let cables = project.catalogue.cables.iter();
            let mut mains = cables.filter(|cable| cable.uses.contains(&CableUse::Mains));
            mains.any(|cable| cable.offer.id == line.item)
        }
        Some("driver_load") => line.kind == ItemKind::Driver,
        _ => false,
    }
}

/// Kind and id of what an assumption is about: `strip`, `white-24`.
fn subject(assumption: &Assumption) -> Option<(&str, &str)> {
    let kinds = [
        "run",
        "circuit",
        "loop",
        "strip",
        "driver",
        "control device",
        "cable",
        "profile",
        "point",
        "trade",
    ];
    kinds.into_iter().find_map(|kind| {
        let id = assumption.subject.strip_prefix(kind)?.strip_prefix(' ')?;
        Some((kind, id))
    })
}

/// The key that an assumption stands in for: the first that is named in `missing`.
fn key(assumption: &Assumption) -> Option<&str> {
    assumption.missing.split('`').nth(1)
}

/// The other way an assumption can turn out, in words and as an alteration of the project; `None`
/// where that is nothing that can be computed.
#[must_use]
pub fn otherwise(
    assumption: &Assumption,
    project: &Project,
    sizing: &Sizing,
) -> Option<(String, Vec<Alteration>)> {
    let key = key(assumption)?;
    let Some((kind, id)) = subject(assumption) else {
        return project_otherwise(key, project);
    };
    match (kind, key) {
        ("strip", "rails") => rails(id, project, sizing),
        ("strip", "light_starts_at") => {
            let [early, _] = STARTS_AT;
            let share = Ratio::new::<ratio>(early);
            let words = format!("its light starts at {early:.2} of nominal");
            Some((words, vec![Alteration::LightStarts(id.to_owned(), share)]))
        }
        ("driver", "mixing") => Some((
            "its whites share one output's power".to_owned(),
            vec![Alteration::Mixes(id.to_owned(), Mixing::Shared)],
        )),
        ("point", "ambient") => {
            let warm = Temperature::new::<degree_celsius>(WARM_CUPBOARD);
            let words = format!("it is {WARM_CUPBOARD:.0} °C there");
            Some((words, vec![Alteration::Ambient(id.to_owned(), warm)]))
        }
        ("profile", "kerf") => {
            let wide = Length::new::<millimeter>(WIDE_CUT_MM);
            let words = format!("a saw cut takes {WIDE_CUT_MM:.0} mm");
            Some((words, vec![Alteration::SawCut(id.to_owned(), wide)]))
        }
        ("trade", "rate") => {
            let rate = dearer(project.pricing.labour_rate?);
            let alteration = Alteration::TradeRate(id.to_owned(), rate);
            Some(("an hour costs a tenth more".to_owned(), vec![alteration]))
        }
        _ => None,
    }
}

/// The other way of what is assumed of the project as a whole.
fn project_otherwise(key: &str, project: &Project) -> Option<(String, Vec<Alteration>)> {
    let share = |percents: f64| Ratio::new::<percent>(percents);
    let limits = |change: &dyn Fn(&mut Limits)| {
        let mut limits = project.limits.clone();
        change(&mut limits);
        Alteration::Limits(Box::new(limits))
    };
    let (words, alteration) = match key {
        "cable_waste" => (
            "5 % of it is lost",
            Alteration::CableWaste(Decimal::from(5)),
        ),
        "slack" => (
            "they are a tenth too short",
            Alteration::Longer(slack_share()),
        ),
        "upstream_drop" => ("1 % is lost there", Alteration::UpstreamDrop(share(1.0))),
        "light_drop" => (
            "the designer allows 20 %",
            limits(&|limits| {
                limits.light_drop.value = share(20.0);
                limits.evenness = evenness(&limits.light_drop);
            }),
        ),
        "driver_load" => (
            "the designer allows 70 %",
            limits(&|limits| limits.driver_load.value = share(70.0)),
        ),
        "commissioning.rate" => (
            "an hour costs a tenth more",
            Alteration::CommissioningRate(dearer(project.pricing.labour_rate?)),
        ),
        _ => return None,
    };
    Some((words.to_owned(), vec![alteration]))
}

/// A rate a tenth higher.
fn dearer(rate: Decimal) -> Decimal {
    let mut rate = (rate * Decimal::new(11, 1)).round_dp(2);
    rate.rescale(2);
    rate
}

/// Ambient of a cupboard that is warm, in °C (common practice, no source).
const WARM_CUPBOARD: f64 = 50.0;

/// Width of a cut of a coarse saw, in millimetres (common practice, no source).
const WIDE_CUT_MM: f64 = 5.0;

/// Rails otherwise than assumed: half the resistance where the poorest was taken, a fifth more
/// where copper was taken to be cool, and shared out two to one where all were taken to be equal.
fn rails(id: &str, project: &Project, sizing: &Sizing) -> Option<(String, Vec<Alteration>)> {
    let strip = project.catalogue.strips.iter().find(|s| s.offer.id == id)?;
    let sections = sizing
        .runs
        .iter()
        .filter(|sized| sized.run.strip.offer.id == id)
        .flat_map(|sized| &sized.sections);
    let section = sections.into_iter().next()?;
    let (words, common, returns) = match strip.rails {
        RailsKnown::Unknown => ("its rails have half that resistance", 0.5, 0.5),
        RailsKnown::Copper { .. } => ("its rails have a fifth more resistance", 1.2, 1.2),
        RailsKnown::LongestRun { .. } | RailsKnown::Bench { .. } => (
            "its plus rail has twice the resistance of a return rail, the two together the same",
            4.0 / 3.0,
            2.0 / 3.0,
        ),
        RailsKnown::Resistance { .. } => return None,
    };
    let rails = scaled(section, common, returns);
    let alteration = Alteration::Rails(id.to_owned(), rails);
    Some((words.to_owned(), vec![alteration]))
}

fn scaled(section: &Section, common: f64, returns: f64) -> RailsKnown {
    let ladder = &section.ladder;
    let times = |rail: ResistancePerLength, factor: f64| rail * factor;
    RailsKnown::Resistance {
        common: times(ladder.plus_rail, common),
        returns: ladder
            .channels
            .iter()
            .map(|channel| times(channel.return_rail, returns))
            .collect(),
    }
}
