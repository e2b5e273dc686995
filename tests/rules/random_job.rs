//! Random jobs in each region, written as the project files that people write: rooms, cupboards,
//! phases, one channel and two, wet places, heat, insulation, and limits of the project's own.

use feedpoint::norms::region::Region;
use proptest::prelude::*;
use std::fmt::Write;

/// A strip of the trade catalogues with a profile that suits it, and whether it may be wet.
const STRIPS: [(&str, &str, bool); 7] = [
    ("white-pair-24-19", "deep-17", false),
    ("white-pair-24-10", "shelf-9", false),
    ("shelf-24-7", "shelf-9", false),
    ("work-24-14", "deep-17", false),
    ("long-48-7", "deep-17", false),
    ("stair-24-5", "shelf-9", true),
    ("outdoor-24-10", "deep-17", true),
];

/// A run of a random job.
#[derive(Debug, Clone)]
struct RandomRun {
    strip: usize,
    decimetres: u32,
    room: usize,
    group: usize,
    cupboard: Option<usize>,
    to_start: u32,
    to_end: Option<u32>,
    along: bool,
    surroundings: Surroundings,
}

/// What is around a run.
#[derive(Debug, Clone)]
struct Surroundings {
    profile: bool,
    wet: bool,
    celsius: Option<u32>,
    in_insulation: bool,
    view: Option<usize>,
}

/// Which runs share a group.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Grouping {
    /// Those of one strip that are drawn into it.
    ByStrip,
    /// Runs of every kind that are drawn into it.
    Mixed,
    /// None: each run has its own, and each group a scene of its own beside the one for all.
    Alone,
}

/// A random job.
#[derive(Debug, Clone)]
pub struct RandomJob {
    region: Region,
    phases: usize,
    /// Ambient of each cupboard, and metres of route to it.
    cupboards: Vec<(u32, u32)>,
    /// Metres of route to each room, from which cupboard, and how many sensors it has.
    rooms: Vec<(u32, usize, u32)>,
    runs: Vec<RandomRun>,
    grouping: Grouping,
    light_drop: u32,
    driver_load: u32,
    dimmed_to: u32,
    insulated: bool,
}

fn surroundings() -> impl Strategy<Value = Surroundings> {
    (
        prop::bool::weighted(0.9),
        any::<bool>(),
        prop::option::weighted(0.2, 20_u32..50),
        prop::bool::weighted(0.1),
        prop::option::weighted(0.1, 0..3_usize),
    )
        .prop_map(
            |(profile, wet, celsius, in_insulation, view)| Surroundings {
                profile,
                wet,
                celsius,
                in_insulation,
                view,
            },
        )
}

fn run() -> impl Strategy<Value = RandomRun> {
    let length = prop_oneof![3 => 2_u32..60, 2 => 60_u32..160, 1 => 160_u32..400];
    let place = (0..4_usize, 0..4_usize, prop::option::of(0..3_usize));
    let reach = (1_u32..20, prop::option::of(1_u32..25), any::<bool>());
    (0..STRIPS.len(), length, place, reach, surroundings()).prop_map(
        |(strip, decimetres, (room, group, cupboard), (to_start, to_end, along), surroundings)| {
            RandomRun {
                strip,
                decimetres,
                room,
                group,
                cupboard,
                to_start,
                to_end,
                along,
                surroundings,
            }
        },
    )
}

/// Any job in a region.
pub fn random_job(region: Region) -> impl Strategy<Value = RandomJob> {
    let site = (
        prop::sample::select(vec![1_usize, 3]),
        prop::collection::vec((20_u32..46, 3_u32..70), 1..4),
        prop::collection::vec((3_u32..30, 0..3_usize, 0_u32..40), 1..5),
    );
    let limits = (
        prop::sample::select(vec![5_u32, 10, 20]),
        75_u32..95,
        prop::sample::select(vec![1_u32, 5, 40]),
        any::<bool>(),
    );
    let few = (
        prop::collection::vec(run(), 1..10),
        prop_oneof![8 => Just(Grouping::ByStrip), 1 => Just(Grouping::Mixed), 1 => Just(Grouping::Alone)],
    );
    // More groups and scenes than one loop has numbers for.
    let many = (prop::collection::vec(run(), 17..30), Just(Grouping::Alone));
    (site, prop_oneof![7 => few, 1 => many], limits).prop_map(
        move |(site, (runs, grouping), limits)| RandomJob {
            region,
            phases: site.0,
            cupboards: site.1,
            rooms: site.2,
            runs,
            grouping,
            light_drop: limits.0,
            driver_load: limits.1,
            dimmed_to: limits.2,
            insulated: limits.3,
        },
    )
}

impl RandomJob {
    /// The same with its last run left out, if that is not the only one.
    pub fn without_last_run(&self) -> RandomJob {
        let mut job = self.clone();
        job.runs.truncate((self.runs.len() - 1).max(1));
        job
    }

    /// The same with every run a quarter longer.
    pub fn lengthened(&self) -> RandomJob {
        let mut job = self.clone();
        for run in &mut job.runs {
            run.decimetres += run.decimetres.div_ceil(4);
        }
        job
    }

