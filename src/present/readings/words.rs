//! Causes, places and further readings in words.

use super::section::SectionFinding;
use crate::present::measured::{metres, ohms};
use crate::quantity::figure::{Figure, Unit};
use crate::solve::diagnose::bus::BusCause;
use crate::solve::diagnose::{Cause, Core, Quantity};
use crate::solve::strip::Lit;

/// What stands after a test's key when one of two whites is on.
pub(in crate::present) fn suffix(lit: Lit) -> &'static str {
    match lit {
        Lit::Warm => "-warm",
        Lit::Cool => "-cool",
        Lit::On | Lit::Both => "",
    }
}

/// The return that is read against, and what is on.
pub(in crate::present) fn lit(lit: Lit) -> (&'static str, &'static str) {
    match lit {
        Lit::Warm => ("warm return", ", warm alone"),
        Lit::Cool => ("cool return", ", cool alone"),
        Lit::On | Lit::Both => ("return", ""),
    }
}

fn metre(value: f64) -> Figure {
    Figure::new(value, Unit::Metre)
}

/// A feed by its number in the section, cable and place.
fn feed(finding: &SectionFinding, feed: usize) -> String {
    let number = feed + 1;
    match finding.feeds.get(feed) {
        Some(name) if !name.cable.is_empty() => {
            format!("feed {number} ({}, {})", name.cable, metre(metres(name.at)))
        }
        Some(name) => format!("feed {number} ({})", metre(metres(name.at))),
        None => format!("feed {number}"),
    }
}

fn segment_place(finding: &SectionFinding, segment: usize) -> Figure {
    let marks = crate::quantity::number::real(segment + 1);
    metre(metres(
        finding.section.start + finding.section.ladder.segment * marks,
    ))
}

fn channel(finding: &SectionFinding, channel: usize) -> &'static str {
    let names = finding.run.run.strip.channels.names();
    match names {
        [_] => "",
        many => many.get(channel).copied().unwrap_or_default(),
    }
}

/// Where a cause is.
#[must_use]
pub fn place(finding: &SectionFinding, cause: &Cause) -> String {
    let spot = &cause.spot;
    if let Some(at_end) = spot.at_end {
        let other = if at_end {
            finding.number + 1
        } else {
            finding.number.saturating_sub(1)
        };
        return format!("with section {other}");
    }
    if let Some((segment, on)) = spot.segment {
        let near = segment_place(finding, segment);
        return format!("near {near} {}", channel(finding, on))
            .trim_end()
            .to_owned();
    }
    let at = match spot.feed {
        Some(at) => feed(finding, at),
        None if cause.fault.key == "supply-low" => finding.section.fed_by(),
        None => "every feed".to_owned(),
    };
    match spot.core {
        None => at,
        Some(Core::Plus) => format!("{at}, plus core"),
        Some(Core::Return(on)) => {
            let name = channel(finding, on);
            let name = if name.is_empty() {
                ""
            } else {
                &format!(" {name}")
            };
            format!("{at},{name} return core")
        }
    }
}

/// A cause's fitted number as it is said.
#[must_use]
pub fn number(cause: &Cause) -> Option<String> {
    let (unit, value) = (cause.fault.number?.unit, cause.number?);
    Some(match unit {
        Unit::Plain => format!("{value:.1} times as long"),
        Unit::Ohm if value < 10.0 => format!("{value:.2} Ω"),
        Unit::Ohm => format!("{value:.0} Ω"),
        unit => Figure::new(value, unit).to_string(),
    })
}

/// A reading that was not taken, by what to do.
#[must_use]
pub fn quantity(finding: &SectionFinding, quantity: Quantity) -> String {
    match quantity {
        Quantity::Output => format!("volts at the terminals of {}", finding.section.fed_by()),
        Quantity::FeedVolts { feed: at, lit: on } => {
            let (back, state) = lit(on);
            format!(
                "volts on the strip at {}, plus to {back}{state}",
                feed(finding, at)
            )
        }
        Quantity::FeedCurrent { feed: at, lit: on } => {
            let (_, state) = lit(on);
            format!("current in the plus core of {}{state}", feed(finding, at))
        }
        Quantity::SegmentVolts { segment, lit: on } => {
            let (back, state) = lit(on);
            let at = segment_place(finding, segment);
            format!("volts on the strip at {at}, plus to {back}{state}")
        }
        Quantity::ColdLoop { feed: at } => format!(
            "continuity of the cable of {}, dead, neither driver nor strip connected",
            feed(finding, at)
        ),
    }
}

/// A value of a reading, in its unit.
#[must_use]
pub fn value(quantity: Quantity, value: f64) -> Figure {
    Figure::new(value, unit(quantity))
}

/// The unit that it is read in.
#[must_use]
pub fn unit(quantity: Quantity) -> Unit {
    match quantity {
        Quantity::Output | Quantity::FeedVolts { .. } | Quantity::SegmentVolts { .. } => Unit::Volt,
        Quantity::FeedCurrent { .. } => Unit::Ampere,
        Quantity::ColdLoop { .. } => Unit::Ohm,
    }
}

/// A bus's cause in words, and what to check first.
#[must_use]
pub fn bus(cause: &BusCause) -> (String, &'static str) {
    let said = |text: &str| text.to_owned();
    match cause {
        BusCause::Reversed => (
            said("the two cores are the other way round"),
            "which core is which where it was read, then polarity where two supplies meet",
        ),
        BusCause::NoSupply => (
            said("the bus supply gives nothing"),
            "mains at the bus supply, then a short between the cores, isolated and dead",
        ),
        BusCause::Open => (
            said("a core is open between the supply and the unit"),
            "volts at each unit on the way, from the supply outwards",
        ),
        BusCause::HeldLow => (
            said("the bus is held low, or more is drawn than the supply guarantees"),
            "that no command is sent; then the units off one by one, and the current drawn against \
             the loop schedule",
        ),
        BusCause::SupplyHigh => (
            said("the supply gives more than the bus may have"),
            "that it is the supply of the schedule, and that mains has not reached the bus: isolate",
        ),
        BusCause::Thinner => (
            said("the bus cable is a size thinner"),
            "the size printed on the cable's sheath against the loop schedule",
        ),
        BusCause::Longer(times) => (
            format!("the bus cable is {times:.1} times as long"),
            "the way the cable was run against the loop schedule",
        ),
        BusCause::Joint(near, far) if near == far => (
            format!("a joint of {:.1} Ω on the way", ohms(*near)),
            "volts on both sides of each joint on the way, under the same load",
        ),
        BusCause::Joint(near, far) => (
            format!(
                "a joint on the way, of {:.1} Ω next to the supply to {:.1} Ω next to the unit",
                ohms(*near),
                ohms(*far)
            ),
            "volts at each unit on the way: where they fall by a step is the joint",
        ),
    }
}
