//! `reports/` is what the program writes for the demo, byte for byte.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        let name = path
            .file_name()
            .expect("a name")
            .to_string_lossy()
            .into_owned();
        if path.is_dir() {
            for (inner, bytes) in contents(&path) {
                found.insert(format!("{name}/{inner}"), bytes);
            }
        } else {
            found.insert(name, std::fs::read(&path).expect("readable"));
        }
    }
    found
}

#[test]
fn the_committed_reports_are_what_the_program_writes() {
    let out = tempfile::tempdir().expect("a folder");
    let status = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args([
            "report",
            "catalogue-examples/millrace-library.yaml",
            "--quiet",
            "--out",
        ])
        .arg(out.path())
        .current_dir(root())
        .output()
        .expect("the program runs");
    let code = status.status.code();
    assert!(
        matches!(code, Some(0 | 1)),
        "{}",
        String::from_utf8_lossy(&status.stderr)
    );
    let written = contents(out.path());
    let committed = contents(&root().join("reports"));
    assert!(written.len() > 5, "only {} files written", written.len());
    let names = |files: &BTreeMap<String, Vec<u8>>| files.keys().cloned().collect::<Vec<_>>();
    assert_eq!(names(&written), names(&committed), "files in reports/");
    let stale: Vec<&String> = written
        .iter()
        .filter(|(name, bytes)| committed.get(*name) != Some(bytes))
        .map(|(name, _)| name)
        .collect();
    assert!(stale.is_empty(), "out of date in reports/: {stale:?}");
}
