//! A job of its own in each region, and the demo moved to each: it sizes with nothing broken and nothing left untold, and what
//! is printed is the region's: limits, cable names, lengths, currency, cautions.

use feedpoint::judge::Counts;
use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::model::cable::WiringMethod;
use feedpoint::norms::region::Region;
use feedpoint::present::document;
use feedpoint::present::job::Job;
use feedpoint::{load, pipeline};

const JOBS: [(Region, &str); 3] = [
    (Region::Iec, "catalogue-examples/millrace-library.yaml"),
    (
        Region::NorthAmerica,
        "catalogue-examples/annex-north-america.yaml",
    ),
    (Region::AusNz, "catalogue-examples/annex-aus-nz.yaml"),
];

fn job(path: &str) -> Job {
    let (job, _) = pipeline::job(path, false)
        .unwrap_or_else(|complaints| panic!("{path}: {}", complaints.texts(false).join("\n")));
    job
}

fn of<'a>(job: &'a Job, rule: &str) -> Vec<&'a Verdict> {
    let own = job.verdicts.iter().filter(|verdict| verdict.rule == rule);
    own.collect()
}

/// All that the project's documents say.
fn printed(job: &Job) -> String {
    let documents = document::all(job).into_iter();
    documents.map(|document| format!("{document:?}")).collect()
}

#[test]
fn each_regions_job_keeps_every_rule_and_leaves_none_untold() {
    for (region, path) in JOBS {
        let job = job(path);
        assert_eq!(job.project.region, region);
        let open: Vec<String> = job
            .verdicts
            .iter()
            .filter(|verdict| verdict.outcome.is_open())
            .map(|verdict| {
                format!(
                    "{} {}: {:?}",
                    verdict.rule, verdict.subject, verdict.outcome
                )
            })
            .collect();
        assert!(open.is_empty(), "{path}:\n{}", open.join("\n"));
    }
}

/// The demo moved to a region: its supply, breaker and trade catalogue there, and what else that
/// makes necessary.
fn demo_in(region: Region) -> String {
    let edits: &[(&str, &str)] = match region {
        Region::Iec => &[],
        Region::AusNz => &[
            ("region: iec", "region: aus-nz"),
            ("[trade.yaml]", "[trade-aus-nz.yaml]"),
        ],
        Region::NorthAmerica => &[
            ("region: iec", "region: north-america"),
            ("[trade.yaml]", "[trade-north-america.yaml]"),
            (
                "voltage: 230 V, frequency: 50 Hz",
                "voltage: 120 V, frequency: 60 Hz",
            ),
            ("loops: {spare", "loops: {wiring: class 1, spare"),
            (
                "breaker: B16, spare: 20 %, residual: 30 mA, residual_type: A",
                "breaker: C20, spare: 20 %, residual: none",
            ),
            // Class 2 takes more and smaller drivers.
            ("sheds: 120 W", "sheds: 160 W"),
            (
                "space: {length: 800 mm, width: 600 mm",
                "space: {length: 1000 mm, width: 800 mm",
            ),
            // 3 % from the ends alone does not reach along 18 m and 38 m.
            (
                "    to_start: 8 m\n    reach_along: no",
                "    to_start: 8 m\n    reach_along: yes",
            ),
            (
                "    to_end: 8 m\n    reach_along: no",
                "    to_end: 8 m\n    reach_along: yes",
            ),
        ],
    };
    let demo = std::fs::read_to_string("catalogue-examples/millrace-library.yaml");
    edits
        .iter()
        .fold(demo.expect("the demo"), |text, (old, new)| {
            assert!(text.contains(old), "`{old}` is not in the demo");
            text.replacen(old, new, 1)
        })
}

fn run(text: &str) -> Job {
    let base = std::path::Path::new("catalogue-examples");
    let loaded = load::project_from_text("project.yaml", text, base).expect("it loads");
    pipeline::run(loaded).expect("it runs").0
}

#[test]
fn the_demo_keeps_every_rule_in_every_region_with_that_regions_catalogue() {
    for region in Region::ALL {
        let job = run(&demo_in(region));
        let counts = Counts::of(&job.verdicts);
        let name = region.name();
        assert_eq!((counts.broken(), counts.cannot_tell), (0, 0), "{name}");
        assert!(counts.holds > 900, "{name}: {}", counts.holds);
    }
}

