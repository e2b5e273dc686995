//! Issued records: as they are spoilt, which their guard sees, and guarded again by one who means
//! harm, so that what is behind the guard is reached.

use super::Target;
use feedpoint::load::issued::{guarded, read};
use feedpoint::{pipeline, present};

/// The key that ends what is guarded.
const GUARD: &str = "\nguard:";

pub(super) const TARGET: Target = Target {
    name: "record",
    corpus: || {
        let (job, _) = pipeline::job("src/command/init/iec/project.yaml", true).expect("sized");
        vec![present::issued::text(&present::issued::record(&job))]
    },
    read: |text| {
        let body = text.split_once(GUARD).map_or(text, |(body, _)| body);
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("issued-A.yaml");
        let told = [text.to_owned(), guarded(&format!("{body}\n"))].map(|text| {
            std::fs::write(&path, text).expect("written");
            read(&path).err().map(|told| told.to_string())
        });
        told.into_iter().flatten().collect()
    },
};
