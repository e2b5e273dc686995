//! What holds for every allocation: each driver on exactly one loop and one circuit, addresses
//! unique, limits kept, figures equal to the sums of what they stand for; and the answers to a few
//! questions with one answer.

use crate::made;
use crate::made::cases::cases;

use feedpoint::allocate::allocate;
use feedpoint::allocate::allocated::{Allocation, MemberKind};
use feedpoint::choose::sized::Sizing;
use feedpoint::model::Choice;
use feedpoint::model::cable::CableUse;
use feedpoint::model::project::{Breaker, Curve, Project, Topology};
use feedpoint::model::site::{PointKind, Site};
use feedpoint::norms::iec_62386;
use feedpoint::quantity::Current;
use made::{
    controller, devices, metres, milliamperes, point, project, share, site, sized_driver, sizing,
};
use proptest::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use uom::ConstZero;
use uom::si::electric_potential::volt;
use uom::si::length::meter;

/// A driver by cupboard, room and group; a count of devices by room.
#[derive(Debug, Clone)]
struct Job {
    drivers: Vec<(usize, usize, usize)>,
    devices: Vec<(usize, usize)>,
    rooms_whole: bool,
    line: bool,
}

const CUPBOARDS: usize = 3;
const ROOMS: usize = 7;
const GROUPS: usize = 9;

fn jobs() -> impl Strategy<Value = Job> {
    (
        prop::collection::vec((1..=CUPBOARDS, 0..ROOMS, 0..GROUPS), 1..70),
        prop::collection::vec((0..ROOMS, 1_usize..9), 0..8),
        any::<bool>(),
        any::<bool>(),
    )
        .prop_map(|(drivers, devices, rooms_whole, line)| Job {
            drivers,
            devices,
            rooms_whole,
            line,
        })
}

fn made_of(job: &Job) -> (Project, Sizing) {
    let mut project = project(site(CUPBOARDS, ROOMS), GROUPS);
    project.loops.keep_rooms_whole = job.rooms_whole;
    project.loops.topology = if job.line {
        Topology::Line
    } else {
        Topology::Free
    };
    let room = |room: usize| 1 + CUPBOARDS + room;
    let drivers = job
        .drivers
        .iter()
        .enumerate()
        .map(|(n, (cupboard, in_room, group))| {
            sized_driver(&project, n + 1, *cupboard, &[room(*in_room)], *group)
        })
        .collect();
    project.devices = job
        .devices
        .iter()
        .enumerate()
        .map(|(n, (in_room, count))| devices(&project, &format!("set-{n}"), room(*in_room), *count))
        .collect();
    (project, sizing(drivers))
}

/// Each name once, in `lists` taken together.
fn once<'a>(names: impl Iterator<Item = &'a String>) -> BTreeMap<&'a String, usize> {
    let mut seen = BTreeMap::new();
    for name in names {
        *seen.entry(name).or_insert(0) += 1;
    }
    seen
}

