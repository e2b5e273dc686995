//! What was issued of loops and circuits, after a change that one of them can't take: what leaves,
//! what is said of it, and where it goes. Expected values are counted by hand.

use crate::made;

use feedpoint::allocate::allocate;
use feedpoint::allocate::allocated::{Allocation, Circuit};
use feedpoint::allocate::issued::snapshot;
use feedpoint::choose::sized::Sizing;
use feedpoint::model::Choice;
use feedpoint::model::bus::BusSupply;
use feedpoint::model::cable::CableUse;
use feedpoint::model::driver::Driver;
use feedpoint::model::issued::{Highest, IssuedCircuit, Record, Released};
use feedpoint::model::project::Project;
use feedpoint::model::scene::{Scene, SceneSetting};
use feedpoint::model::site::{PointKind, Site};
use feedpoint::quantity::{Current, Temperature};
use made::{bus_supply, metres, milliamperes, place, point, project, share, site, sized_driver};
use std::sync::Arc;
use uom::si::electric_current::ampere;
use uom::si::thermodynamic_temperature::degree_celsius;

/// A project that was issued as it is.
fn issue(project: &mut Project, sizing: &Sizing) {
    let found = allocate(project, sizing);
    let record = snapshot(project, sizing, &found.loops, &found.circuits);
    project.issued.record = Some(Arc::new(record));
}

/// What left its place, with the reason.
fn left(found: &Allocation) -> Vec<Released> {
    let changes = found.changes.as_ref().expect("there is a record");
    let moved = changes.list.iter();
    moved
        .map(|change| Released::new(change.subject.clone(), change.reason.clone()))
        .collect()
}

/// The one reason that is given for the things that left.
fn reason(found: &Allocation, about: &str) -> String {
    let mut reasons: Vec<String> = left(found)
        .into_iter()
        .map(|one| one.reason)
        .filter(|reason| reason.contains(about))
        .collect();
    reasons.dedup();
    assert_eq!(reasons.len(), 1, "{:?}", left(found));
    reasons.remove(0)
}

fn bend(sizing: &mut Sizing, bend: impl Fn(&mut Driver)) {
    for driver in &mut sizing.drivers {
        bend(Arc::make_mut(&mut driver.item));
    }
}

/// The drivers of each circuit that has any.
fn circuits(found: &Allocation) -> Vec<(&str, Vec<&str>)> {
    let with_drivers = found.circuits.iter().filter(|c| !c.drivers.is_empty());
    with_drivers
        .map(|c| {
            let drivers = c.drivers.iter().map(String::as_str).collect();
            (c.name.as_str(), drivers)
        })
        .collect()
}

/// How many members each loop has.
fn loops(found: &Allocation) -> Vec<(&str, usize)> {
    let each = found.loops.iter();
    each.map(|on| (on.name.as_str(), on.members.len()))
        .collect()
}

/// Drivers in the first cupboard, by room and group.
fn drivers(project: &Project, rooms_and_groups: &[(usize, usize)]) -> Sizing {
    let list = rooms_and_groups
        .iter()
        .enumerate()
        .map(|(n, (room, group))| sized_driver(project, n + 1, 1, &[*room], *group));
    made::sizing(list.collect())
}

fn on_circuit(number: usize, drivers: &[&str], phase: usize) -> IssuedCircuit {
    IssuedCircuit {
        name: format!("C{number}"),
        panel: Some("panel".to_owned()),
        breaker: "B16".to_owned(),
        phase,
        cable: None,
        drivers: drivers.iter().map(|name| (*name).to_owned()).collect(),
        supplies: Vec::new(),
    }
}

/// A record of circuits alone.
fn record(circuits: Vec<IssuedCircuit>) -> Option<Arc<Record>> {
    Some(Arc::new(Record {
        number: 1,
        highest: Highest {
            circuits: circuits.len(),
            ..Highest::default()
        },
        circuits,
        ..Record::default()
    }))
}

