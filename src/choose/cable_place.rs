//! What the place of a run asks of its feed cables: the one place where choosing and judging ask.

use crate::model::cable::Cable;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::site::Point;
use crate::model::wiring::Exposure;
use crate::norms::iec_60364_5_52;
use crate::norms::region::Region;
use crate::quantity::{Length, Temperature};
use crate::solve::cable::hottest;

/// The hottest air on a feed cable's way, as far as it is known.
#[must_use]
pub fn hottest_air(run: &Run, cupboard: &Point) -> Option<Temperature> {
    [run.ambient, run.room.ambient, cupboard.ambient]
        .into_iter()
        .flatten()
        .max_by(|a, b| a.value.total_cmp(&b.value))
}

/// What a run's feed cables are exposed to, in listing order.
#[must_use]
pub fn exposures(run: &Run) -> Vec<Exposure> {
    let mut exposures: Vec<Exposure> = run.wet.then_some(Exposure::Wet).into_iter().collect();
    exposures.extend(run.wiring.exposed_to.iter().copied());
    exposures.sort_unstable();
    exposures.dedup();
    exposures
}

/// What of that a cable's sheath does not stand; `None` when the catalogue does not say.
#[must_use]
pub fn not_stood(run: &Run, cable: &Cable) -> Option<Vec<Exposure>> {
    let asked = exposures(run);
    if asked.is_empty() {
        return Some(Vec::new());
    }
    let suits = cable.marking.suits.as_ref()?;
    Some(
        asked
            .into_iter()
            .filter(|exposure| !suits.contains(exposure))
            .collect(),
    )
}

/// Whether a cable is known not to suit the place.
#[must_use]
pub fn is_unsuited(run: &Run, cupboard: &Point, cable: &Cable) -> bool {
    let too_hot =
        hottest_air(run, cupboard).is_some_and(|air| air.value > hottest(cable.insulation).value);
    too_hot || not_stood(run, cable).is_some_and(|lacking| !lacking.is_empty())
}

/// The longest stretch of a run's feed cable that thermal insulation surrounds; `None` when nobody
/// says.
#[must_use]
pub fn in_insulation(project: &Project, run: &Run) -> Option<Length> {
    run.wiring.in_insulation.or(project.wiring.in_insulation)
}

/// What the capacity of a run's feed cable is multiplied by for thermal insulation around it: 1
/// where nobody says that there is any, and in `north-america`, whose tables have no such factor.
#[must_use]
pub fn insulation_factor(project: &Project, run: &Run) -> f64 {
    match (project.region, in_insulation(project, run)) {
        (Region::NorthAmerica, _) | (_, None) => 1.0,
        (Region::Iec | Region::AusNz, Some(length)) => iec_60364_5_52::surrounded_factor(length),
    }
}