fn check(project: &Project, sizing: &Sizing, found: &Allocation) {
    let members = found
        .loops
        .iter()
        .flat_map(|l| l.members.iter().map(|m| &m.device));
    let on_loops = once(members);
    let on_circuits = once(found.circuits.iter().flat_map(|c| &c.drivers));
    for driver in &sizing.drivers {
        assert_eq!(
            on_loops.get(&driver.number),
            Some(&1),
            "{} on a loop",
            driver.number
        );
        assert_eq!(
            on_circuits.get(&driver.number),
            Some(&1),
            "{} on a circuit",
            driver.number
        );
    }
    let devices: usize = project.devices.iter().map(|set| set.count).sum();
    assert_eq!(on_loops.len(), sizing.drivers.len() + devices);
    for one in &found.loops {
        for kind in [MemberKind::Gear, MemberKind::ControlDevice] {
            let addresses: Vec<usize> = one
                .members
                .iter()
                .filter(|member| member.kind == kind)
                .flat_map(|member| member.addresses.clone())
                .collect();
            let unique: BTreeSet<usize> = addresses.iter().copied().collect();
            assert_eq!(unique.len(), addresses.len(), "addresses of {}", one.name);
            assert!(addresses.iter().all(|address| *address < 64));
        }
        // 64 × 0.85 and 200 mA × 0.85.
        assert!(one.gear <= 54 && one.control_devices <= 54);
        assert!(one.current <= milliamperes(170.0 * (1.0 + 1e-9)));
        let sum: Current = one.members.iter().map(|member| member.current).sum();
        assert!((sum - one.current).abs() <= milliamperes(1e-9));
        let tree: f64 = one
            .tree
            .iter()
            .map(|stretch| stretch.length.get::<meter>())
            .sum();
        assert!((tree - one.cable_length.get::<meter>()).abs() < 1e-9);
        assert!(one.drop <= iec_62386::most_drop() && one.unreached.is_empty());
        let numbers: BTreeSet<usize> = one.groups.iter().map(|group| group.number).collect();
        assert_eq!(
            numbers.len(),
            one.groups.len(),
            "group numbers of {}",
            one.name
        );
        for member in &one.members {
            let driver = sizing.drivers.iter().find(|it| it.number == member.device);
            let its = |number: &usize| {
                let group = one.groups.iter().find(|group| group.number == *number);
                group.map(|group| group.group.as_str())
            };
            let named: Vec<&str> = member.groups.iter().filter_map(its).collect();
            // Sixteen groups are the most that a bus numbers; a control device has none.
            let wanted: Vec<&str> = driver.iter().map(|it| it.group.name.as_str()).collect();
            assert_eq!(named, wanted, "groups of {}", member.device);
        }
        let points: BTreeSet<usize> = one.members.iter().map(|member| member.at.index).collect();
        let reached: BTreeSet<usize> = one
            .tree
            .iter()
            .map(|s| s.to.index)
            .chain([one.at.index])
            .collect();
        assert!(points.is_subset(&reached));
        assert_eq!(reached.len(), one.tree.len() + 1, "no ring in {}", one.name);
        let worst = one
            .members
            .iter()
            .map(|m| m.drop.get::<volt>())
            .fold(0.0, f64::max);
        assert!((worst - one.drop.get::<volt>()).abs() < 1e-12);
    }
    for circuit in &found.circuits {
        assert!(circuit.inrush_share.value <= 1.0 + 1e-9);
        assert!(circuit.current <= milliamperes(12_800.0 * (1.0 + 1e-9)));
        assert!(circuit.leakage <= milliamperes(9.0 * (1.0 + 1e-9)));
        assert_eq!(circuit.places.len(), 1);
        assert!(circuit.ampacity.unwrap() >= milliamperes(16_000.0));
    }
}

proptest! {
    #![proptest_config(cases(40))]

    #[test]
    fn every_unit_has_its_place_and_every_limit_is_kept(job in jobs()) {
        let (project, sizing) = made_of(&job);
        let found = allocate(&project, &sizing);
        check(&project, &sizing, &found);
        prop_assert_eq!(&allocate(&project, &sizing), &found, "the same input, the same answer");
    }

    #[test]
    fn rooms_and_groups_that_fit_a_loop_are_whole(job in jobs()) {
        let (mut project, sizing) = made_of(&job);
        // One group a room, so that no tie reaches past a room.
        let mut sizing = sizing;
        for driver in &mut sizing.drivers {
            driver.group = Arc::clone(&project.groups[driver.rooms[0].index - 1 - CUPBOARDS]);
        }
        project.loops.keep_rooms_whole = true;
        let found = allocate(&project, &sizing);
        let mut loops_of: BTreeMap<usize, BTreeSet<&str>> = BTreeMap::new();
        let mut current_of: BTreeMap<usize, Current> = BTreeMap::new();
        for one in &found.loops {
            for member in &one.members {
                loops_of.entry(member.room.index).or_default().insert(&one.name);
                *current_of.entry(member.room.index).or_insert(Current::ZERO) += member.current;
            }
        }
        for (room, loops) in &loops_of {
            if current_of[room] <= milliamperes(170.0) {
                prop_assert_eq!(loops.len(), 1);
            }
        }
    }
}

/// One room of `count` drivers in the first cupboard, all in one group.
fn one_room(count: usize) -> (Project, Sizing) {
    let project = project(site(1, 1), 1);
    let drivers = (1..=count)
        .map(|n| sized_driver(&project, n, 1, &[2], 0))
        .collect();
    (project, sizing(drivers))
}

#[test]
fn nothing_on_the_bus_needs_no_loop() {
    let (project, mut sizing) = one_room(3);
    for driver in &mut sizing.drivers {
        let mut item = (*driver.item).clone();
        item.bus = None;
        driver.item = Arc::new(item);
    }
    let found = allocate(&project, &sizing);
    assert!(found.loops.is_empty() && found.loops_proved);
    assert_eq!(found.circuits.len(), 1);
}

#[test]
fn a_room_too_large_for_a_loop_is_split_with_a_note() {
    let (project, sizing) = one_room(60);
    let found = allocate(&project, &sizing);
    assert_eq!(found.loops.len(), 2);
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.contains("room `room-0`")),
        "{:?}",
        found.notes
    );
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.contains("group `group-0`"))
    );
}