#[test]
fn a_circuit_is_left_when_another_panel_is_nearer() {
    // The stacks' panel is 50 m from the cupboard when the job is issued, and then 3 m.
    let points = vec![
        point(0, "foyer-panel", PointKind::Panel),
        point(1, "cupboard", PointKind::Cupboard),
        point(2, "stacks-panel", PointKind::Panel),
        point(3, "stacks", PointKind::Room),
    ];
    let route = |from: usize, to: usize, length| made::route(&points[from], &points[to], length);
    let routes = vec![route(0, 1, 12.0), route(2, 1, 50.0), route(1, 3, 8.0)];
    let mut project = project(Site { points, routes }, 1);
    let sizing = drivers(&project, &[(3, 0), (3, 0)]);
    issue(&mut project, &sizing);
    let before = allocate(&project, &sizing);
    assert!(left(&before).is_empty());
    project.site.routes[1].length = metres(3.0);
    let found = allocate(&project, &sizing);
    assert_eq!(reason(&found, "panel"), "another panel is nearest");
    let last = found.circuits.last().expect("there are circuits");
    assert_eq!(last.drivers, ["D-01", "D-02"]);
    assert_eq!(last.panel.as_ref().expect("a panel").name, "stacks-panel");
}

#[test]
fn a_shared_circuit_is_left_when_cupboards_may_share_no_longer() {
    let mut project = project(site(2, 1), 1);
    project.circuits.share_cupboards = true;
    let two = [1, 2].map(|cupboard| sized_driver(&project, cupboard, cupboard, &[3], 0));
    let sizing = made::sizing(two.to_vec());
    issue(&mut project, &sizing);
    let shared = allocate(&project, &sizing);
    assert!(left(&shared).is_empty());
    assert_eq!(circuits(&shared)[0].1, ["D-01", "D-02"]);
    project.circuits.share_cupboards = false;
    let found = allocate(&project, &sizing);
    let said = "the others on its circuit stand elsewhere";
    assert_eq!(reason(&found, "elsewhere"), said);
    let each = circuits(&found).into_iter().map(|(_, drivers)| drivers);
    assert_eq!(each.collect::<Vec<_>>(), [["D-01"], ["D-02"]]);
}

#[test]
fn a_circuit_keeps_the_drivers_that_it_can_carry() {
    // A B16 less 20 % takes 12.8 A: three of 4 A, and 16 A with the fourth.
    let mut project = project(site(1, 1), 1);
    let mut sizing = drivers(&project, &[(2, 0); 4]);
    project.issued.record = record(vec![on_circuit(1, &["D-01", "D-02", "D-03", "D-04"], 1)]);
    assert_eq!(circuits(&allocate(&project, &sizing)).len(), 1);
    bend(&mut sizing, |item| {
        item.mains.current = Some(Current::new::<ampere>(4.0));
    });
    let found = allocate(&project, &sizing);
    let said = "C1 would be over in load (16.00 A), inrush or leakage";
    assert_eq!(reason(&found, "over in load"), said);
    let on = circuits(&found);
    assert_eq!(on[0], ("C1", vec!["D-01", "D-02", "D-03"]));
    assert_eq!(on[1].1, ["D-04"]);
}

#[test]
fn a_driver_that_no_circuit_takes_stays_on_its_own() {
    let mut project = project(site(1, 1), 1);
    let mut sizing = drivers(&project, &[(2, 0)]);
    issue(&mut project, &sizing);
    bend(&mut sizing, |item| {
        item.mains.current = Some(Current::new::<ampere>(20.0));
    });
    let found = allocate(&project, &sizing);
    assert!(left(&found).iter().all(|one| !one.subject.contains("D-01")));
    assert_eq!(found.circuits.len(), 2);
}

#[test]
fn a_new_driver_goes_on_the_circuit_of_its_room_and_else_on_the_least_full() {
    // Rooms 3 to 6; C1 serves the first with three drivers, C2 the second with one.
    let mut project = project(site(2, 4), 1);
    project.supply.phases = 3;
    let own = |number: usize, cupboard: usize, room: usize| {
        sized_driver(&project, number, cupboard, &[room], 0)
    };
    let sizing = made::sizing(vec![
        own(1, 1, 3),
        own(2, 1, 3),
        own(3, 1, 3),
        own(4, 1, 4),
        own(5, 1, 3),
        own(6, 1, 5),
        own(7, 2, 6),
    ]);
    let c1 = on_circuit(1, &["D-01", "D-02", "D-03"], 2);
    project.issued.record = record(vec![c1, on_circuit(2, &["D-04"], 3)]);
    let found = allocate(&project, &sizing);
    let on = circuits(&found);
    assert_eq!(on[0], ("C1", vec!["D-01", "D-02", "D-03", "D-05"]));
    assert_eq!(on[1], ("C2", vec!["D-04", "D-06"]));
    // The other cupboard's has a circuit of its own, on the phase that nothing is on.
    let other = on.iter().find(|(_, drivers)| drivers == &["D-07"]);
    assert!(other.is_some_and(|(name, _)| ["C3", "C4"].contains(name)));
    let phase = |name: &str| {
        found
            .circuits
            .iter()
            .find(|c| c.name == name)
            .map(|c| c.phase)
    };
    assert_eq!((phase("C1"), phase("C2")), (Some(2), Some(3)));
    let seventh = other.map(|(name, _)| *name).expect("it is on one");
    assert_eq!(phase(seventh), Some(1));
}

