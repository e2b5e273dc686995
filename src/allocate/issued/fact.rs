//! A record taken apart into facts that can stay or change, each with a name of its own.

use crate::model::issued::{IssuedLoop, Record};
use crate::quantity::Length;
use uom::si::length::meter;

/// What a fact is about, in the order in which changes are listed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A run: its strip, length, arrangement and cable.
    Run,
    /// A driver: what it is, where it stands, which group it serves.
    Driver,
    /// The driver output that a section hangs on.
    Output,
    /// A feed cable.
    FeedCable,
    /// A loop: its controller, port, supply, cable.
    Loop,
    /// The loop and short addresses of a driver or device.
    Address,
    /// A group's number on a loop.
    Group,
    /// A scene's number on a loop.
    Scene,
    /// A circuit: its panel, breaker, phase, cable.
    Circuit,
    /// The circuit that a driver, controller or supply is on.
    OnCircuit,
}

impl Kind {
    /// All kinds, in listing order.
    pub const ALL: [Kind; 10] = [
        Kind::Run,
        Kind::Driver,
        Kind::Output,
        Kind::FeedCable,
        Kind::Loop,
        Kind::Address,
        Kind::Group,
        Kind::Scene,
        Kind::Circuit,
        Kind::OnCircuit,
    ];

    /// What one is called.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Kind::Run => "run",
            Kind::Driver => "driver",
            Kind::Output => "driver output",
            Kind::FeedCable => "feed cable",
            Kind::Loop => "loop",
            Kind::Address => "address",
            Kind::Group => "group number",
            Kind::Scene => "scene number",
            Kind::Circuit => "circuit",
            Kind::OnCircuit => "place on a circuit",
        }
    }

    /// What several are called.
    #[must_use]
    pub fn plural(self) -> String {
        match self {
            Kind::Address => "addresses".to_owned(),
            Kind::OnCircuit => "places on circuits".to_owned(),
            other => format!("{}s", other.name()),
        }
    }
}

/// A fact: what it is about, and what is so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Fact {
    pub kind: Kind,
    pub subject: String,
    pub is: String,
}

/// Every fact of a record, in the order of the record.
pub(super) fn facts(record: &Record) -> Vec<Fact> {
    let mut facts = Vec::new();
    let mut push = |kind, subject: &str, is: String| {
        facts.push(Fact {
            kind,
            subject: subject.to_owned(),
            is,
        });
    };
    for run in &record.runs {
        let cables = run.sections.iter().map(|section| section.cable.as_str());
        let is = format!(
            "{} of {}, {}, {}, from {}",
            metres(run.length),
            run.strip,
            run.arrangement,
            once(cables),
            run.cupboard
        );
        push(Kind::Run, &run.run, is);
        for (number, section) in (1..).zip(&run.sections) {
            let subject = section_name(&run.run, number, run.sections.len());
            let is = match (section.driver.as_str(), &section.beside) {
                ("", _) => "no driver".to_owned(),
                (driver, None) => format!("{driver} output {}", section.output),
                (warm, Some(cool)) => format!("{warm} warm and {cool} cool"),
            };
            push(Kind::Output, &subject, is);
        }
    }
    for driver in &record.drivers {
        let is = format!(
            "{} in {} for {}",
            driver.item, driver.cupboard, driver.group
        );
        push(Kind::Driver, &driver.driver, is);
    }
    for cable in &record.cables {
        let is = format!(
            "{} of {}, {} to {} section {} feed {}",
            metres(cable.length),
            cable.item,
            cable.driver,
            cable.run,
            cable.section,
            cable.feed
        );
        push(Kind::FeedCable, &cable.cable, is);
    }
    for on in &record.loops {
        push(Kind::Loop, &on.name, of_loop(on));
        for member in &on.members {
            let list: Vec<String> = member.addresses.iter().map(ToString::to_string).collect();
            let is = match list.is_empty() {
                true => format!("{} without an address", on.name),
                false => format!("{} address {}", on.name, list.join("+")),
            };
            push(Kind::Address, &member.device, is);
        }
        for (kind, numbers) in [(Kind::Group, &on.groups), (Kind::Scene, &on.scenes)] {
            for one in numbers {
                let subject = format!("{} on {}", one.name, on.name);
                push(kind, &subject, one.number.to_string());
            }
        }
    }
    for circuit in &record.circuits {
        let is = format!(
            "{}, phase {}, from {}, {}",
            circuit.breaker,
            circuit.phase,
            circuit.panel.as_deref().unwrap_or("no panel"),
            circuit.cable.as_deref().unwrap_or("no cable")
        );
        push(Kind::Circuit, &circuit.name, is);
        for name in circuit.drivers.iter().chain(&circuit.supplies) {
            push(Kind::OnCircuit, name, circuit.name.clone());
        }
    }
    facts
}

/// What a section is called: by its run alone where that is one section.
pub(super) fn section_name(run: &str, number: usize, sections: usize) -> String {
    match sections {
        1 => run.to_owned(),
        _ => format!("{run} section {number}"),
    }
}

fn of_loop(on: &IssuedLoop) -> String {
    let controller = match (&on.controller, &on.controller_item) {
        (Some(name), Some(item)) => format!("{name} ({item}) port {}", on.port),
        _ => "no controller".to_owned(),
    };
    let supply = on.supply.as_ref();
    let supply = supply.map_or_else(String::new, |item| format!(", supply {item}"));
    let cable = on.cable.as_deref().unwrap_or("no cable");
    format!("{controller} at {}{supply}, {cable}", on.at)
}

fn metres(length: Length) -> String {
    format!("{:.2} m", length.get::<meter>())
}

fn once<'a>(names: impl Iterator<Item = &'a str>) -> String {
    let mut seen: Vec<&str> = Vec::new();
    for name in names {
        if !seen.contains(&name) {
            seen.push(name);
        }
    }
    seen.join(" and ")
}
