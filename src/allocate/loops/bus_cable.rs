//! The bus cable of a project: given, or the smallest that keeps drop and distance on every loop.

use super::equipment::price;
use super::wiring::Standing;
use crate::model::cable::{Cable, CableUse};
use crate::model::project::Project;
use crate::norms::iec_62386;
use crate::quantity::{Length, Temperature};
use crate::solve::cable::conductor_resistance;
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::ConstZero;
use uom::si::length::meter;

/// Bus cables that may be used, smallest conductor first, then cheapest: the given one alone, or
/// those of the catalogue that a bus may have.
pub(super) fn candidates(project: &Project) -> Vec<Arc<Cable>> {
    if let Some(given) = project.loops.cable.given() {
        return vec![Arc::clone(given)];
    }
    let known_unfit = |cable: &Cable| {
        let rated = cable.marking.rated_voltage;
        rated.is_some_and(|rated| rated < project.supply.voltage)
    };
    let fits = |cable: &&Arc<Cable>| {
        cable.uses.contains(&CableUse::Bus)
            && cable.cores >= 2
            && cable.size.area() >= iec_62386::least_conductor()
            && !known_unfit(cable)
            && resistance_known(cable, project.loops.temperature)
    };
    let mut cables: Vec<Arc<Cable>> = project
        .catalogue
        .cables
        .iter()
        .filter(fits)
        .cloned()
        .collect();
    cables.sort_by(|a, b| {
        let area = a.size.area().value.total_cmp(&b.size.area().value);
        area.then_with(|| price_per_metre(a).cmp(&price_per_metre(b)))
    });
    cables
}

/// Whether a cable's drop can be worked out.
pub(super) fn resistance_known(cable: &Cable, temperature: Temperature) -> bool {
    conductor_resistance(cable.conductor, cable.size, temperature).is_some()
}

/// Whether there is no price, then the least price of a metre.
pub(crate) fn price_per_metre(cable: &Cable) -> (bool, Decimal) {
    let by_drum = cable.drums.iter().filter_map(|drum| {
        let metres = Decimal::try_from(drum.length.get::<meter>()).ok()?;
        if drum.length > Length::ZERO {
            drum.price()?.checked_div(metres)
        } else {
            None
        }
    });
    let least = by_drum.chain(price(&cable.offer)).min();
    (least.is_none(), least.unwrap_or_default())
}

/// The cable that was issued while the limits are kept on it, or else the first of `cables` on which the loops stand well: with all limits kept, or else those that
/// count with the units that are there, or else the last.
pub(super) fn choose(
    cables: &[Arc<Cable>],
    issued: Option<&str>,
    standing: impl Fn(&Cable) -> Standing,
) -> Option<Arc<Cable>> {
    let standings: Vec<Standing> = cables.iter().map(|cable| standing(cable)).collect();
    let mut known = cables.iter().zip(&standings);
    let stays =
        known.find(|(cable, s)| issued == Some(cable.offer.id.as_str()) && **s <= Standing::Keeps);
    if let Some((cable, _)) = stays {
        return Some(Arc::clone(cable));
    }
    for wanted in [Standing::KeepsAll, Standing::Keeps] {
        let found = cables.iter().zip(&standings).find(|(_, s)| **s <= wanted);
        if let Some((cable, _)) = found {
            return Some(Arc::clone(cable));
        }
    }
    cables.last().cloned()
}