#[test]
fn a_new_circuit_joins_the_phase_of_its_room_unless_rooms_may_be_spread() {
    // C1 on phase 2 is as full as inrush allows, with twelve drivers; a thirteenth is added.
    let mut project = project(site(1, 1), 1);
    project.supply.phases = 3;
    let sizing = drivers(&project, &[(2, 0); 13]);
    let names: Vec<&str> = sizing.drivers.iter().map(|it| it.number.as_str()).collect();
    project.issued.record = record(vec![on_circuit(1, &names[..12], 2)]);
    let phase = |project: &Project| {
        let found = allocate(project, &sizing);
        let on = |circuit: &&Circuit| circuit.drivers == ["D-13"];
        found.circuits.iter().find(on).map(|circuit| circuit.phase)
    };
    assert_eq!(phase(&project), Some(2));
    project.circuits.spread_rooms = true;
    assert!(matches!(phase(&project), Some(1 | 3)));
}

/// Fifty drivers of one room and group on one loop, issued.
fn fifty() -> (Project, Sizing) {
    let mut project = project(site(1, 1), 1);
    let sizing = drivers(&project, &[(2, 0); 50]);
    issue(&mut project, &sizing);
    let found = allocate(&project, &sizing);
    assert_eq!(loops(&found), [("L1", 50)]);
    assert!(left(&found).is_empty());
    (project, sizing)
}

#[test]
fn a_loop_keeps_the_gear_that_it_has_addresses_for() {
    // Of two addresses each, 32 take all 64; the 33rd would have taken 66.
    let (project, mut sizing) = fifty();
    bend(&mut sizing, |item| {
        item.bus.as_mut().expect("it is on the bus").addresses = 2;
    });
    let found = allocate(&project, &sizing);
    let said = "L1 would have 66 addresses of gear, of 64";
    assert_eq!(reason(&found, "addresses of gear"), said);
    assert_eq!(loops(&found), [("L1", 32), ("L2", 18)]);
}

#[test]
fn a_loop_keeps_the_gear_that_its_supply_feeds() {
    // Of 10 mA each, 20 take the 200 mA of the supply; with the 21st it would be 210 mA.
    let (project, mut sizing) = fifty();
    bend(&mut sizing, |item| {
        item.bus.as_mut().expect("it is on the bus").current = Some(milliamperes(10.0));
    });
    let found = allocate(&project, &sizing);
    let said = "L1 would draw 210 mA, and is given 200 mA";
    assert_eq!(reason(&found, "would draw"), said);
    assert_eq!(loops(&found)[0], ("L1", 20));
    // New loops keep the spare: 17 of 10 mA in 170 mA, so thirty need two.
    assert_eq!(found.loops.len(), 3);
}

#[test]
fn a_loop_keeps_the_sensors_that_it_has_addresses_for() {
    let mut project = project(site(1, 1), 1);
    let item = Arc::make_mut(&mut project.catalogue.control_devices[0]);
    item.current = Some(milliamperes(1.0));
    project.devices = vec![made::devices(&project, "hall-sensor", 2, 50)];
    let sizing = drivers(&project, &[(2, 0)]);
    issue(&mut project, &sizing);
    Arc::make_mut(&mut project.devices[0].item).addresses = 2;
    let found = allocate(&project, &sizing);
    let said = "L1 would have 66 addresses of control devices, of 64";
    assert_eq!(reason(&found, "of control devices"), said);
    assert_eq!(loops(&found), [("L1", 33), ("L2", 18)]);
}

#[test]
fn a_loop_keeps_sixteen_groups() {
    let mut project = project(site(1, 1), 17);
    let with_groups = |count: usize| -> Vec<(usize, usize)> {
        (0..17).map(|driver| (2, driver.min(count - 1))).collect()
    };
    let sizing = drivers(&project, &with_groups(16));
    issue(&mut project, &sizing);
    let found = allocate(&project, &sizing);
    assert_eq!(loops(&found), [("L1", 17)]);
    let sizing = drivers(&project, &with_groups(17));
    let found = allocate(&project, &sizing);
    let said = "L1 would have 17 groups, of 16";
    assert_eq!(reason(&found, "groups"), said);
    assert_eq!(loops(&found), [("L1", 16), ("L2", 1)]);
}

