//! Cables of circuits and loops: what is taken and told where tables and makers say nothing of them.

use crate::made;

use feedpoint::allocate::allocate;
use feedpoint::allocate::allocated::Circuit;
use feedpoint::model::Choice;
use feedpoint::model::cable::CableUse;
use feedpoint::model::project::Project;
use feedpoint::norms::region::Region;
use feedpoint::quantity::Voltage;
use made::{metres, project, site, sized_driver, sizing};
use std::sync::Arc;
use uom::ConstZero;

/// The circuit of the only driver, 12 m from the panel; what supplies the bus has another.
fn circuit(project: &Project) -> Circuit {
    let allocation = allocate(project, &sizing(vec![sized_driver(project, 1, 1, &[2], 0)]));
    let mut circuits = allocation.circuits.into_iter();
    let feeds = |circuit: &Circuit| circuit.drivers == ["D-01"];
    circuits.find(feeds).expect("the driver's circuit")
}

fn cable(circuit: &Circuit) -> &str {
    let cable = circuit.cable.as_ref().expect("a cable");
    &cable.offer.id
}

/// IEC 60364-5-52 Table B.52.2, method B2, two loaded cores: 16.5 A on 1.5 mm², of a breaker of 16 A.
#[test]
fn the_thinnest_that_may_carry_the_breaker_is_taken() {
    let circuit = circuit(&project(site(1, 1), 1));
    assert_eq!(cable(&circuit), "mains-1.5");
    assert!(circuit.ampacity.is_some());
}

/// 8 A of breaker to the mm² (common practice, no source): 16 A ask for 2 mm².
#[test]
fn where_nobody_says_what_cables_carry_one_is_taken_by_its_area() {
    let mut project = project(site(1, 1), 1);
    project.region = Region::AusNz;
    let circuit = circuit(&project);
    assert_eq!(cable(&circuit), "mains-2.5");
    assert_eq!(circuit.ampacity, None);
}

/// IEC 60228 has no conductor of 1.3 mm²: what it loses is not known, how far it goes is.
#[test]
fn a_bus_cable_of_unknown_resistance_has_its_distances_all_the_same() {
    let mut project = project(site(2, 2), 1);
    let odd = made::cable("bus-odd", CableUse::Bus, 1.3, "0.90");
    project.loops.cable = Choice::Given(Arc::new(odd));
    let drivers = [(1, 1, 3), (2, 2, 4)]
        .map(|(number, cupboard, room)| sized_driver(&project, number, cupboard, &[room], 0));
    let allocation = allocate(&project, &sizing(drivers.into()));
    assert_eq!(allocation.loops.len(), 1);
    let found = &allocation.loops[0];
    assert_eq!(found.drop, Voltage::ZERO);
    // The two cupboards are 12 m apart.
    assert!(found.longest >= metres(12.0), "{:?}", found.longest);
}
