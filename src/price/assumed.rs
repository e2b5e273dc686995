//! What a quote takes for granted, from every stage.

use super::labour::Work;
use super::priced::Line;
use super::stock::Cutting;
use super::strip::TooLong;
use crate::allocate::allocated::{Allocation, Circuit, MemberKind};
use crate::choose::sized::Sizing;
use crate::model::assumption::Assumption;
use crate::model::project::Project;
use std::collections::BTreeMap;
use std::collections::BTreeSet;

/// What pricing found out while counting.
pub(super) struct Findings<'a> {
    /// Sections that no reel holds.
    pub too_long: &'a [TooLong],
    /// Everything cut from stock.
    pub cuttings: &'a [&'a Cutting<'a>],
    /// Cables of which a stretch is longer than any drum: id, and joins.
    pub joined: &'a BTreeMap<String, usize>,
    /// All work.
    pub works: &'a [Work<'a>],
    /// The materials list.
    pub lines: &'a [Line],
}

/// All assumptions, without repetition, by subject.
pub(super) fn assumptions(
    project: &Project,
    sizing: &Sizing,
    allocation: &Allocation,
    findings: &Findings,
) -> Vec<Assumption> {
    let mut all: BTreeSet<Assumption> = BTreeSet::new();
    all.extend(project.assumptions.iter().cloned());
    all.extend(sizing.assumptions.iter().cloned());
    all.extend(of_bus_currents(allocation));
    all.extend(allocation.circuits.iter().filter_map(of_circuit));
    all.extend(findings.too_long.iter().map(of_too_long));
    all.extend(of_cutting(findings));
    all.extend(of_labour(project, findings.works));
    all.extend(super::unsaid::unsaid(project, sizing, allocation));
    all.extend(of_dates(project, findings.lines));
    all.into_iter().collect()
}

/// An assumption of these words.
pub(super) fn assumption(
    subject: String,
    statement: String,
    missing: String,
    by: &str,
) -> Assumption {
    Assumption {
        subject,
        statement,
        missing,
        supplied_by: by.to_owned(),
    }
}

fn of_bus_currents(allocation: &Allocation) -> Vec<Assumption> {
    let members = allocation.loops.iter().flat_map(|one| &one.members);
    let assumed = members.filter(|member| member.current_assumed);
    assumed
        .map(|member| {
            let (kind, key) = match member.kind {
                MemberKind::Gear => ("driver", "bus.current"),
                MemberKind::ControlDevice => ("control device", "current"),
            };
            let subject = format!("{kind} {}", member.item);
            assumption(
                subject.clone(),
                "draws 2 mA from the bus, the most that IEC 62386-101 has for control gear"
                    .to_owned(),
                format!("`{key}` in {subject}"),
                "the datasheet",
            )
        })
        .collect()
}

fn of_circuit(circuit: &Circuit) -> Option<Assumption> {
    let missing = match (&circuit.panel, circuit.length, &circuit.cable) {
        (_, None, _) => "a route from a panel to every place it serves",
        (_, _, None) => "a cable with `use: mains` in the catalogue",
        _ => return None,
    };
    Some(assumption(
        format!("circuit {}", circuit.name),
        "its cable is not in the materials list".to_owned(),
        missing.to_owned(),
        "the drawings and the catalogue",
    ))
}

fn of_too_long(too_long: &TooLong) -> Assumption {
    let TooLong {
        strip,
        run,
        section,
    } = too_long;
    assumption(
        format!("run {run}"),
        format!(
            "section {section} is longer than any reel of strip `{strip}`: it is listed without a price"
        ),
        format!("a longer reel of strip `{strip}`, `joints: yes` in it, or shorter sections"),
        "the strip's maker",
    )
}

fn of_cutting(findings: &Findings) -> Vec<Assumption> {
    let short = findings
        .cuttings
        .iter()
        .filter(|cutting| cutting.short_of_stock);
    let mut found: Vec<Assumption> = short
        .map(|cutting| {
            let subject = format!("{} {}", cutting.offer.kind.name(), cutting.offer.id);
            assumption(
                subject,
                "more can be had than the catalogue says is available".to_owned(),
                "enough `available` stock lengths".to_owned(),
                "the supplier",
            )
        })
        .collect();
    found.extend(findings.joined.iter().map(|(cable, joins)| {
        assumption(
            format!("cable {cable}"),
            format!("{joins} of its stretches are longer than any drum and are joined on the way"),
            "a longer drum".to_owned(),
            "the supplier",
        )
    }));
    found
}

fn of_labour(project: &Project, works: &[Work]) -> Vec<Assumption> {
    let mut found = Vec::new();
    if project.pricing.labour_rate.is_none() && works.iter().any(|w| w.offer.labour.is_some()) {
        found.push(assumption(
            "project".to_owned(),
            "hours are listed without a price".to_owned(),
            "`pricing.labour_rate`".to_owned(),
            "whoever prices the job",
        ));
    }
    let silent: Vec<String> = works
        .iter()
        .filter(|work| work.offer.labour.is_none())
        .map(|work| format!("{} `{}`", work.offer.kind.name(), work.offer.id))
        .collect();
    if !silent.is_empty() {
        found.push(assumption(
            "project".to_owned(),
            format!("no time is counted for fitting {}", silent.join(", ")),
            "`labour` of these items".to_owned(),
            "whoever prices the job",
        ));
    }
    found
}

fn of_dates(project: &Project, lines: &[Line]) -> Vec<Assumption> {
    let dated = lines.iter().any(|line| line.price_valid_until.is_some());
    if project.heading.date.is_some() || !dated {
        return Vec::new();
    }
    vec![assumption(
        "project".to_owned(),
        "prices still hold".to_owned(),
        "`project.date`, to compare with `price_valid_until`".to_owned(),
        "whoever prices the job",
    )]
}