#[test]
fn a_loop_keeps_sixteen_scenes() {
    // One scene sets the first driver's group, and 16 more are then asked of the second's.
    let mut project = project(site(1, 1), 2);
    let scene = |name: String, group: usize| Scene {
        name,
        settings: vec![SceneSetting {
            group: Arc::clone(&project.groups[group]),
            light: share(50.0),
            white: None,
            at_least: None,
            place: place(),
        }],
        fade: None,
        place: place(),
    };
    let scenes: Vec<Scene> = (0..17)
        .map(|n| scene(format!("scene-{n}"), usize::from(n > 0)))
        .collect();
    project.scenes = scenes[..16].to_vec();
    let sizing = drivers(&project, &[(2, 0), (2, 1)]);
    issue(&mut project, &sizing);
    assert_eq!(loops(&allocate(&project, &sizing)), [("L1", 2)]);
    project.scenes = scenes;
    let found = allocate(&project, &sizing);
    let said = "L1 would have more scenes than there are numbers";
    assert_eq!(reason(&found, "scenes"), said);
    assert_eq!(loops(&found), [("L1", 1), ("L2", 1)]);
}

#[test]
fn a_loop_loses_what_has_come_too_far_from_its_supply() {
    // The panel, 12 m, a cupboard, then another: 300 m is the most, 12 + 400 m what it would be.
    let mut project = project(site(2, 1), 1);
    let two = [1, 2].map(|cupboard| sized_driver(&project, cupboard, cupboard, &[3], 0));
    let sizing = made::sizing(two.to_vec());
    issue(&mut project, &sizing);
    let near = allocate(&project, &sizing);
    assert_eq!(loops(&near), [("L1", 2)]);
    project.site.routes[1].length = metres(400.0);
    let found = allocate(&project, &sizing);
    let said = "on L1 it would be 412 m to the furthest member";
    assert_eq!(reason(&found, "furthest"), said);
    assert_eq!(loops(&found), [("L1", 1), ("L2", 1)]);
    assert_eq!(found.loops[0].members[0].device, "D-01");
}

#[test]
fn a_loop_loses_what_costs_it_too_many_volts() {
    // On 0.5 mm² at 70 °C (36.0 Ω/km, IEC 60228 Table 2; × (1 + 0.00393 × 50)) both wires have
    // 0.0861 Ω a metre: 12 m with 240 mA, then 87 m with 236 mA, lose 2.02 V of 2 V.
    let mut project = project(site(2, 1), 1);
    let supply: Arc<BusSupply> = Arc::new(bus_supply("supply-240", (240.0, 250.0), "58.00"));
    project.catalogue.bus_supplies = vec![supply];
    let thin = made::cable("bus-0.5", CableUse::Bus, 0.5, "0.40");
    project.loops.cable = Choice::Given(Arc::new(thin));
    project.loops.temperature = Temperature::new::<degree_celsius>(70.0);
    project.loops.spare = share(0.0);
    let sixty: Vec<_> = (1..=60)
        .map(|n| sized_driver(&project, n, if n == 1 { 1 } else { 2 }, &[3], 0))
        .collect();
    let mut sizing = made::sizing(sixty);
    project.site.routes[1].length = metres(87.0);
    issue(&mut project, &sizing);
    assert_eq!(loops(&allocate(&project, &sizing)), [("L1", 60)]);
    bend(&mut sizing, |item| {
        item.bus.as_mut().expect("it is on the bus").current = Some(milliamperes(4.0));
    });
    let found = allocate(&project, &sizing);
    assert_eq!(reason(&found, "lose"), "L1 would lose 2.02 V");
    assert_eq!(loops(&found)[0], ("L1", 1));
}

