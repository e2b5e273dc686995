//! What several loop rules share: counts against counts, and why a loop can't be measured.

use super::finding::Finding;
use crate::allocate::allocated::Loop;
use crate::norms::limit::Bound;
use crate::quantity::Temperature;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use crate::solve::cable::conductor_resistance;

/// A count against the most there may be.
pub fn counted(subject: String, found: usize, most: usize) -> Finding {
    let mut finding = Finding::plain(subject, found <= most);
    finding.found = Some(Figure::new(real(found), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(real(most), Unit::Count)));
    finding
}

/// What is missing before a loop's cable can be measured; `None` when nothing is.
pub fn unmeasured(bus: &Loop, temperature: Temperature) -> Option<String> {
    let Some(cable) = &bus.cable else {
        return Some("a bus cable in a catalogue (`use: bus`)".to_owned());
    };
    if conductor_resistance(cable.conductor, cable.size, temperature).is_none() {
        return Some(format!(
            "a `size` and `conductor` of cable `{}` whose resistance a table has (the datasheet)",
            cable.offer.id
        ));
    }
    if bus.unreached.is_empty() {
        return None;
    }
    Some(format!(
        "`routes` to {} (a measurement on site)",
        bus.unreached.join(", ")
    ))
}
