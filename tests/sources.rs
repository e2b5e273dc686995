//! How many checks there are against each source outside the project: the table in DEVELOPERS.md is
//! written from the files that the checks read. With `FEEDPOINT_ACCEPT` set it is rewritten.

use serde_json::Value;
use std::collections::BTreeMap;
use std::fmt::Write;
use std::path::{Path, PathBuf};

const START: &str = "| file | checks | source |\n|---|---|---|\n";

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn files(folder: &str, kind: &str) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(root().join(folder)).expect("a folder");
    let mut files: Vec<PathBuf> = entries.map(|entry| entry.expect("a file").path()).collect();
    files.retain(|path| path.extension().is_some_and(|ext| ext == kind));
    files.sort();
    files
}

fn name(path: &Path) -> String {
    let inside = path.strip_prefix(root()).expect("inside the project");
    inside.display().to_string().replace('\\', "/")
}

/// Rows of a file of published figures, and what its rows name as their source most often.
fn published(path: &Path) -> (usize, String) {
    let mut reader = csv::Reader::from_path(path).expect("a table");
    let heads = reader.headers().expect("heads").clone();
    let source = heads.iter().position(|head| head == "source");
    let source = source.expect("a source for each row");
    let mut named: BTreeMap<String, usize> = BTreeMap::new();
    for row in reader.records() {
        let row = row.expect("a row");
        assert!(!row[source].trim().is_empty(), "{path:?}: {row:?}");
        *named.entry(row[source].to_owned()).or_default() += 1;
    }
    let most = named
        .iter()
        .max_by_key(|(name, count)| (**count, name.len()));
    let most = most.map(|(name, _)| name.clone()).unwrap_or_default();
    let others = match named.len() {
        0 | 1 => String::new(),
        2 => " and one more".to_owned(),
        several => format!(" and {} more", several - 1),
    };
    (named.values().sum(), format!("{most}{others}"))
}

/// Cases of a file of answers by independent solvers, and the solvers.
fn solved(path: &Path) -> (usize, String) {
    let text = std::fs::read_to_string(path).expect("a file");
    let all: Value = serde_json::from_str(&text).expect("JSON");
    let tools = match &all["tools"] {
        Value::Array(list) => {
            let names = list.iter().map(|tool| tool.as_str().expect("a name"));
            names.collect::<Vec<_>>().join(", ")
        }
        Value::Object(versions) => {
            let names = versions.keys().map(String::as_str);
            names.collect::<Vec<_>>().join(", ")
        }
        tool => tool.as_str().expect("a name").to_owned(),
    };
    (all["cases"].as_array().expect("cases").len(), tools)
}

/// The table, and the number of checks.
fn table() -> (String, usize) {
    let mut text = START.to_owned();
    let mut all = 0;
    let published = files("tests/published", "csv").into_iter().map(|path| {
        let (count, source) = published(&path);
        (name(&path), count, source)
    });
    let solved = files("tests/oracle", "json").into_iter().map(|path| {
        let (count, source) = solved(&path);
        (name(&path), count, source)
    });
    for (file, count, source) in published.chain(solved) {
        let source = source.replace('|', "/");
        writeln!(text, "| `{file}` | {count} | {source} |").expect("text grows");
        all += count;
    }
    writeln!(text, "| all | {all} | |").expect("text grows");
    (text, all)
}

#[test]
fn checks_are_counted_by_source() {
    let (table, all) = table();
    assert!(all >= 300, "{all} checks");
    let path = root().join("DEVELOPERS.md");
    let text = std::fs::read_to_string(&path).expect("DEVELOPERS.md");
    let start = text.find(START).expect("the table of checks by source");
    let end = text[start..]
        .find("\n\n")
        .map_or(text.len(), |end| start + end + 1);
    if std::env::var_os("FEEDPOINT_ACCEPT").is_some() {
        let accepted = format!("{}{table}{}", &text[..start], &text[end..]);
        std::fs::write(&path, accepted).expect("DEVELOPERS.md is written");
        return;
    }
    assert_eq!(&text[start..end], table, "FEEDPOINT_ACCEPT=1 rewrites it");
}
