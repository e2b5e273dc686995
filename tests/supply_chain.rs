//! What the program is built from: every library may be used and passed on, and there are no more
//! of them than were looked at.

use serde_json::Value;
use std::collections::BTreeSet;
use std::process::Command;

/// Licences that ask for no more than their text and a name: nothing of this project's own. MPL-2.0
/// asks for changes to the library's own files, of which there are none.
const ALLOWED: &[&str] = &[
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "MPL-2.0",
    "Unicode-3.0",
    "Unlicense",
    "Zlib",
];

/// Packages of the lock file on this machine, tests included. More than so many ask for a look at
/// what brought them.
const MOST: usize = 275;

fn host() -> String {
    let told = Command::new("rustc").arg("-vV").output().expect("rustc");
    let told = String::from_utf8(told.stdout).expect("text");
    let line = told.lines().find_map(|line| line.strip_prefix("host: "));
    line.expect("a host").to_owned()
}

/// Name and licence of everything that is built here.
fn packages() -> BTreeSet<(String, String)> {
    let told = Command::new(env!("CARGO"))
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .args(["metadata", "--format-version", "1", "--offline", "--locked"])
        .args(["--filter-platform", &host()])
        .output()
        .expect("cargo");
    let error = String::from_utf8_lossy(&told.stderr);
    assert!(told.status.success(), "{error}");
    let all: Value = serde_json::from_slice(&told.stdout).expect("JSON");
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let nodes = all["resolve"]["nodes"].as_array().expect("nodes");
    let built: BTreeSet<String> = nodes.iter().map(|node| text(&node["id"])).collect();
    let packages = all["packages"].as_array().expect("packages").iter();
    packages
        .filter(|package| built.contains(&text(&package["id"])))
        .map(|package| {
            let name = format!("{} {}", text(&package["name"]), text(&package["version"]));
            (name, text(&package["license"]))
        })
        .collect()
}

/// Whether a licence expression can be met: one of the alternatives in each part that is asked for.
fn allowed(licence: &str) -> bool {
    let plain = licence.replace(['(', ')'], "").replace('/', " OR ");
    plain.split(" AND ").all(|part| {
        let mut either = part.split(" OR ");
        either.any(|one| ALLOWED.contains(&one.trim()))
    })
}

#[test]
fn every_library_may_be_used() {
    let refused: Vec<_> = packages()
        .into_iter()
        .filter(|(_, licence)| !allowed(licence))
        .collect();
    assert!(refused.is_empty(), "{refused:#?}");
}

#[test]
fn there_are_no_more_libraries_than_were_looked_at() {
    let count = packages().len();
    assert!(count > 100, "{count}");
    assert!(count <= MOST, "{count} packages, at most {MOST}");
}

#[test]
fn a_licence_is_met_by_one_alternative_of_each_part() {
    assert!(allowed("MIT/Apache-2.0"));
    assert!(allowed("LGPL-3.0-or-later OR MPL-2.0"));
    assert!(allowed("(Apache-2.0 OR MIT) AND BSD-3-Clause"));
    assert!(!allowed("MIT AND GPL-3.0-only"));
    assert!(!allowed("AGPL-3.0-only"));
    assert!(!allowed(""));
}