#[test]
fn a_fixed_number_of_loops_is_kept_even_when_it_breaks_a_limit() {
    let (mut project, sizing) = one_room(60);
    project.loops.count = Some(1);
    let found = allocate(&project, &sizing);
    assert_eq!((found.loops.len(), found.loops[0].gear), (1, 60));
    assert!(!found.loops_proved);
    let (mut project, sizing) = one_room(6);
    project.loops.count = Some(2);
    assert_eq!(allocate(&project, &sizing).loops.len(), 2);
}

#[test]
fn a_silent_sheet_counts_two_milliamperes_and_says_so() {
    let (project, mut sizing) = one_room(1);
    let mut item = (*sizing.drivers[0].item).clone();
    item.bus.as_mut().unwrap().current = None;
    sizing.drivers[0].item = Arc::new(item);
    let found = allocate(&project, &sizing);
    let member = &found.loops[0].members[0];
    assert!(member.current_assumed);
    assert_eq!(member.current, milliamperes(2.0));
}

#[test]
fn controllers_are_the_cheapest_that_give_the_loops() {
    // Three loops' worth of drivers in three rooms: a controller of four loops with supplies at
    // 694, or two of two loops and three supplies at 2 × 268 + 3 × 58 = 710.
    let mut project = project(site(1, 3), 3);
    let mut drivers = Vec::new();
    for room in 0..3 {
        for _ in 0..50 {
            drivers.push(sized_driver(
                &project,
                drivers.len() + 1,
                1,
                &[2 + room],
                room,
            ));
        }
    }
    let sizing = sizing(drivers);
    let two = allocate(&project, &sizing);
    let units: BTreeSet<&str> = two.loops.iter().map(|l| l.controller.as_str()).collect();
    assert_eq!(units.into_iter().collect::<Vec<_>>(), ["CTL-1", "CTL-2"]);
    assert!(two.loops.iter().all(|one| one.supply_item.is_some()));
    let four = controller("controller-4", 4, Some((190.0, 240.0)), "694.00");
    project.catalogue.controllers.push(Arc::new(four));
    let one = allocate(&project, &sizing);
    assert!(
        one.loops
            .iter()
            .all(|l| l.controller == "CTL-1" && l.supply_item.is_none())
    );
    assert_eq!(
        one.loops.iter().map(|l| l.port).collect::<Vec<_>>(),
        [1, 2, 3]
    );
    let given = Arc::clone(&project.catalogue.controllers[0]);
    project.loops.controller = Choice::Given(given);
    assert_eq!(allocate(&project, &sizing), two);
}

#[test]
fn a_long_way_asks_for_more_loops_than_addresses_do() {
    // Two rooms with cupboards of their own, 200 m either side of the panel: 400 m apart.
    let points = vec![
        point(0, "panel", PointKind::Panel),
        point(1, "east", PointKind::Cupboard),
        point(2, "west", PointKind::Cupboard),
        point(3, "hall", PointKind::Room),
        point(4, "yard", PointKind::Room),
    ];
    let route = |from: usize, to: usize, length| made::route(&points[from], &points[to], length);
    let routes = vec![
        route(0, 1, 200.0),
        route(0, 2, 200.0),
        route(1, 3, 5.0),
        route(2, 4, 5.0),
    ];
    let mut project = project(Site { points, routes }, 2);
    project.supply.phases = 3;
    let drivers = vec![
        sized_driver(&project, 1, 1, &[3], 0),
        sized_driver(&project, 2, 2, &[4], 1),
    ];
    let found = allocate(&project, &sizing(drivers));
    assert_eq!(found.loops.len(), 2);
    assert!(found.loops.iter().all(|one| one.longest <= metres(300.0)));
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.contains("drop, distance or scenes")),
        "{:?}",
        found.notes
    );
    let phases: BTreeSet<usize> = found.circuits.iter().map(|c| c.phase).collect();
    assert!(phases.len() > 1);
}

#[test]
fn the_breaker_decides_how_many_drivers_share_it() {
    // 13 drivers. On a B16 inrush allows 12, so two circuits. On a C16 (100 to 60 in the published
    // table) inrush allows 20, and current 20 of 0.62 A in 12.8 A, so one; leakage allows 12 of
    // 0.7 mA in 9 mA, so two again behind a residual-current device.
    let (mut project, sizing) = one_room(13);
    let drivers = |project: &Project| {
        let found = allocate(project, &sizing);
        found
            .circuits
            .iter()
            .filter(|c| !c.drivers.is_empty())
            .count()
    };
    project.circuits.residual = None;
    assert_eq!(drivers(&project), 2);
    project.circuits.breaker = Breaker {
        curve: Curve::C,
        amperes: 16,
    };
    assert_eq!(drivers(&project), 1);
    project.circuits.residual = Some(milliamperes(30.0));
    assert_eq!(drivers(&project), 2);
}

