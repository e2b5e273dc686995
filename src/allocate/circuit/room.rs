//! What one circuit takes: the breaker less its spare, the residual current device's share of
//! leakage, and what the drop to its place leaves.

use super::fill::Room;
use super::supply_cable::{Demand, most_within_drop};
use super::unit::Unit;
use super::{Maker, rated};
use crate::model::project::Project;
use crate::model::site::Point;
use crate::norms::nec_ampacity::CONTINUOUS;
use crate::norms::region::Region;
use crate::norms::residual::most_leakage;
use crate::quantity::{Current, Ratio};
use num_traits::ToPrimitive;
use std::collections::BTreeMap;
use std::sync::Arc;
use uom::si::electric_current::{ampere, nanoampere, picoampere};
use uom::si::ratio::ratio;

/// What a circuit takes, by the units on it.
pub(super) struct Rooms {
    whole: Room,
    each: Vec<u128>,
}

impl Rooms {
    /// Works it out for each unit and its panel.
    pub(super) fn new(maker: &Maker<'_>, units: &[Unit], panels: &[Option<Arc<Point>>]) -> Rooms {
        let whole = whole(maker.project);
        let mut places: BTreeMap<usize, Vec<&Unit>> = BTreeMap::new();
        for unit in units {
            places.entry(unit.at.index).or_default().push(unit);
        }
        let within_drop: BTreeMap<usize, u128> = units
            .iter()
            .zip(panels)
            .filter_map(|(unit, panel)| {
                let here = places.get(&unit.at.index)?;
                Some((unit.at.index, within_drop(maker, panel.as_ref()?, here)?))
            })
            .collect();
        let each = units.iter().map(|unit| {
            let most = within_drop.get(&unit.at.index).copied();
            most.unwrap_or(whole.current).min(whole.current)
        });
        Rooms {
            each: each.collect(),
            whole,
        }
    }

    /// What a circuit with these units takes.
    pub(super) fn of(&self, units: &[usize]) -> Room {
        let each = units.iter().filter_map(|index| self.each.get(*index));
        Room {
            current: each.copied().min().unwrap_or(self.whole.current),
            ..self.whole
        }
    }
}

/// The breaker less its spare, and in `north-america` no more than its continuous rating.
fn whole(project: &Project) -> Room {
    let settings = &project.circuits;
    let mut share = 1.0 - settings.spare.get::<ratio>();
    if project.region == Region::NorthAmerica {
        share = share.min(1.0 / CONTINUOUS);
    }
    let most = rated(project) * share.clamp(0.0, 1.0);
    Room {
        current: (most.get::<nanoampere>() + 0.5)
            .floor()
            .to_u128()
            .unwrap_or(0),
        leakage: settings.residual.map(|rated| {
            let most = most_leakage(rated).get::<picoampere>() + 0.5;
            most.floor().to_u128().unwrap_or(0)
        }),
    }
}

/// The most current to a place that some cable takes there within the limit on drop, whatever the
/// power factor of the units there. `None` where nothing limits it, and where a unit by itself is
/// too much: more circuits would then cure nothing.
fn within_drop(maker: &Maker<'_>, panel: &Arc<Point>, here: &[&Unit]) -> Option<u128> {
    let place = Arc::clone(&here.first()?.at);
    let places = [place];
    let unity = Ratio::new::<ratio>(1.0);
    let most = here.iter().filter_map(|unit| {
        let demand = Demand {
            current: Current::new::<ampere>(1.0),
            power_factor: unit.power_factor.unwrap_or(unity),
            ..maker.demand(&places, maker.length(panel, &places))
        };
        most_within_drop(maker.project, &demand)
    });
    let least = most.min_by(|a, b| a.value.total_cmp(&b.value))?;
    let fits = here.iter().all(|unit| unit.counted <= least);
    let whole = least.get::<nanoampere>().floor().to_u128();
    whole.filter(|_| fits)
}