#[test]
fn a_new_driver_uses_the_spare_of_its_groups_loop_and_of_no_other() {
    // 54 of 64 addresses are used when 15 % are kept. The 55th is of the same group and room;
    // after that one of another group and room has to have a loop of its own.
    let mut project = project(site(1, 2), 2);
    let sizing = drivers(&project, &[(2, 0); 54]);
    issue(&mut project, &sizing);
    assert_eq!(loops(&allocate(&project, &sizing)), [("L1", 54)]);
    let with = |room: usize, group: usize| {
        let mut all = vec![(2, 0); 54];
        all.push((room, group));
        drivers(&project, &all)
    };
    assert_eq!(loops(&allocate(&project, &with(2, 0))), [("L1", 55)]);
    assert_eq!(loops(&allocate(&project, &with(3, 0))), [("L1", 55)]);
    assert_eq!(loops(&allocate(&project, &with(2, 1))), [("L1", 55)]);
    let apart = allocate(&project, &with(3, 1));
    assert_eq!(loops(&apart), [("L1", 54), ("L2", 1)]);
    // Rooms tie nothing where they need not be whole.
    project.loops.keep_rooms_whole = false;
    let apart = allocate(&project, &drivers_with_room_alone(&project));
    assert_eq!(loops(&apart), [("L1", 54), ("L2", 1)]);
}

/// 54 drivers, and one of the same room in another group.
fn drivers_with_room_alone(project: &Project) -> Sizing {
    let mut all = vec![(2, 0); 54];
    all.push((2, 1));
    drivers(project, &all)
}

#[test]
fn no_loop_is_added_to_a_fixed_number() {
    // Both are full: a driver more goes where it is least over, on the second with one less.
    let mut project = project(site(1, 3), 3);
    project.loops.spare = share(0.0);
    let mut all = vec![(2, 0); 64];
    all.extend([(3, 1); 63]);
    let sizing = drivers(&project, &all);
    project.loops.count = Some(2);
    issue(&mut project, &sizing);
    assert_eq!(
        loops(&allocate(&project, &sizing)),
        [("L1", 64), ("L2", 63)]
    );
    all.extend([(4, 2); 2]);
    let found = allocate(&project, &drivers(&project, &all));
    let sum: usize = loops(&found).iter().map(|(_, members)| members).sum();
    assert_eq!((found.loops.len(), sum), (2, 129));
}

#[test]
fn issues_are_numbered_on_and_feeds_counted_along_each_section() {
    let mut project = project(site(1, 1), 1);
    let item = Arc::new(made::cable("feed-1.5", CableUse::StripFeed, 1.5, "1.12"));
    let cable = |number: usize, section: usize, at: f64| {
        let mut cable = made::feed_cable(number, "cove", &item, 6.0);
        (cable.section, cable.at) = (section, metres(at));
        cable
    };
    let mut sizing = drivers(&project, &[(2, 0)]);
    // Two feeds of the second section, the further one listed first, and one of the first.
    sizing.cables = vec![cable(1, 2, 7.0), cable(2, 2, 4.0), cable(3, 1, 0.0)];
    issue(&mut project, &sizing);
    let first = project.issued.record.clone().expect("it was issued");
    let feeds: Vec<usize> = first.cables.iter().map(|cable| cable.feed).collect();
    assert_eq!((first.number, feeds), (1, vec![2, 1, 1]));
    assert_eq!((first.highest.cables, first.highest.drivers), (3, 1));
    // The highest numbers stay when what had them goes.
    sizing.cables.truncate(1);
    issue(&mut project, &sizing);
    let second = project.issued.record.clone().expect("it was issued");
    assert_eq!((second.number, second.highest.cables), (2, 3));
}

#[test]
fn what_stays_on_more_loops_or_circuits_than_are_needed_is_not_called_the_fewest() {
    // Two rooms, each with drivers for more than half a loop, of which one is then left in each.
    let mut project = project(site(1, 2), 2);
    let mut all = vec![(2, 0); 40];
    all.extend([(3, 1); 40]);
    let sizing = drivers(&project, &all);
    issue(&mut project, &sizing);
    let before = allocate(&project, &sizing);
    assert_eq!(loops(&before), [("L1", 40), ("L2", 40)]);
    assert!(before.loops_proved && before.circuits_proved);
    let mut few = sizing.clone();
    few.drivers = vec![sizing.drivers[0].clone(), sizing.drivers[79].clone()];
    let found = allocate(&project, &few);
    assert_eq!(loops(&found), [("L1", 1), ("L2", 1)]);
    assert!(!found.loops_proved && !found.circuits_proved);
    project.issued.afresh = true;
    let afresh = allocate(&project, &few);
    assert_eq!(loops(&afresh), [("L1", 2)]);
    assert!(afresh.loops_proved && afresh.circuits_proved);
}
