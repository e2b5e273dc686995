//! The label list: what is printed on each label, what it is stuck on, and how many there are; its
//! table goes to a label printer as it is.

use super::{Cell, Column, Part, Table};
use crate::allocate::allocated::{Loop, Member, MemberKind};
use crate::model::site::Point;
use crate::present::job::Job;
use std::collections::BTreeMap;

/// Characters on one line of a label: 12 mm tape, two lines (common practice, no source).
const WIDTH: usize = 24;

/// A label.
struct Label {
    /// Index of the place it is for.
    place: usize,
    title: String,
    /// The name by which people call the thing: no two labels have the same.
    name: String,
    /// What it hangs on.
    under: String,
    stuck_on: &'static str,
    tape: &'static str,
    quantity: usize,
    /// Where the text comes from.
    from: String,
}

/// The parts of the label list.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let labels = labels(job);
    let mut table = Table::new(vec![
        Column::text("place", "Place").data_only(),
        Column::text("line_1", "First line"),
        Column::text("line_2", "Second line"),
        Column::text("stuck_on", "Stuck on"),
        Column::text("tape", "Tape").when_wide(),
        Column::number("quantity", "Labels"),
        Column::long_text("pulls_from", "From"),
        Column::text("done", "Done").paper_only(),
    ]);
    let mut place = None;
    for label in &labels {
        if place != Some(label.place) {
            place = Some(label.place);
            table.group(label.title.clone());
        }
        table.row(vec![
            Cell::text(&label.title),
            Cell::text(fitted(&label.name)),
            Cell::text(fitted(&label.under)),
            Cell::text(label.stuck_on),
            Cell::text(label.tape),
            Cell::count(label.quantity),
            Cell::text(&label.from),
            Cell::Blank,
        ]);
    }
    let all = labels.iter().map(|label| label.quantity).sum();
    table.total("All labels", vec![("quantity", Cell::count(all))]);
    let mut part = Part::table("labels", "Labels by place", table);
    part.notes = notes(&labels);
    vec![part]
}

fn notes(labels: &[Label]) -> Vec<String> {
    let mut notes = vec![format!(
        "Two lines of at most {WIDTH} characters on 12 mm tape, black on the colour named; a cable \
         has one at each end. Stick them on before terminating."
    )];
    let cut: Vec<&str> = labels
        .iter()
        .filter(|label| label.name.chars().count() > WIDTH)
        .map(|label| label.name.as_str())
        .collect();
    if !cut.is_empty() {
        notes.push(format!(
            "Shortened in the middle, because they don't fit: {}.",
            super::cell::joined(cut)
        ));
    }
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    for label in labels {
        *seen.entry(fitted(&label.name)).or_default() += 1;
    }
    let twice: Vec<String> = seen
        .into_iter()
        .filter(|(_, count)| *count > 1)
        .map(|(text, _)| text)
        .collect();
    if !twice.is_empty() {
        notes.push(format!(
            "The same text on two labels: {}. Give what they name shorter names.",
            super::cell::joined(twice)
        ));
    }
    notes
}

/// Text that fits a line: a long one keeps its beginning and its end, where the number is.
fn fitted(text: &str) -> String {
    let count = text.chars().count();
    if count <= WIDTH {
        return text.to_owned();
    }
    let end = WIDTH / 2 - 1;
    let start: String = text.chars().take(WIDTH - end - 1).collect();
    let end: String = text.chars().skip(count - end).collect();
    format!("{start}…{end}")
}

fn labels(job: &Job) -> Vec<Label> {
    let mut labels = Vec::new();
    labels.extend(drivers(job));
    labels.extend(devices(job));
    labels.extend(feed_cables(job));
    labels.extend(loops(job));
    labels.extend(circuits(job));
    labels.sort_by_key(|label| label.place);
    labels
}

fn label(at: &Point, name: &str, stuck_on: &'static str) -> Label {
    Label {
        place: at.index,
        title: at.title.clone(),
        name: name.to_owned(),
        under: String::new(),
        stuck_on,
        tape: "white",
        quantity: 1,
        from: String::new(),
    }
}

