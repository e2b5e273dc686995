//! Edits of a project file that leave to the program what was given: those that may cure a broken
//! rule, by what the rule was broken on.

use crate::choose::sized::Sizing;
use crate::diagnostic::Place;
use crate::judge::verdict::Verdict;
use crate::model::Choice;
use crate::model::project::{Curve, Project};
use crate::model::run::{FeedWish, Run};
use std::sync::Arc;

/// What a run is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum RunKey {
    Driver,
    Cable,
    Feed,
}

impl RunKey {
    const ALL: [RunKey; 3] = [RunKey::Driver, RunKey::Cable, RunKey::Feed];

    fn name(self) -> &'static str {
        match self {
            RunKey::Driver => "driver",
            RunKey::Cable => "cable",
            RunKey::Feed => "feed",
        }
    }

    fn is_given(self, run: &Run) -> bool {
        match self {
            RunKey::Driver => run.driver != Choice::Auto,
            RunKey::Cable => run.cable != Choice::Auto,
            RunKey::Feed => run.feed != FeedWish::Auto,
        }
    }

    fn leave(self, run: &mut Run) {
        match self {
            RunKey::Driver => run.driver = Choice::Auto,
            RunKey::Cable => run.cable = Choice::Auto,
            RunKey::Feed => run.feed = FeedWish::Auto,
        }
    }
}

/// An edit.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Edit {
    /// `auto` for keys of some runs, by name.
    Runs(Vec<RunKey>, Vec<String>),
    /// `auto` for the bus cable.
    BusCable,
    /// `auto` for the controller.
    Controller,
    /// `auto` for the bus supply.
    BusSupply,
    /// As many loops as it takes.
    LoopCount,
    /// `auto` for the mains cable.
    MainsCable,
    /// A breaker of the same rating that trips later.
    LaterCurve,
}

impl Edit {
    /// The edit in words, with what goes into the file in back-quotes.
    pub(super) fn words(&self, project: &Project) -> String {
        match self {
            Edit::Runs(keys, runs) => {
                let keys: Vec<String> = keys
                    .iter()
                    .map(|key| format!("`{}: auto`", key.name()))
                    .collect();
                let names: Vec<String> = runs.iter().map(|run| format!("`{run}`")).collect();
                let runs = if names.len() == 1 { "run" } else { "runs" };
                format!("set {} in {runs} {}", keys.join(" and "), names.join(", "))
            }
            Edit::BusCable => "set `loops: {cable: auto}`".to_owned(),
            Edit::Controller => "set `loops: {controller: auto}`".to_owned(),
            Edit::BusSupply => "set `loops: {supply: auto}`".to_owned(),
            Edit::LoopCount => "leave `count` out of `loops`".to_owned(),
            Edit::MainsCable => "set `circuits: {cable: auto}`".to_owned(),
            Edit::LaterCurve => format!(
                "set `circuits: {{breaker: C{}}}`",
                project.circuits.breaker.amperes
            ),
        }
    }

    /// Whether it leaves the feeds of some run to the program.
    pub(super) fn leaves_feed(&self) -> bool {
        matches!(self, Edit::Runs(keys, _) if keys.contains(&RunKey::Feed))
    }

    /// Where what is edited stands.
    pub(super) fn place<'a>(&self, project: &'a Project) -> Option<&'a Place> {
        match self {
            Edit::Runs(_, runs) => {
                let run = project.runs.iter().find(|run| runs.contains(&run.name));
                run.map(|run| &run.place)
            }
            Edit::BusCable | Edit::Controller | Edit::BusSupply | Edit::LoopCount => {
                Some(&project.loops.place)
            }
            Edit::MainsCable | Edit::LaterCurve => Some(&project.circuits.place),
        }
    }

    /// The project with it.
    pub(super) fn done(&self, project: &Project) -> Project {
        let mut project = project.clone();
        match self {
            Edit::Runs(keys, names) => {
                for run in &mut project.runs {
                    if names.contains(&run.name) {
                        let run = Arc::make_mut(run);
                        keys.iter().for_each(|key| key.leave(run));
                    }
                }
            }
            Edit::BusCable => project.loops.cable = Choice::Auto,
            Edit::Controller => project.loops.controller = Choice::Auto,
            Edit::BusSupply => project.loops.supply = Choice::Auto,
            Edit::LoopCount => project.loops.count = None,
            Edit::MainsCable => project.circuits.cable = Choice::Auto,
            Edit::LaterCurve => project.circuits.breaker.curve = Curve::C,
        }
        project
    }
}

