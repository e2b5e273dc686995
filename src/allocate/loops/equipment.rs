//! Controllers and bus supplies: what could serve a loop, and the cheapest units for a number of
//! loops.

use crate::model::bus::{BusSupply, Controller, SupplyCurrent};
use crate::model::offer::Offer;
use crate::model::project::Project;
use crate::norms::iec_62386;
use crate::quantity::Current;
use rust_decimal::Decimal;
use std::sync::Arc;
use uom::ConstZero;

/// A controller with what supplies its loops.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Equipment {
    /// The controller; `None` when the catalogue has none.
    pub controller: Option<Arc<Controller>>,
    /// The separate supply of each loop, where the controller has none built in.
    pub supply: Option<Arc<BusSupply>>,
    /// What supplies each loop; zero when nothing does.
    pub current: SupplyCurrent,
    /// Loops of one unit.
    pub ports: usize,
}

impl Equipment {
    /// What a loop is sized by: what the supply always delivers, or, with no supply to be had, the
    /// most that any may.
    pub(super) fn guaranteed(&self) -> Current {
        if self.current.guaranteed > Current::ZERO {
            self.current.guaranteed
        } else {
            iec_62386::most_supply()
        }
    }

    /// Cost of one unit with supplies for `loops` of its loops; a missing price counts as the
    /// first number, so that it is the last resort.
    fn cost(&self, loops: usize) -> Cost {
        let mut cost = Cost {
            units: 1,
            ..Cost::default()
        };
        for (offer, quantity) in [
            (self.controller.as_ref().map(|c| &c.offer), 1),
            (self.supply.as_ref().map(|s| &s.offer), loops),
        ] {
            match offer.map(price) {
                None => {}
                Some(Some(price)) => cost.price += price * Decimal::from(quantity),
                Some(None) => cost.unpriced += quantity,
            }
        }
        cost
    }
}

/// The price of one piece.
pub(super) fn price(offer: &Offer) -> Option<Decimal> {
    offer.prices.first().map(|step| step.price)
}

/// What units cost: compared by pieces without a price, then price, then number of units.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Cost {
    unpriced: usize,
    price: Decimal,
    units: usize,
}

impl Cost {
    fn and(self, other: Cost) -> Cost {
        Cost {
            unpriced: self.unpriced + other.unpriced,
            price: self.price + other.price,
            units: self.units + other.units,
        }
    }
}

/// What could serve the project's loops, in catalogue order; never empty.
pub(super) fn options(project: &Project) -> Vec<Equipment> {
    let catalogue = &project.catalogue;
    let given = project.loops.controller.given();
    let controllers: Vec<Option<Arc<Controller>>> = match given {
        Some(given) => vec![Some(Arc::clone(given))],
        None if catalogue.controllers.is_empty() => vec![None],
        None => catalogue.controllers.iter().cloned().map(Some).collect(),
    };
    let supplies = supplies(project);
    let mut options = Vec::new();
    for controller in controllers {
        let ports = controller.as_ref().map_or(1, |c| c.loops.max(1));
        let built_in = controller.as_ref().and_then(|c| c.supply);
        let pairs: Vec<(Option<Arc<BusSupply>>, SupplyCurrent)> = match built_in {
            Some(current) => vec![(None, current)],
            None if supplies.is_empty() => vec![(None, NONE)],
            None => {
                let pair = |s: &Arc<BusSupply>| (Some(Arc::clone(s)), s.supply);
                supplies.iter().map(pair).collect()
            }
        };
        for (supply, current) in pairs {
            options.push(Equipment {
                controller: controller.clone(),
                supply,
                current,
                ports,
            });
        }
    }
    let supplied = |option: &Equipment| option.current.guaranteed > Current::ZERO;
    if options.iter().any(supplied) {
        options.retain(supplied);
    }
    options
}

const NONE: SupplyCurrent = SupplyCurrent {
    guaranteed: Current::ZERO,
    maximum: Current::ZERO,
};

/// The separate supplies that may be used: the given one, or those of the catalogue that may stand
/// on a loop alone.
pub(super) fn supplies(project: &Project) -> Vec<Arc<BusSupply>> {
    if let Some(given) = project.loops.supply.given() {
        return vec![Arc::clone(given)];
    }
    let all = &project.catalogue.bus_supplies;
    let allowed = |s: &&Arc<BusSupply>| s.supply.maximum <= iec_62386::most_supply();
    let some: Vec<Arc<BusSupply>> = all.iter().filter(allowed).cloned().collect();
    if some.is_empty() { all.clone() } else { some }
}

/// The cheapest units that serve `loops` loops, each with the loops it serves; earlier options
/// first among equals.
pub(super) fn cheapest<'a>(
    options: &[&'a Equipment],
    loops: usize,
) -> (Cost, Vec<(&'a Equipment, usize)>) {
    let mut best: Vec<(Cost, Vec<(&Equipment, usize)>)> = vec![(Cost::default(), Vec::new())];
    for wanted in 1..=loops {
        let with = |option: &&'a Equipment| {
            let served = option.ports.min(wanted);
            let (rest, units) = best.get(wanted - served)?;
            let mut units = units.clone();
            units.push((*option, served));
            Some((rest.and(option.cost(served)), units))
        };
        let Some(cheapest) = options
            .iter()
            .filter_map(with)
            .min_by_key(|(cost, _)| *cost)
        else {
            break;
        };
        best.push(cheapest);
    }
    best.pop().unwrap_or_default()
}
