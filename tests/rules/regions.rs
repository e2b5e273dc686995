//! A job of its own in each region: it sizes with nothing broken and nothing left untold, and what
//! is printed is the region's: limits, cable names, lengths, currency, cautions.

use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::norms::region::Region;
use feedpoint::pipeline;
use feedpoint::present::document;
use feedpoint::present::job::Job;

const JOBS: [(Region, &str); 3] = [
    (Region::Iec, "catalogue-examples/millrace-library.yaml"),
    (
        Region::NorthAmerica,
        "tests/data/regions/north-america.yaml",
    ),
    (Region::AusNz, "tests/data/regions/aus-nz.yaml"),
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
            .filter(|verdict| {
                matches!(
                    verdict.outcome,
                    Outcome::Broken | Outcome::CannotTell { .. }
                )
            })
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