/// The runs that a verdict is about, by name.
pub(super) fn runs_of(sizing: &Sizing, verdict: &Verdict) -> Vec<String> {
    let (kind, rest) = verdict.subject.split_once(' ').unwrap_or_default();
    let of_cable = |known: &str| -> Vec<String> {
        let cables = sizing.cables.iter();
        let mut runs: Vec<String> = cables
            .filter(|cable| cable.number == known || cable.item.offer.id == known)
            .map(|cable| cable.run.clone())
            .collect();
        runs.dedup();
        runs
    };
    match kind {
        "run" => vec![rest.to_owned()],
        "driver" => {
            let drivers = sizing.drivers.iter();
            let own =
                drivers.filter(|driver| driver.number == rest || driver.item.offer.id == rest);
            own.flat_map(|driver| driver.runs.iter().cloned()).collect()
        }
        "feed" => of_cable(rest.trim_start_matches("cable ")),
        "cable" => of_cable(rest),
        _ => Vec::new(),
    }
}

/// The edits that may cure a verdict, the smallest first.
pub(super) fn candidates(project: &Project, sizing: &Sizing, verdict: &Verdict) -> Vec<Edit> {
    let mut runs = runs_of(sizing, verdict);
    runs.sort();
    runs.dedup();
    let given_in = |key: RunKey| -> Vec<String> {
        let all = project.runs.iter();
        all.filter(|run| runs.contains(&run.name) && key.is_given(run))
            .map(|run| run.name.clone())
            .collect()
    };
    let mut edits: Vec<Edit> = Vec::new();
    let mut given: Vec<RunKey> = Vec::new();
    let mut any: Vec<String> = Vec::new();
    for key in RunKey::ALL {
        let names = given_in(key);
        if names.is_empty() {
            continue;
        }
        given.push(key);
        any.extend(names.iter().cloned());
        edits.push(Edit::Runs(vec![key], names));
    }
    if given.len() > 1 {
        any.sort();
        any.dedup();
        edits.push(Edit::Runs(given, any));
    }
    edits.extend(of_loops(project, verdict));
    edits.extend(of_circuits(project, verdict));
    edits
}

fn of_loops(project: &Project, verdict: &Verdict) -> Vec<Edit> {
    if !verdict.rule.starts_with("bus-") {
        return Vec::new();
    }
    let loops = &project.loops;
    let given = [
        (loops.cable != Choice::Auto, Edit::BusCable),
        (loops.supply != Choice::Auto, Edit::BusSupply),
        (loops.controller != Choice::Auto, Edit::Controller),
        (loops.count.is_some(), Edit::LoopCount),
    ];
    let given = given.into_iter().filter(|(given, _)| *given);
    given.map(|(_, edit)| edit).collect()
}

fn of_circuits(project: &Project, verdict: &Verdict) -> Vec<Edit> {
    if !verdict.subject.starts_with("circuit ") {
        return Vec::new();
    }
    let circuits = &project.circuits;
    let given = [
        (circuits.cable != Choice::Auto, Edit::MainsCable),
        (circuits.breaker.curve == Curve::B, Edit::LaterCurve),
    ];
    let given = given.into_iter().filter(|(given, _)| *given);
    given.map(|(_, edit)| edit).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// What a broken rule of the bus is tried to be cured by.
    fn tried(bend: impl Fn(&mut Project)) -> Vec<Edit> {
        let mut job = Sample::new();
        bend(&mut job.project);
        let verdicts = crate::judge::judge(&job.evidence());
        let verdict = verdicts.iter().find(|it| it.rule.starts_with("bus-"));
        of_loops(&job.project, verdict.expect("a rule of the bus"))
    }

    #[test]
    fn only_what_was_given_of_a_loop_is_left_to_the_program() {
        assert!(tried(|_| ()).is_empty());
        let controller = tried(|project| {
            let first = project.catalogue.controllers[0].clone();
            project.loops.controller = Choice::Given(first);
        });
        assert!(matches!(controller.as_slice(), [Edit::Controller]));
        let count = tried(|project| project.loops.count = Some(2));
        assert!(matches!(count.as_slice(), [Edit::LoopCount]));
        let cable = tried(|project| {
            let cables = &project.catalogue.cables;
            let bus = cables.iter().find(|cable| cable.offer.id == "bus-2x1.5");
            project.loops.cable = Choice::Given(bus.expect("a bus cable").clone());
        });
        assert!(matches!(cable.as_slice(), [Edit::BusCable]));
    }
}
