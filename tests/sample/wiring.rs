//! The sample job's loops and circuits.

use super::catalogue::Goods;
use super::{a, m, ma, pc, v};
use feedpoint::allocate::allocated::{
    Allocation, BusStretch, Circuit, Loop, LoopGroup, Member, MemberKind,
};
use feedpoint::model::project::{Breaker, Curve, Project};
use feedpoint::model::site::Point;
use std::sync::Arc;

pub fn allocation(project: &Project, goods: &Goods) -> Allocation {
    let points = &project.site.points;
    Allocation {
        loops: vec![first_loop(project, goods), second_loop(project, goods)],
        circuits: vec![
            circuit("C1", points, 1, &["D-01", "D-02"], &["CTL-1"], true, goods),
            circuit("C2", points, 2, &["D-03"], &[], false, goods),
        ],
        changes: None,
        notes: vec!["group stacks spans no loops".to_owned()],
        loops_proved: false,
        circuits_proved: true,
        ..Allocation::default()
    }
}

fn member(device: &str, item: &str, at: &Arc<Point>, room: &Arc<Point>, address: usize) -> Member {
    Member {
        device: device.to_owned(),
        kind: MemberKind::Gear,
        item: item.to_owned(),
        addresses: vec![address],
        current: ma(2.0),
        current_assumed: false,
        room: Arc::clone(room),
        at: Arc::clone(at),
        groups: vec![0],
        drop: v(0.02),
    }
}

fn first_loop(project: &Project, goods: &Goods) -> Loop {
    let points = &project.site.points;
    let sensor = |name: &str, address| Member {
        kind: MemberKind::ControlDevice,
        current_assumed: true,
        groups: Vec::new(),
        ..member(name, "ceiling-sensor", &points[3], &points[3], address)
    };
    Loop {
        name: "L1".to_owned(),
        controller: "CTL-1".to_owned(),
        controller_item: Some(Arc::clone(&goods.controller)),
        port: 1,
        supply_item: None,
        at: Arc::clone(&points[0]),
        supply_guaranteed: ma(160.0),
        supply_maximum: ma(250.0),
        gear: 2,
        control_devices: 2,
        current: ma(8.0),
        drop: v(0.0214),
        drop_full: v(0.612),
        longest: m(31.0),
        cable_length: m(31.0),
        cable: Some(Arc::clone(&goods.bus)),
        members: vec![
            member("D-01", "pair-120", &points[1], &points[3], 0),
            member("D-02", "pair-120", &points[1], &points[3], 1),
            sensor("hall-sensor-1", 0),
            sensor("hall-sensor-2", 1),
        ],
        tree: vec![
            stretch(&points[0], &points[1], 22.0, 8.0),
            stretch(&points[1], &points[3], 9.0, 4.0),
        ],
        unreached: Vec::new(),
        groups: vec![group(project, 0)],
        scenes: vec!["open".to_owned(), "closed".to_owned()],
    }
}

fn second_loop(project: &Project, goods: &Goods) -> Loop {
    let points = &project.site.points;
    Loop {
        name: "L2".to_owned(),
        controller: String::new(),
        controller_item: None,
        port: 2,
        at: Arc::clone(&points[0]),
        gear: 1,
        control_devices: 0,
        current: ma(2.0),
        members: vec![member("D-03", "single-60", &points[2], &points[4], 0)],
        tree: vec![stretch(&points[0], &points[2], 31.5, 2.0)],
        unreached: vec!["hall-sensor-9".to_owned()],
        groups: vec![group(project, 1)],
        longest: m(31.5),
        cable_length: m(31.5),
        cable: None,
        ..Loop {
            name: "L2".to_owned(),
            ..first_loop(project, goods)
        }
    }
}

fn stretch(from: &Arc<Point>, to: &Arc<Point>, length: f64, current: f64) -> BusStretch {
    BusStretch {
        from: Arc::clone(from),
        to: Arc::clone(to),
        length: m(length),
        current: ma(current),
    }
}

fn group(project: &Project, index: usize) -> LoopGroup {
    LoopGroup {
        number: 0,
        group: project.groups[index].name.clone(),
        title: project.groups[index].title.clone(),
    }
}

fn circuit(
    name: &str,
    points: &[Arc<Point>],
    cupboard: usize,
    drivers: &[&str],
    supplies: &[&str],
    known: bool,
    goods: &Goods,
) -> Circuit {
    let silent = |names: &[&str]| -> Vec<String> {
        let names = names.iter().map(|name| (*name).to_owned());
        if known { Vec::new() } else { names.collect() }
    };
    Circuit {
        name: name.to_owned(),
        panel: Some(Arc::clone(&points[0])),
        places: vec![Arc::clone(&points[cupboard])],
        breaker: Breaker {
            curve: Curve::B,
            amperes: 16,
        },
        phase: cupboard,
        drivers: drivers.iter().map(|it| (*it).to_owned()).collect(),
        supplies: supplies.iter().map(|it| (*it).to_owned()).collect(),
        current: if known { a(1.34) } else { a(0.0) },
        unknown_current: silent(drivers),
        inrush_share: pc(if known { 16.7 } else { 0.0 }),
        unknown_inrush: silent(drivers),
        leakage: ma(if known { 1.4 } else { 0.0 }),
        unknown_leakage: silent(drivers),
        cable: Some(Arc::clone(&goods.mains)),
        length: Some(m(22.0)),
        ampacity: Some(a(24.0)),
        drop: known.then(|| pc(0.21)),
    }
}
