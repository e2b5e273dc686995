//! Take-offs as text, and whatever runs are made of them.

use super::Target;
use feedpoint::load::takeoff::{Asked, from_bytes};
use feedpoint::present::takeoff::runs;

pub(super) const TARGET: Target = Target {
    name: "take-off",
    corpus: || {
        let files = std::fs::read_dir("tests/data/take-offs").expect("a folder");
        let mut paths: Vec<_> = files.map(|file| file.expect("a file").path()).collect();
        paths.sort();
        let texts = paths.iter().map(|path| std::fs::read(path).expect("bytes"));
        texts
            .map(|bytes| String::from_utf8_lossy(&bytes).into_owned())
            .collect()
    },
    read: |text| told(text.as_bytes(), "take-off.csv"),
};

/// Everything that is told of a take-off.
pub(super) fn told(bytes: &[u8], name: &str) -> String {
    match from_bytes(bytes, name, &Asked::default(), None) {
        Ok(taken) => runs(&taken),
        Err(fault) => fault.to_string(),
    }
}