#[test]
fn a_bus_cable_of_unknown_resistance_is_not_chosen_and_is_noted_when_given() {
    // 1.3 mm² is in no table of IEC 60228.
    let (mut project, sizing) = one_room(2);
    let odd = Arc::new(made::cable("bus-1.3", CableUse::Bus, 1.3, "0.10"));
    project.catalogue.cables.push(Arc::clone(&odd));
    let found = allocate(&project, &sizing);
    assert_eq!(found.loops[0].cable.as_ref().unwrap().offer.id, "bus-1.5");
    // Two points on one route: the cable's length leaves no doubt.
    let [note] = found.notes.as_slice() else {
        panic!("{:?}", found.notes);
    };
    assert!(
        note.ends_with("of bus cable are proved the least"),
        "{note}"
    );
    project.loops.cable = Choice::Given(odd);
    let found = allocate(&project, &sizing);
    assert!(
        found
            .notes
            .iter()
            .any(|note| note.contains("resistance of cable `bus-1.3`"))
    );
}

#[test]
fn cupboards_share_a_circuit_only_where_that_is_asked() {
    let mut project = project(site(2, 1), 1);
    let drivers = [1, 2].map(|cupboard| sized_driver(&project, cupboard, cupboard, &[3], 0));
    let sizing = sizing(drivers.to_vec());
    let drivers_of_each = |project: &Project| -> Vec<usize> {
        let found = allocate(project, &sizing);
        let counts = found.circuits.iter().map(|circuit| circuit.drivers.len());
        counts.filter(|count| *count > 0).collect()
    };
    assert_eq!(drivers_of_each(&project), [1, 1]);
    project.circuits.share_cupboards = true;
    assert_eq!(drivers_of_each(&project), [2]);
}

#[test]
fn circuits_of_a_cupboard_are_evenly_full() {
    // 14 drivers, 12 of which fill a circuit: seven and seven, not twelve and two.
    let (project, sizing) = one_room(14);
    let found = allocate(&project, &sizing);
    let mut counts: Vec<usize> = found.circuits.iter().map(|c| c.drivers.len()).collect();
    counts.sort_unstable();
    assert_eq!(counts, [0, 7, 7]);
}

#[test]
fn what_a_sheet_does_not_say_is_listed_not_taken_for_nothing() {
    let (project, mut sizing) = one_room(2);
    let mut item = (*sizing.drivers[0].item).clone();
    item.mains.current = None;
    item.mains.most_per_b16 = None;
    item.mains.earth_leakage = None;
    sizing.drivers[0].item = Arc::new(item);
    let found = allocate(&project, &sizing);
    let circuit = &found.circuits[found.circuits.len() - 1];
    let own = ["D-01".to_owned()];
    assert_eq!(circuit.unknown_current, own);
    assert_eq!(circuit.unknown_inrush, own);
    assert_eq!(circuit.unknown_leakage, own);
    assert!((circuit.current - milliamperes(620.0)).abs() < milliamperes(1e-6));
}

#[test]
fn controllers_and_supplies_have_a_circuit() {
    let (project, sizing) = one_room(2);
    let found = allocate(&project, &sizing);
    let named: Vec<&String> = found.circuits.iter().flat_map(|c| &c.supplies).collect();
    assert_eq!(named, ["CTL-1", "supply of L1"]);
    assert_eq!(found.circuits[0].places[0].name, "panel");
    assert!((found.circuits[0].current - milliamperes(110.0)).abs() < milliamperes(1e-6));
}

#[test]
fn a_given_mains_cable_is_used_and_judged_by_its_own_figures() {
    let (mut project, sizing) = one_room(2);
    let given = Arc::clone(&project.catalogue.cables[4]);
    project.circuits.cable = Choice::Given(Arc::clone(&given));
    let found = allocate(&project, &sizing);
    assert!(
        found
            .circuits
            .iter()
            .all(|c| c.cable.as_ref() == Some(&given))
    );
    // Auto: 1.5 mm² carries 16.5 A (IEC 60364-5-52 Table B.52.2, method B2), enough for a B16.
    project.circuits.cable = Choice::Auto;
    let found = allocate(&project, &sizing);
    assert!(
        found
            .circuits
            .iter()
            .all(|c| c.cable.as_ref().unwrap().offer.id == "mains-1.5")
    );
    assert!(share(3.0) > found.circuits[1].drop.unwrap());
}

#[test]
fn a_loop_that_needs_no_bus_cable_has_the_least() {
    let (mut project, sizing) = one_room(2);
    project.loops.at = vec![Arc::clone(&project.site.points[1])];
    let found = allocate(&project, &sizing);
    assert_eq!(found.loops[0].cable_length, metres(0.0));
    assert_eq!(
        found.notes,
        ["the 0.00 m of bus cable are proved the least"]
    );
}
