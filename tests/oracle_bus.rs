//! Drops and distances of control buses, against tree sums checked by a nodal matrix and a general
//! shortest-path routine, in `tests/oracle/bus_loops.json`, whose `how` defines every figure.

use feedpoint::model::cable::Conductor;
use feedpoint::norms::iec_62386;
use feedpoint::norms::limit::{Bound, Limit, Source};
use feedpoint::quantity::conductor::ConductorSize;
use feedpoint::quantity::{Area, Current, Length, Temperature};
use feedpoint::solve::bus::{Bus, BusEdge, BusFigures, BusSource, BusUnit, figures};
use feedpoint::solve::cable::conductor_resistance;
use serde_json::Value;
use std::collections::BTreeSet;
use uom::si::area::square_millimeter;
use uom::si::electric_current::milliampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::thermodynamic_temperature::degree_celsius;

const TOLERANCE: f64 = 1e-9;

fn float(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn milliamperes(value: &Value) -> Current {
    Current::new::<milliampere>(float(value))
}

fn list<'a>(case: &'a Value, key: &str) -> &'a Vec<Value> {
    case[key].as_array().unwrap()
}

fn bus(case: &Value) -> Bus {
    let node = |name: &Value| list(case, "nodes").iter().position(|n| n == name).unwrap();
    let edge = |edge: &Value| {
        let conductor = match edge["conductor_class"].as_str().unwrap() {
            "class1_2" => Conductor::Class1Or2,
            "class5" => Conductor::Class5,
            other => panic!("{other}"),
        };
        let size = ConductorSize::Metric(Area::new::<square_millimeter>(float(&edge["mm2"])));
        let at = Temperature::new::<degree_celsius>(float(&edge["conductor_temp_c"]));
        let length = Length::new::<meter>(float(&edge["length_m"]));
        BusEdge {
            a: node(&edge["a"]),
            b: node(&edge["b"]),
            length,
            resistance: 2.0 * conductor_resistance(conductor, size, at).unwrap() * length,
        }
    };
    let unit = |device: &Value| BusUnit {
        node: node(&device["node"]),
        draw: milliamperes(&device["draw_ma"]),
    };
    let source = |supply: &Value| BusSource {
        node: node(&supply["node"]),
        maximum: milliamperes(&supply["maximum_ma"]),
    };
    Bus {
        nodes: list(case, "nodes").len(),
        edges: list(case, "edges").iter().map(edge).collect(),
        units: list(case, "devices").iter().map(unit).collect(),
        sources: list(case, "supplies").iter().map(source).collect(),
    }
}

fn count(case: &Value, kind: &str) -> usize {
    list(case, "devices")
        .iter()
        .filter(|device| device["kind"] == kind)
        .count()
}

fn at_most<Q>(value: Q) -> Limit<Q> {
    Limit {
        value,
        bound: Bound::AtMost,
        source: Source::Published("IEC 62386-101"),
    }
}

/// The limits broken, by the names the reference uses. Distances are held against 300 m there,
/// whatever the conductor.
fn violations(case: &Value, found: &BusFigures) -> BTreeSet<&'static str> {
    let sum = |key: &str| -> Current {
        list(case, "supplies")
            .iter()
            .map(|supply| milliamperes(&supply[key]))
            .sum()
    };
    let thick = Area::new::<square_millimeter>(1.5);
    let distance = at_most(iec_62386::longest(thick).unwrap());
    let drop = at_most(iec_62386::most_drop());
    let kept = [
        (
            "gear_count",
            at_most(iec_62386::GEAR).allows_count(count(case, "gear")),
        ),
        (
            "control_count",
            at_most(iec_62386::CONTROL_DEVICES).allows_count(count(case, "control")),
        ),
        (
            "supply_guaranteed",
            at_most(sum("guaranteed_ma")).allows(found.current),
        ),
        (
            "supply_maximum",
            at_most(iec_62386::most_supply()).allows(sum("maximum_ma")),
        ),
        ("drop_tree", drop.allows(found.drop)),
        ("drop_full", drop.allows(found.drop_full)),
        (
            "distance_devices",
            distance.allows(found.longest_between_units),
        ),
        ("distance_any", distance.allows(found.longest)),
    ];
    kept.into_iter()
        .filter(|(_, kept)| !kept)
        .map(|(name, _)| name)
        .collect()
}

#[test]
fn every_case_has_the_drops_distances_and_violations_of_the_reference() {
    let all: Value = serde_json::from_str(include_str!("oracle/bus_loops.json")).unwrap();
    let cases = all["cases"].as_array().unwrap();
    assert_eq!(cases.len(), 20);
    let mut wrong = Vec::new();
    for case in cases {
        let (id, expected) = (&case["id"], &case["expected"]);
        let found = figures(&bus(case)).unwrap();
        let compared = [
            ("worst_drop_tree_v", found.drop.get::<volt>()),
            ("worst_drop_full_v", found.drop_full.get::<volt>()),
            (
                "worst_distance_devices_m",
                found.longest_between_units.get::<meter>(),
            ),
            ("worst_distance_any_m", found.longest.get::<meter>()),
            ("cable_total_m", found.cable.get::<meter>()),
            ("draw_ma", found.current.get::<milliampere>()),
        ];
        for (key, value) in compared {
            let want = float(&expected[key]);
            if (value - want).abs() > TOLERANCE * want.abs().max(1e-3) {
                wrong.push(format!("{id} {key}: {value}, expected {want}"));
            }
        }
        let want: BTreeSet<&str> = list(expected, "violations")
            .iter()
            .map(|v| v.as_str().unwrap())
            .collect();
        let broken = violations(case, &found);
        if broken != want {
            wrong.push(format!("{id} violations: {broken:?}, expected {want:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
