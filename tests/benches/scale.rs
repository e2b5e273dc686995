//! How the whole job grows with its runs: each stage's time, its growth from size to size, and the
//! most memory, beside reading the same file as plain YAML in the same run.
//!
//! Run with `cargo bench --bench scale`; `FEEDPOINT_RUNS=10000` adds a size.

#[path = "../made/mod.rs"]
mod made;

use feedpoint::judge::Counts;
use feedpoint::{load, pipeline};
use made::scale;
use std::path::Path;
use std::time::Instant;

fn main() {
    let more = std::env::var("FEEDPOINT_RUNS").map(|runs| runs.parse().expect("a number of runs"));
    let sizes = [10, 40, 100, 1000].into_iter().chain(more.ok());
    println!("  runs   YAML    load  the job  growth  to YAML  memory   broken  untold");
    let mut before: Option<(usize, f64)> = None;
    for runs in sizes {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("project.yaml");
        let text = scale::project(runs, 1);
        std::fs::write(&path, &text).expect("written");
        let trade = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples/trade.yaml");
        std::fs::copy(trade, folder.path().join("trade.yaml")).expect("copied");
        let name = path.to_str().expect("plain");
        let (yaml, _) = timed(|| serde_yaml::from_str::<serde_yaml::Value>(&text).expect("YAML"));
        let (loading, loaded) = timed(|| load::project(name).is_ok());
        assert!(loaded, "{runs} runs can't be read");
        let (whole, worked) = timed(|| pipeline::job(name, false));
        let (job, _) = worked.unwrap_or_else(|told| panic!("{told}"));
        let growth = before.map_or(String::new(), |(fewer, its)| {
            let times = runs as f64 / fewer as f64;
            format!("n^{:.2}", (whole / its).ln() / times.ln())
        });
        let counts = Counts::of(&job.verdicts);
        println!(
            "{runs:>6} {:>5.1}ms {:>5.1}ms {:>6.1}ms {growth:>7} {:>8.1} {:>6} MB {:>7} {:>7}",
            1e3 * yaml,
            1e3 * loading,
            1e3 * whole,
            whole / yaml,
            peak_megabytes(),
            counts.broken_faults,
            counts.cannot_tell
        );
        before = Some((runs, whole));
    }
}

/// The least of three times, in seconds, and the last answer.
fn timed<T>(work: impl Fn() -> T) -> (f64, T) {
    let mut least = f64::INFINITY;
    let mut answer = None;
    for _ in 0..3 {
        let started = Instant::now();
        answer = Some(work());
        least = least.min(started.elapsed().as_secs_f64());
    }
    (least, answer.expect("worked"))
}

/// The most memory that was in use so far, where the system tells.
fn peak_megabytes() -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse::<u64>().ok());
    kilobytes.unwrap_or(0) / 1000
}
