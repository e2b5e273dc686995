//! The shape of the source tree: which folder may use which, no circles, files of readable length
//! that say what they are for.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Folders and single files of `src`, in the order in which data flows. Each may use those before
/// it and itself.
const ORDER: [&str; 13] = [
    "quantity",
    "diagnostic",
    "norms",
    "model",
    "load",
    "solve",
    "choose",
    "allocate",
    "price",
    "judge",
    "present",
    "pipeline",
    "command",
];

/// Lines a source file may have.
const MOST_LINES: usize = 400;

/// Files that may be longer, each with its reason.
const LONG: [(&str, &str); 0] = [];

fn sources() -> Vec<PathBuf> {
    let found = sources_in("src");
    assert!(found.len() > 50, "only {} source files found", found.len());
    found
}

fn sources_in(folder: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![Path::new(env!("CARGO_MANIFEST_DIR")).join(folder)];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(&folder).expect("readable folder") {
            let path = entry.expect("readable entry").path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                found.push(path);
            }
        }
    }
    found.sort();
    found
}

fn relative(path: &Path) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    path.strip_prefix(root)
        .expect("below src")
        .to_string_lossy()
        .into_owned()
}

/// The part of `src` that a file belongs to; `None` for `lib.rs` and `main.rs`.
fn part_of(path: &Path) -> Option<String> {
    let name = relative(path);
    let first = name
        .split('/')
        .next()
        .unwrap_or_default()
        .trim_end_matches(".rs")
        .to_owned();
    (first != "lib" && first != "main").then_some(first)
}

/// The parts that a text names as `crate::part` (comments left out).
fn used_parts(text: &str) -> BTreeSet<String> {
    let code = text
        .lines()
        .filter(|line| !line.trim_start().starts_with("//"));
    let mut used = BTreeSet::new();
    for line in code {
        for rest in line.split("crate::").skip(1) {
            let grouped = rest.strip_prefix('{');
            for piece in grouped
                .unwrap_or(rest)
                .split(',')
                .take(if grouped.is_some() { 99 } else { 1 })
            {
                let name: String = piece
                    .trim()
                    .chars()
                    .take_while(|c| c.is_alphanumeric() || *c == '_')
                    .collect();
                used.insert(name);
            }
        }
    }
    used
}

#[test]
fn each_part_uses_only_the_parts_before_it() {
    let place: BTreeMap<&str, usize> = ORDER.iter().enumerate().map(|(i, p)| (*p, i)).collect();
    let mut wrong = Vec::new();
    for path in sources() {
        let Some(part) = part_of(&path) else { continue };
        let own = place
            .get(part.as_str())
            .unwrap_or_else(|| panic!("`{part}` is not in ORDER"));
        let text = std::fs::read_to_string(&path).expect("readable source");
        for used in used_parts(&text) {
            if place.get(used.as_str()).is_some_and(|other| other > own) {
                wrong.push(format!("{} uses crate::{used}", relative(&path)));
            }
        }
    }
    assert!(
        wrong.is_empty(),
        "edges against the flow of data:\n{}",
        wrong.join("\n")
    );
}

#[test]
fn every_part_in_the_order_exists() {
    let parts: BTreeSet<String> = sources().iter().filter_map(|path| part_of(path)).collect();
    let listed: BTreeSet<String> = ORDER.iter().map(|part| (*part).to_owned()).collect();
    assert_eq!(parts, listed);
}

#[test]
fn files_are_short_enough_to_read() {
    let long = |path: &PathBuf| {
        let name = relative(path);
        let lines = std::fs::read_to_string(path)
            .expect("readable source")
            .lines()
            .count();
        let excused = LONG.iter().any(|(file, _)| *file == name);
        (lines > MOST_LINES && !excused).then(|| format!("{name}: {lines} lines"))
    };
    let found: Vec<String> = sources().iter().filter_map(long).collect();
    assert!(
        found.is_empty(),
        "look for the second thing in:\n{}",
        found.join("\n")
    );
}

#[test]
fn files_open_with_their_purpose() {
    let silent = |path: &PathBuf| {
        let text = std::fs::read_to_string(path).expect("readable source");
        (!text.starts_with("//! ")).then(|| relative(path))
    };
    let found: Vec<String> = sources().iter().filter_map(silent).collect();
    assert!(
        found.is_empty(),
        "no purpose at the top of:\n{}",
        found.join("\n")
    );
}

#[test]
fn no_file_hides_behind_a_name_that_says_nothing() {
    let vague = [
        "utils", "util", "helpers", "helper", "common", "misc", "types",
    ];
    let is_vague = |path: &PathBuf| {
        let stem = path
            .file_stem()
            .map(|stem| stem.to_string_lossy().into_owned());
        stem.is_some_and(|stem| vague.contains(&stem.as_str()))
    };
    let found: Vec<String> = sources()
        .iter()
        .filter(|p| is_vague(p))
        .map(|p| relative(p))
        .collect();
    assert!(found.is_empty(), "vague names: {}", found.join(", "));
}

#[test]
fn nothing_is_left_to_do() {
    let marks = ["TODO", "FIXME", "XXX", "todo!(", "unimplemented!("];
    let mut found = Vec::new();
    for path in sources() {
        let text = std::fs::read_to_string(&path).expect("readable source");
        for (number, line) in text.lines().enumerate() {
            if marks.iter().any(|mark| line.contains(mark)) {
                found.push(format!(
                    "{}:{}: {}",
                    relative(&path),
                    number + 1,
                    line.trim()
                ));
            }
        }
    }
    assert!(found.is_empty(), "left to do:\n{}", found.join("\n"));
}

#[test]
fn every_property_draws_the_same_cases_each_time() {
    let mut loose = Vec::new();
    let mut found = 0;
    for path in sources().into_iter().chain(sources_in("tests")) {
        let text = std::fs::read_to_string(&path).expect("readable source");
        let lines: Vec<&str> = text.lines().map(str::trim).collect();
        for (number, pair) in lines.windows(2).enumerate() {
            let seeded = pair[1].starts_with("#![proptest_config(") && pair[1].contains("cases(");
            if pair[0].contains("TestRunner::new(") && !pair[0].contains("cases(") {
                loose.push(format!("{}:{}", path.display(), number + 1));
            }
            if pair[0] != "proptest! {" {
                continue;
            }
            found += 1;
            if !seeded {
                loose.push(format!("{}:{}", path.display(), number + 1));
            }
        }
    }
    assert!(found > 5, "only {found} properties found");
    assert!(loose.is_empty(), "drawn anew each time: {loose:?}");
}

#[test]
fn every_test_file_is_in_the_one_binary() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let all = std::fs::read_to_string(tests.join("all.rs")).expect("tests/all.rs");
    let named: BTreeSet<&str> = all.lines().collect();
    let mut count = 0;
    for entry in std::fs::read_dir(tests).expect("a folder") {
        let name = entry.expect("an entry").file_name();
        let name = name.to_string_lossy();
        let Some(module) = name.strip_suffix(".rs").filter(|name| *name != "all") else {
            continue;
        };
        let line = format!("mod {module};");
        assert!(named.contains(line.as_str()), "tests/all.rs lacks `{line}`");
        count += 1;
    }
    assert!(count > 30, "only {count} test files found");
}
