//! How long drivers and devices take to allocate to loops, circuits and addresses: growth to 2,000
//! devices over 60 rooms, beside a first fit of the same rooms in the same run.
//!
//! Run with `cargo bench --bench loops`.

#[path = "../made/mod.rs"]
mod made;

use divan::{Bencher, black_box};
use feedpoint::allocate::allocate;
use feedpoint::allocate::allocated::Allocation;
use feedpoint::choose::sized::Sizing;
use feedpoint::model::project::Project;
use made::{devices, project, site, sized_driver, sizing};
use std::time::Instant;

/// Devices and rooms.
const SIZES: [(usize, usize); 4] = [(250, 10), (500, 15), (1000, 30), (2000, 60)];
const CUPBOARDS: usize = 6;

fn main() {
    println!("devices  rooms  loops  first fit     time");
    for size in SIZES {
        let (project, sizing) = job(size);
        let started = Instant::now();
        let found = allocate(&project, &sizing);
        let time = started.elapsed();
        println!(
            "{:>7} {:>6} {:>6} {:>10} {:>7.1} ms",
            members(&found),
            size.1,
            found.loops.len(),
            first_fit(&project, &sizing),
            1e3 * time.as_secs_f64()
        );
        for note in found.notes.iter().filter(|note| note.contains("proved")) {
            println!("         {note}");
        }
        assert!(
            members(&found) + size.1 >= size.0,
            "fewer than were asked for"
        );
        assert!(found.loops.len() <= first_fit(&project, &sizing));
    }
    divan::main();
}

/// Sizes of rooms beside each other, in eighths of the average.
const ROOMS: [usize; 5] = [3, 5, 8, 12, 12];

/// Three devices in four are drivers; rooms differ in size, and each fits a loop.
fn job((count, rooms): (usize, usize)) -> (Project, Sizing) {
    let mut project = project(site(CUPBOARDS, rooms), rooms);
    let room = |n: usize| 1 + CUPBOARDS + n;
    let mut drivers = Vec::new();
    let mut sets = Vec::new();
    for n in 0..rooms {
        let here = (count * ROOMS[n % ROOMS.len()]).div_ceil(8 * rooms);
        let gear = 3 * here / 4;
        for _ in 0..gear {
            let number = drivers.len() + 1;
            drivers.push(sized_driver(
                &project,
                number,
                1 + n % CUPBOARDS,
                &[room(n)],
                n,
            ));
        }
        sets.push(devices(&project, &format!("set-{n}"), room(n), here - gear));
    }
    project.devices = sets;
    (project, sizing(drivers))
}

/// Drivers and control devices on all loops.
fn members(found: &Allocation) -> usize {
    found.loops.iter().map(|on| on.members.len()).sum()
}

/// Rooms in order, each on the first loop that has room left for its addresses and current: 85 %
/// of 64, 64 and 200 mA.
fn first_fit(project: &Project, sizing: &Sizing) -> usize {
    let mut loops: Vec<[f64; 3]> = Vec::new();
    for (n, set) in project.devices.iter().enumerate() {
        let gear = sizing
            .drivers
            .iter()
            .filter(|driver| driver.group.index == n)
            .count() as f64;
        let count = set.count as f64;
        let room = [gear, count, 2.0 * gear + 6.0 * count];
        let fits = |used: &&mut [f64; 3]| {
            let most = [54.0, 54.0, 170.0];
            (0..3).all(|k| used[k] + room[k] <= most[k])
        };
        match loops.iter_mut().find(fits) {
            Some(used) => (0..3).for_each(|k| used[k] += room[k]),
            None => loops.push(room),
        }
    }
    loops.len()
}

fn allocated(size: (usize, usize)) -> Allocation {
    let (project, sizing) = job(size);
    allocate(&project, &sizing)
}

#[divan::bench(args = SIZES, sample_count = 3)]
fn allocation(bencher: Bencher, size: (usize, usize)) {
    let (project, sizing) = job(size);
    bencher.bench_local(|| allocate(black_box(&project), black_box(&sizing)));
}

#[divan::bench(args = SIZES, sample_count = 3)]
fn held_as_issued(bencher: Bencher, size: (usize, usize)) {
    let (mut project, sizing) = job(size);
    let found = allocated(size);
    let record =
        feedpoint::allocate::issued::snapshot(&project, &sizing, &found.loops, &found.circuits);
    project.issued.record = Some(std::sync::Arc::new(record));
    bencher.bench_local(|| allocate(black_box(&project), black_box(&sizing)));
}
