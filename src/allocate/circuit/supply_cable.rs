//! The mains cable of a circuit: given, or the smallest that the breaker protects and that keeps
//! the drop.

use crate::allocate::loops::price_per_metre;
use crate::model::cable::{Cable, CableUse};
use crate::model::project::Project;
use crate::quantity::{Current, Length, Ratio, Temperature, Voltage};
use crate::solve::ampacity::ampacity;
use crate::solve::cable::{hottest, mains_drop};
use std::sync::Arc;
use uom::ConstZero;
use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::thermodynamic_temperature::degree_celsius;

/// What a circuit asks of its cable.
#[derive(Debug, Clone, Copy)]
pub(super) struct Demand {
    /// Load current.
    pub current: Current,
    /// Its power factor.
    pub power_factor: Ratio,
    /// Rated current of the breaker.
    pub breaker: Current,
    /// Length; `None` when no route leads there.
    pub length: Option<Length>,
    /// Hottest air it passes, as far as known.
    pub ambient: Temperature,
}

/// A circuit's cable with what follows from it.
#[derive(Debug, Clone, Default)]
pub(super) struct Fed {
    /// The cable.
    pub cable: Option<Arc<Cable>>,
    /// What it may carry.
    pub ampacity: Option<Current>,
    /// Voltage lost, as a share of nominal.
    pub drop: Option<Ratio>,
}

/// Where neither table nor maker says what cables carry, one is chosen by this many amperes of
/// breaker to the mm² (common practice, no source); the ampacity stays untold.
const AMPERES_PER_MM2: f64 = 8.0;

/// The cable of a circuit.
pub(super) fn choose(project: &Project, demand: &Demand) -> Fed {
    if let Some(given) = project.circuits.cable.given() {
        return fed(project, demand, given);
    }
    let tried = tried(project, demand);
    let carries = |fed: &&Fed| carries(fed, demand);
    let keeps = |fed: &&Fed| fed.drop.is_none_or(|drop| drop_allowed(project, drop));
    let thick = |fed: &&Fed| fed.ampacity.is_none() && thick_enough(fed, demand);
    tried
        .iter()
        .find(|fed| carries(fed) && keeps(fed))
        .or_else(|| tried.iter().find(|fed| thick(fed) && keeps(fed)))
        .or_else(|| tried.iter().rfind(carries))
        .or_else(|| tried.last())
        .cloned()
        .unwrap_or_default()
}

/// The most current with which some cable that may be used keeps the drop, which rises with it;
/// `demand` is for one ampere. `None` when nothing is known that limits it.
pub(super) fn most_within_drop(project: &Project, demand: &Demand) -> Option<Current> {
    let cables = match project.circuits.cable.given() {
        Some(given) => vec![fed(project, demand, given)],
        None => tried(project, demand),
    };
    let allowed = project.limits.circuit_drop.value - project.supply.upstream_drop;
    let may = |fed: &&Fed| {
        project.circuits.cable.given().is_some()
            || carries(fed, demand)
            || (fed.ampacity.is_none() && thick_enough(fed, demand))
    };
    let most = cables.iter().filter(may).map(|fed| {
        let drop = fed.drop.filter(|drop| *drop > Ratio::ZERO)?;
        Some(demand.current * (allowed / drop))
    });
    // A cable whose drop is not known limits nothing.
    let most: Option<Vec<Current>> = most.collect();
    most?.into_iter().max_by(|a, b| a.value.total_cmp(&b.value))
}

/// The catalogue's mains cables for a circuit, thinnest first.
fn tried(project: &Project, demand: &Demand) -> Vec<Fed> {
    let mut cables: Vec<&Arc<Cable>> = project
        .catalogue
        .cables
        .iter()
        .filter(|cable| cable.uses.contains(&CableUse::Mains) && cable.cores >= 2)
        .collect();
    cables.sort_by(|a, b| {
        let area = a.size.area().value.total_cmp(&b.size.area().value);
        area.then_with(|| price_per_metre(a).cmp(&price_per_metre(b)))
    });
    let fed = |cable: &&Arc<Cable>| fed(project, demand, cable);
    cables.iter().map(fed).collect()
}

fn carries(fed: &Fed, demand: &Demand) -> bool {
    fed.ampacity.is_some_and(|most| demand.breaker <= most)
}

fn fed(project: &Project, demand: &Demand, cable: &Arc<Cable>) -> Fed {
    let known = ampacity(cable, project.region, demand.ambient, 1, CableUse::Mains);
    let drop = demand.length.and_then(|length| {
        let temperature = hottest(cable.insulation);
        let (current, factor) = (demand.current, demand.power_factor);
        mains_drop(cable, project.region, length, temperature, current, factor)
    });
    Fed {
        cable: Some(Arc::clone(cable)),
        ampacity: known.map(|(most, _)| most),
        drop: drop.map(|drop: Voltage| drop / project.supply.voltage),
    }
}

/// Whether a circuit's drop with the one upstream is within the project's limit.
pub(super) fn drop_allowed(project: &Project, drop: Ratio) -> bool {
    project
        .limits
        .circuit_drop
        .allows(drop + project.supply.upstream_drop)
}

fn thick_enough(fed: &Fed, demand: &Demand) -> bool {
    let area = fed
        .cable
        .as_ref()
        .map(|cable| cable.size.area().get::<square_millimeter>());
    area.is_some_and(|mm2| mm2 * AMPERES_PER_MM2 >= demand.breaker.get::<ampere>())
}

/// The air around cables where no point says: the reference of the region's tables.
pub(super) fn usual_ambient(project: &Project) -> Temperature {
    use crate::norms::region::Region;
    Temperature::new::<degree_celsius>(match project.region {
        Region::Iec | Region::NorthAmerica => 30.0,
        Region::AusNz => 40.0,
    })
}
