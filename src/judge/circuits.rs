//! What several circuit rules share: load against the breaker, and unknown datasheet figures.

use super::finding::Finding;
use super::verdict::Outcome;
use crate::allocate::allocated::Circuit;
use crate::norms::limit::Limit;
use crate::quantity::{Current, Ratio};
use uom::si::electric_current::ampere;

/// Load as a share of the breaker's rating against a limit.
pub fn load(circuit: &Circuit, most: &Limit<Ratio>) -> Finding {
    let rated = Current::new::<ampere>(f64::from(circuit.breaker.amperes));
    let finding = Finding::share(
        format!("circuit {}", circuit.name),
        circuit.current / rated,
        most,
    );
    unless_unknown(finding, &circuit.unknown_current, "current")
}

/// A finding that holds on the known part alone can't be told while figures are missing; one that
/// is broken already stays broken.
pub fn unless_unknown(mut finding: Finding, unknown: &[String], key: &str) -> Finding {
    if finding.outcome == Outcome::Holds && !unknown.is_empty() {
        let missing = format!("`mains.{key}` of {} (the datasheet)", unknown.join(", "));
        finding.outcome = Outcome::CannotTell { missing };
    }
    finding
}

/// What is missing before a circuit's cable can be measured.
pub fn unmeasured(circuit: &Circuit) -> String {
    if circuit.panel.is_none() {
        return "a point of `kind: panel` (the project file)".to_owned();
    }
    if let Some(cable) = &circuit.cable {
        if circuit.length.is_some() {
            return format!(
                "`most_current` in cable `{}` (the datasheet)",
                cable.offer.id
            );
        }
        let places: Vec<&str> = circuit
            .places
            .iter()
            .map(|place| place.name.as_str())
            .collect();
        return format!(
            "`routes` from the panel to {} (a measurement)",
            places.join(", ")
        );
    }
    "a mains cable in a catalogue (`use: mains`) large enough for the breaker".to_owned()
}