/// Every verdict is counted once, in every region, with the demo's own catalogue too, which lacks
/// what two of them ask for.
#[test]
fn the_counts_add_up_in_every_region() {
    let demo = demo_in(Region::Iec);
    for region in Region::ALL {
        let asked = format!("region: {}", region.name());
        let job = run(&demo.replace("region: iec", &asked));
        let counts = Counts::of(&job.verdicts);
        let sum = counts.holds + counts.broken() + counts.cannot_tell + counts.not_here;
        assert_eq!(sum, job.verdicts.len());
        assert_eq!(counts.cannot_tell == 0, region == Region::Iec);
        let untold = |verdict: &&Verdict| matches!(verdict.outcome, Outcome::CannotTell { .. });
        for verdict in job.verdicts.iter().filter(untold) {
            let Outcome::CannotTell { missing } = &verdict.outcome else {
                continue;
            };
            let named = format!("{}: {missing}", verdict.rule);
            let keyed = missing.contains('`') || verdict.rule == "value-missing";
            assert!(keyed, "no key: {named}");
            let placed = verdict.place.is_some() || verdict.rule == "value-missing";
            assert!(placed, "no place: {named}");
        }
    }
}

/// A driver of more than Class 2 gives has cable of power behind it, chosen so.
#[test]
fn in_north_america_the_cable_follows_the_class_of_the_driver() {
    let demo = run(&demo_in(Region::NorthAmerica));
    let annex = job(JOBS[1].1);
    let methods = |job: &Job| -> Vec<(bool, Option<WiringMethod>)> {
        let cables = job.sizing.cables.iter();
        cables
            .map(|cable| {
                let mut drivers = job.sizing.drivers.iter();
                let driver = drivers.find(|driver| driver.number == cable.driver);
                let power = driver.expect("a driver").item.output.power;
                (power.value > 100.0, cable.item.detail.wiring)
            })
            .collect()
    };
    for (power, method) in methods(&demo).into_iter().chain(methods(&annex)) {
        assert!(!power || method == Some(WiringMethod::ChapterThree));
    }
    assert!(methods(&annex).iter().any(|(power, _)| *power));
}

#[test]
fn each_regions_limits_are_its_own() {
    // IEC 60364-5-52 Table G.52.1, NEC 210.19(A), AS/NZS 3000 clause 3.6.2.
    let drops = [
        (3.0, "IEC 60364-5-52"),
        (3.0, "NEC 210.19"),
        (5.0, "AS/NZS 3000"),
    ];
    for ((_, path), (percent, source)) in JOBS.iter().zip(drops) {
        let job = job(path);
        for verdict in of(&job, "circuit-drop") {
            let (_, limit) = verdict.limit.expect("a limit");
            assert!((limit.value - percent).abs() < 1e-9, "{path}: {limit}");
            assert!(
                verdict.source.contains(source),
                "{path}: {}",
                verdict.source
            );
        }
        for verdict in &job.verdicts {
            let foreign = match job.project.region {
                Region::Iec => ["NEC 2", "AS/NZS 3000 cl"],
                Region::NorthAmerica => ["BS 7671", "AS/NZS"],
                Region::AusNz => ["NEC 2", "NEC 7"],
            };
            // A source that serves every region names all of its standards.
            let every = verdict.source.contains("IEC") && verdict.source.contains("NEC");
            let named = foreign.iter().any(|name| verdict.source.contains(name));
            assert!(
                every || !named,
                "{path}: {}: {}",
                verdict.rule,
                verdict.source
            );
        }
    }
}

#[test]
fn rules_of_one_region_say_so_in_the_others() {
    let north = job(JOBS[1].1);
    for rule in [
        "driver-selv",
        "leakage-share",
        "rcd-type",
        "one-phase-per-room",
    ] {
        let verdicts = of(&north, rule);
        let not_here = |v: &&Verdict| matches!(&v.outcome, Outcome::NotHere { why } if why.contains("north-america"));
        assert!(
            !verdicts.is_empty() && verdicts.iter().all(not_here),
            "{rule}"
        );
    }
    let australian = job(JOBS[2].1);
    for rule in ["driver-class2", "bus-class2-na", "rcd-needed"] {
        let verdicts = of(&australian, rule);
        let not_here =
            |v: &&Verdict| matches!(&v.outcome, Outcome::NotHere { why } if why.contains("aus-nz"));
        assert!(
            !verdicts.is_empty() && verdicts.iter().all(not_here),
            "{rule}"
        );
    }
}

#[test]
fn each_regions_names_and_money_are_its_own() {
    let north = job(JOBS[1].1);
    let text = printed(&north);
    for wanted in ["AWG", "USD", "ft"] {
        assert!(text.contains(wanted), "north-america: no `{wanted}`");
    }
    let australian = job(JOBS[2].1);
    let text = printed(&australian);
    for wanted in ["mm²", "AUD"] {
        assert!(text.contains(wanted), "aus-nz: no `{wanted}`");
    }
}

#[test]
fn each_regions_cautions_name_its_rules_and_its_trade() {
    let wanted = [
        [
            "IEC 60364",
            "a competent person, licensed where the law asks",
        ],
        ["NEC or CE Code", "a licensed electrician"],
        ["AS/NZS 3000", "a licensed electrical worker"],
    ];
    for ((_, path), texts) in JOBS.iter().zip(wanted) {
        let cautions = job(path).cautions.join("\n");
        for text in texts {
            assert!(cautions.contains(text), "{path}: no `{text}`");
        }
    }
}