    /// The project file.
    pub fn text(&self) -> String {
        let (catalogue, supply, loops, circuits) = match self.region {
            Region::Iec => (
                "trade.yaml",
                "voltage: 230 V, frequency: 50 Hz",
                "spare: 15 %",
                "breaker: B16, residual: 30 mA, residual_type: A",
            ),
            Region::AusNz => (
                "trade-aus-nz.yaml",
                "voltage: 230 V, frequency: 50 Hz",
                "spare: 15 %",
                "breaker: C16, residual: 30 mA, residual_type: A",
            ),
            Region::NorthAmerica => (
                "trade-north-america.yaml",
                "voltage: 120 V, frequency: 60 Hz",
                "wiring: class 1, spare: 15 %",
                "breaker: C20, residual: none",
            ),
        };
        let mut text = format!(
            "format: 1\nproject: {{title: Millrace Library, reference: R, date: 2026-11-20}}\n\
             region: {}\ncatalogues: [{catalogue}]\nsupply: {{{supply}, phases: {}}}\n",
            self.region.name(),
            self.phases,
        );
        self.site(&mut text);
        self.all_runs(&mut text);
        let _ = write!(
            text,
            "loops: {{{loops}}}\n\
             circuits: {{{circuits}, premises: other, feed: permanent}}\n\
             limits: {{light_drop: {} %, driver_load: {} %, off_locus: 0.007}}\n\
             pricing: {{labour_rate: 42.00, margin: 20 %, tax: {{name: VAT, rate: 20 %}}, \
             spares: {{driver: 5 %, strip: 3 %}}}}\n",
            self.light_drop, self.driver_load,
        );
        text
    }

    fn site(&self, text: &mut String) {
        text.push_str("points:\n  - {point: panel, kind: panel}\n");
        for (index, (celsius, _)) in self.cupboards.iter().enumerate() {
            let _ = writeln!(
                text,
                "  - {{point: cupboard-{index}, kind: cupboard, ambient: {celsius} °C, \
                 isolator: yes, accessible: yes}}"
            );
        }
        for index in 0..self.rooms.len() {
            let _ = writeln!(
                text,
                "  - {{point: room-{index}, kind: room, ambient: 25 °C}}"
            );
        }
        text.push_str("routes:\n");
        for (index, (_, metres)) in self.cupboards.iter().enumerate() {
            let _ = writeln!(
                text,
                "  - {{from: panel, to: cupboard-{index}, length: {metres} m}}"
            );
        }
        for (index, (metres, cupboard, _)) in self.rooms.iter().enumerate() {
            let _ = writeln!(
                text,
                "  - {{from: cupboard-{}, to: room-{index}, length: {metres} m}}",
                cupboard % self.cupboards.len()
            );
        }
        let insulation = if self.insulated { "0.3 m" } else { "none" };
        let _ = writeln!(
            text,
            "wiring: {{slack: included, in_insulation: {insulation}, separated: yes}}\ndevices:"
        );
        for (index, (_, _, sensors)) in self.rooms.iter().enumerate() {
            let _ = writeln!(
                text,
                "  - {{device: sensors-{index}, item: ceiling-sensor, room: room-{index}, count: {}}}",
                sensors + 1
            );
        }
    }

    fn all_runs(&self, text: &mut String) {
        let mut groups: Vec<String> = Vec::new();
        text.push_str("runs:\n");
        for (index, run) in self.runs.iter().enumerate() {
            let group = self.group(index, run);
            let _ = writeln!(text, "  - {{{}}}", self.run(index, run, &group));
            if !groups.contains(&group) {
                groups.push(group);
            }
        }
        text.push_str("groups:\n");
        for group in &groups {
            let _ = writeln!(text, "  - {{group: {group}, name: {group}}}");
        }
        let light = |group: &String| format!("{group}: {{light: {} %}}", self.dimmed_to);
        let set: Vec<String> = groups.iter().map(light).collect();
        let _ = writeln!(
            text,
            "scenes:\n  - {{scene: evening, set: {{{}}}}}",
            set.join(", ")
        );
        let alone = self.grouping == Grouping::Alone;
        for group in groups.iter().filter(|_| alone) {
            let _ = writeln!(
                text,
                "  - {{scene: only-{group}, set: {{{}}}}}",
                light(group)
            );
        }
    }

    fn group(&self, index: usize, run: &RandomRun) -> String {
        let (strip, ..) = STRIPS[run.strip];
        match self.grouping {
            Grouping::ByStrip => format!("group-{}-{strip}", run.group),
            Grouping::Mixed => format!("group-{}", run.group),
            Grouping::Alone => format!("group-of-{index}"),
        }
    }

    fn run(&self, index: usize, run: &RandomRun, group: &str) -> String {
        let (strip, profile, may_be_wet) = STRIPS[run.strip];
        let cupboard = run.cupboard.map_or_else(
            || "auto".to_owned(),
            |place| format!("cupboard-{}", place % self.cupboards.len()),
        );
        let yes = |flag: bool| if flag { "yes" } else { "no" };
        let mut keys = format!(
            "run: run-{index}, room: room-{}, strip: {strip}, length: {}.{} m, group: {group}, \
             cupboard: {cupboard}, to_start: {} m, reach_along: {}, accessible: yes, wet: {}",
            run.room % self.rooms.len(),
            run.decimetres / 10,
            run.decimetres % 10,
            run.to_start,
            yes(run.along),
            yes(may_be_wet && run.surroundings.wet),
        );
        let around = &run.surroundings;
        let more = [
            run.to_end.map(|metres| format!("to_end: {metres} m")),
            around.profile.then(|| format!("profile: {profile}")),
            around
                .celsius
                .map(|celsius| format!("ambient: {celsius} °C")),
            around
                .in_insulation
                .then(|| "in_insulation: 1 m".to_owned()),
            around.view.map(|view| format!("view: view-{view}")),
        ];
        for key in more.into_iter().flatten() {
            let _ = write!(keys, ", {key}");
        }
        keys
    }
}
