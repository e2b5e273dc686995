//! What is looked at first when something fails, and how a driver is replaced.

use super::super::{Cell, Column, Part, Table};
use crate::present::job::Job;

/// What is seen, what is likely, and what to do. Which of these a job can show depends on what is in
/// it.
struct Sign {
    /// Whether a job has what fails.
    applies: fn(&Job) -> bool,
    /// What is seen.
    seen: &'static str,
    /// What to look at.
    look: &'static str,
    /// By whom and how.
    then: &'static str,
}

/// The order of looking: from what costs nothing to what needs a competent person (common practice,
/// no source).
const SIGNS: &[Sign] = &[
    Sign {
        applies: |_| true,
        seen: "Everything of one circuit is dark",
        look: "its breaker, and the residual current device where it has one",
        then: "Switch on once. If it trips again leave it off and call: it is not held in and not \
               made larger.",
    },
    Sign {
        applies: |_| true,
        seen: "All runs of one driver are dark, others of its circuit are lit",
        look: "the driver and its terminals",
        then: "A competent person reads mains in and volts out against the test sheet; then replace \
               the driver as below.",
    },
    Sign {
        applies: |_| true,
        seen: "One run or a stretch of it is dark, the rest of its driver is lit",
        look: "its feed cable and the joints of the strip",
        then: "Switch off first. The feed-point sheet of the run says where each feed and joint is.",
    },
    Sign {
        applies: |_| true,
        seen: "Light falls off along a run more than it did",
        look: "a joint, or a feed that is lost",
        then: "Read volts at the feed and at the dimmest place against the test sheet.",
    },
    Sign {
        applies: has_whites,
        seen: "One white is missing, or the colour of one run differs",
        look: "one core of its feed cable, or one channel of its driver",
        then: "Read volts between plus and each return at the feed, with that white alone at full.",
    },
    Sign {
        applies: has_loops,
        seen: "All of one loop stays at one level and obeys nothing",
        look: "the loop's bus supply, the circuit that it is on, and a short between the bus cores",
        then: "The bus is isolated like mains. The test sheet has the volts of the bus at rest.",
    },
    Sign {
        applies: has_loops,
        seen: "One unit obeys nothing, the rest of its loop does",
        look: "its bus terminals, then its address",
        then: "The commissioning sheet has the address found. Address this unit alone.",
    },
];

fn has_loops(job: &Job) -> bool {
    !job.allocation.loops.is_empty()
}

fn has_whites(job: &Job) -> bool {
    let mut runs = job.project.runs.iter();
    runs.any(|run| run.strip.channels.count() > 1)
}

/// The part with what to do.
pub(super) fn part(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::long_text("seen", "What is seen"),
        Column::long_text("look", "Look first at"),
        Column::long_text("then", "Then"),
    ]);
    for sign in SIGNS.iter().filter(|sign| (sign.applies)(job)) {
        table.row(vec![
            Cell::text(sign.seen),
            Cell::text(sign.look),
            Cell::text(sign.then),
        ]);
    }
    Part::table("handover-faults", "When something fails", table)
}

/// The part on replacing a driver and giving it its address again.
pub(super) fn replacing(job: &Job) -> Part {
    let bus = |driver: &crate::choose::sized::SizedDriver| driver.item.bus.is_some();
    let on_bus = job.sizing.drivers.iter().any(bus);
    let mut steps = vec![
        "Take the driver's item, loop, address and circuit from the list of drivers; check them \
         against its label and the as-built record."
            .to_owned(),
        "Isolate its circuit, lock off, prove mains and control bus dead at the driver.".to_owned(),
        "Fit the same item. Another one is checked first: voltage, power, channels, inrush and \
         leakage bear on the circuit and the loop."
            .to_owned(),
        "Put every core back where its label says; wires are changed one at a time or photographed \
         first."
            .to_owned(),
    ];
    if on_bus {
        steps.push(
            "Give the new unit the old one's address, groups and scene levels. Only this unit: \
             addressing a whole loop again moves the others."
                .to_owned(),
        );
    }
    steps.push(
        "Switch on, read volts and current at its feeds against the test sheet, write date, serial \
         number and readings into the as-built record."
            .to_owned(),
    );
    let numbered = (1..)
        .zip(steps)
        .map(|(number, step)| format!("{number}. {step}"));
    Part::prose(
        "Replacing a driver, by a competent person",
        numbered.collect(),
    )
}