/// `L1 A3`: the loop and the short addresses; a control device's address is told from gear's.
fn address(on: &Loop, member: &Member) -> String {
    let list: Vec<String> = member.addresses.iter().map(ToString::to_string).collect();
    let space = match member.kind {
        MemberKind::Gear => "A",
        MemberKind::ControlDevice => "CD",
    };
    match list.is_empty() {
        true => on.name.clone(),
        false => format!("{} {space}{}", on.name, list.join("+")),
    }
}

fn drivers(job: &Job) -> impl Iterator<Item = Label> + '_ {
    job.sizing.drivers.iter().map(|driver| {
        let bus = job.allocation.member(&driver.number);
        let bus = bus.map(|(on, member)| address(on, member));
        let circuit = job
            .allocation
            .circuit_of(&driver.number)
            .map(|circuit| circuit.name.clone());
        let under: Vec<String> = bus.into_iter().chain(circuit).collect();
        Label {
            under: under.join("  "),
            tape: "yellow",
            from: format!("driver {}, group {}", driver.number, driver.group.title),
            ..label(&driver.cupboard, &driver.number, "driver")
        }
    })
}

fn devices(job: &Job) -> impl Iterator<Item = Label> + '_ {
    let members = job
        .allocation
        .loops
        .iter()
        .flat_map(|on| on.members.iter().map(move |member| (on, member)));
    let devices = members.filter(|(_, member)| member.kind == MemberKind::ControlDevice);
    devices.map(|(on, member)| Label {
        under: address(on, member),
        from: format!("control device {}, {}", member.device, member.item),
        ..label(&member.at, &member.device, "control device")
    })
}

fn feed_cables(job: &Job) -> impl Iterator<Item = Label> + '_ {
    job.sizing.cables.iter().filter_map(|cable| {
        let run = job.sizing.run(&cable.run)?;
        let driver = match cable.driver.as_str() {
            "" => String::new(),
            _ => format!("{} to ", cable.from()),
        };
        Some(Label {
            under: format!("{driver}{}", cable.run),
            quantity: 2,
            from: format!("feed cable {}, {}", cable.number, cable.item.offer.id),
            ..label(&run.cupboard, &cable.number, "feed cable, both ends")
        })
    })
}

/// A loop's controller once, its supply, and each stretch of its cable at both ends.
fn loops(job: &Job) -> Vec<Label> {
    let mut labels: Vec<Label> = Vec::new();
    for on in &job.allocation.loops {
        let known = labels.iter().any(|label| label.name == on.controller);
        if let Some(item) = on.controller_item.as_ref().filter(|_| !known) {
            labels.push(Label {
                under: item.offer.id.clone(),
                from: format!("controller {}", on.controller),
                ..label(&on.at, &on.controller, "controller")
            });
        }
        if let Some(item) = &on.supply_item {
            labels.push(Label {
                under: item.offer.id.clone(),
                from: format!("bus supply of loop {}", on.name),
                ..label(&on.at, &format!("{} supply", on.name), "bus supply")
            });
        }
        for (number, stretch) in (1..).zip(&on.tree) {
            labels.push(Label {
                under: format!("to {}", stretch.to.name),
                quantity: 2,
                from: format!(
                    "loop {}, {} to {}",
                    on.name, stretch.from.title, stretch.to.title
                ),
                ..label(
                    &stretch.from,
                    &format!("{}-{number} bus", on.name),
                    "bus cable, both ends",
                )
            });
        }
    }
    labels
}

fn circuits(job: &Job) -> impl Iterator<Item = Label> + '_ {
    job.allocation.circuits.iter().filter_map(|circuit| {
        let panel = circuit.panel.as_ref()?;
        let places: Vec<&str> = circuit.places.iter().map(|at| at.name.as_str()).collect();
        Some(Label {
            under: format!("{} {}", circuit.breaker, places.join(", ")),
            from: format!("circuit {}", circuit.name),
            ..label(panel, &circuit.name, "breaker")
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn long_text_keeps_its_number() {
        assert_eq!(fitted("hall-sensor-12"), "hall-sensor-12");
        let long = fitted("presence-sensor-of-the-upper-reading-hall-12");
        assert_eq!(long.chars().count(), WIDTH);
        assert!(long.starts_with("presence-") && long.ends_with("hall-12"));
    }
}
