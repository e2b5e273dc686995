//! What a driver or control device is and where it sits: loop, address, circuit.

use crate::allocate::allocated::MemberKind;
use crate::choose::sized::SizedDriver;
use crate::present::job::Job;
use std::collections::BTreeSet;

/// A driver or control device in its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Placed {
    /// Its number or name.
    pub name: String,
    /// Catalogue id.
    pub item: String,
    /// Cupboard or room it stands in.
    pub at: String,
    /// Its loop.
    pub on_loop: String,
    /// Its addresses.
    pub addresses: String,
    /// Its circuit; empty for control devices.
    pub circuit: String,
    /// What hangs on its outputs: run, section, output.
    pub feeds: BTreeSet<(String, usize, usize)>,
}

impl Placed {
    /// Runs that it feeds, in order of name.
    pub fn runs(&self) -> BTreeSet<&str> {
        self.feeds.iter().map(|(run, ..)| run.as_str()).collect()
    }

    /// What and where it is in a few words.
    pub fn described(&self) -> String {
        let mut text = format!("{} in {}", self.item, self.at);
        if !self.on_loop.is_empty() {
            text.push_str(&format!(", {} address {}", self.on_loop, self.addresses));
        }
        if !self.circuit.is_empty() {
            text.push_str(&format!(", circuit {}", self.circuit));
        }
        text
    }
}

/// Every driver of a job.
pub(super) fn drivers(job: &Job) -> Vec<Placed> {
    job.sizing
        .drivers
        .iter()
        .map(|driver| placed(job, driver))
        .collect()
}

fn placed(job: &Job, driver: &SizedDriver) -> Placed {
    let (on_loop, addresses) = on_bus(job, &driver.number, MemberKind::Gear);
    let circuit = job.allocation.circuit_of(&driver.number);
    let circuit = circuit.map(|circuit| circuit.name.clone());
    let feeds = driver.outputs.iter().flat_map(|output| {
        let sections = output.sections.iter();
        sections.map(|(run, section)| (run.clone(), *section, output.output))
    });
    Placed {
        name: driver.number.clone(),
        item: driver.item.offer.id.clone(),
        at: driver.cupboard.name.clone(),
        on_loop,
        addresses,
        circuit: circuit.unwrap_or_default(),
        feeds: feeds.collect(),
    }
}

/// Every control device on a loop of a job.
pub(super) fn devices(job: &Job) -> Vec<Placed> {
    let loops = &job.allocation.loops;
    loops
        .iter()
        .flat_map(|one| one.members.iter().map(move |member| (one, member)))
        .filter(|(_, member)| member.kind == MemberKind::ControlDevice)
        .map(|(one, member)| Placed {
            name: member.device.clone(),
            item: member.item.clone(),
            at: member.room.name.clone(),
            on_loop: one.name.clone(),
            addresses: written(&member.addresses),
            circuit: String::new(),
            feeds: BTreeSet::new(),
        })
        .collect()
}

fn on_bus(job: &Job, name: &str, kind: MemberKind) -> (String, String) {
    for one in &job.allocation.loops {
        let own = one
            .members
            .iter()
            .find(|member| member.kind == kind && member.device == name);
        if let Some(member) = own {
            return (one.name.clone(), written(&member.addresses));
        }
    }
    (String::new(), String::new())
}

fn written(addresses: &[usize]) -> String {
    let addresses: Vec<String> = addresses.iter().map(ToString::to_string).collect();
    addresses.join(", ")
}
