//! How the commands grow with the runs of a project: the time of the whole process, its growth from
//! size to size and its most memory, beside reading the same file as plain YAML in the same run.
//!
//! Run with `cargo bench --bench scale`; `FEEDPOINT_RUNS=10000` adds a size.

#[path = "../made/mod.rs"]
mod made;

use made::scale;
use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const COMMANDS: [&[&str]; 5] = [
    &["check", "project.yaml"],
    &["size", "project.yaml"],
    &["loops", "project.yaml"],
    &["quote", "project.yaml"],
    &["report", "project.yaml", "--out", "report", "--quiet"],
];
/// Up to this many runs the least of three times is told.
const REPEATED: usize = 100;

fn main() {
    let more = std::env::var("FEEDPOINT_RUNS").map(|runs| runs.parse().expect("a number of runs"));
    println!("  runs  command      time  growth  to YAML  memory");
    let mut before: BTreeMap<&str, (usize, f64)> = BTreeMap::new();
    for runs in [10, 40, 100, 1000].into_iter().chain(more.ok()) {
        let folder = tempfile::tempdir().expect("a folder");
        let text = scale::project(runs, 1);
        std::fs::write(folder.path().join("project.yaml"), &text).expect("written");
        let trade = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples/trade.yaml");
        std::fs::copy(trade, folder.path().join("trade.yaml")).expect("copied");
        let yaml = (0..3).map(|_| read(&text)).fold(f64::INFINITY, f64::min);
        for arguments in COMMANDS {
            let times = if runs <= REPEATED { 3 } else { 1 };
            let measured = (0..times).map(|_| run(folder.path(), arguments));
            let (time, memory) = measured.min_by(|a, b| a.0.total_cmp(&b.0)).expect("run");
            let command = arguments[0];
            let growth = before.insert(command, (runs, time));
            let growth = growth.map_or(String::new(), |(fewer, its)| {
                let times = runs as f64 / fewer as f64;
                format!("n^{:.2}", (time / its).ln() / times.ln())
            });
            println!(
                "{runs:>6}  {command:<8} {:>7.0}ms {growth:>7} {:>8.1} {memory:>4} MB",
                1e3 * time,
                time / yaml,
            );
        }
    }
}

/// Seconds to read a text as plain YAML.
fn read(text: &str) -> f64 {
    let started = Instant::now();
    serde_yaml::from_str::<serde_yaml::Value>(text).expect("YAML");
    started.elapsed().as_secs_f64()
}

/// Seconds and megabytes of a command.
fn run(folder: &Path, arguments: &[&str]) -> (f64, u64) {
    let _ = std::fs::remove_dir_all(folder.join("report"));
    let mut command = Command::new(env!("CARGO_BIN_EXE_feedpoint"));
    command.args(arguments).current_dir(folder);
    command.stdout(Stdio::null()).stderr(Stdio::null());
    let started = Instant::now();
    let mut child = command.spawn().expect("the program");
    let mut most = 0;
    let ended = loop {
        most = most.max(peak_megabytes(&child));
        match child.try_wait().expect("the program") {
            Some(ended) => break ended,
            None => std::thread::sleep(Duration::from_millis(1)),
        }
    };
    let time = started.elapsed().as_secs_f64();
    // 1: something is broken, or can't be told.
    assert!(
        matches!(ended.code(), Some(0 | 1)),
        "{arguments:?}: {ended}"
    );
    (time, most)
}

/// The most memory that was in use so far, where the system tells.
fn peak_megabytes(child: &Child) -> u64 {
    let path = format!("/proc/{}/status", child.id());
    let status = std::fs::read_to_string(path).unwrap_or_default();
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1)?.parse::<u64>().ok());
    kilobytes.unwrap_or(0) / 1000
}
