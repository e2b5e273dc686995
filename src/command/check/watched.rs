//! The files that a check reads, and whether any was saved since.
//!
//! They are read again and again rather than asked to be told of: a handful of small files costs
//! next to nothing to read twice a second, and what the system tells of changes is not told of
//! files on network shares that another machine saves, and is lost where an editor saves by
//! putting a new file in the old one's place. Content counts, not the time of change: clocks of
//! shares are coarse and differ.

use crate::load;
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Content of each file; `None` for one that can't be read.
pub(super) type Contents = BTreeMap<PathBuf, Option<Vec<u8>>>;

/// The files as they are now: the one checked, the catalogues it names, and the records issued of
/// it.
pub(super) fn contents(path: &str) -> Contents {
    let folder = load::folder_of(path);
    let mut paths = vec![PathBuf::from(path)];
    if let Ok(source) = load::opened(path) {
        let named = load::catalogues_named(&source);
        paths.extend(named.iter().map(|name| folder.join(name)));
    }
    paths.extend(records(folder));
    paths
        .into_iter()
        .map(|path| {
            let content = std::fs::read(&path).ok();
            let digest = content.map(|bytes| Sha256::digest(bytes).to_vec());
            (path, digest)
        })
        .collect()
}

fn records(folder: &Path) -> Vec<PathBuf> {
    let here = if folder == Path::new("") {
        Path::new(".")
    } else {
        folder
    };
    let entries = std::fs::read_dir(here).into_iter().flatten().flatten();
    let names = entries.filter_map(|entry| entry.file_name().into_string().ok());
    let records = names.filter(|name| name.starts_with("issued-") && name.ends_with(".yaml"));
    records.map(|name| folder.join(name)).collect()
}

/// Tells when to check again: once files differ from those checked last and have come to rest.
#[derive(Debug)]
pub(super) struct Watched {
    checked: Contents,
    last: Contents,
}

impl Watched {
    /// After a check of files with these contents.
    pub fn after(checked: Contents) -> Watched {
        Watched {
            last: checked.clone(),
            checked,
        }
    }

    /// How many files there are.
    pub fn count(&self) -> usize {
        self.last.len()
    }

    /// Whether to check again, given the contents now. A file that is being written is let finish:
    /// its content must be the same at two looks.
    pub fn is_due(&mut self, now: Contents) -> bool {
        let at_rest = now == self.last;
        self.last = now;
        let due = at_rest && self.last != self.checked;
        if due {
            self.checked = self.last.clone();
        }
        due
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn holding(text: &str) -> Contents {
        BTreeMap::from([(PathBuf::from("a.yaml"), Some(text.as_bytes().to_vec()))])
    }

    #[test]
    fn a_save_is_checked_once_and_only_when_it_is_finished() {
        let mut watched = Watched::after(holding("one"));
        let looks = [
            "one", "", "tw", "two", "two", "two", "three", "one", "one", "two", "two",
        ];
        let due: Vec<bool> = looks
            .iter()
            .map(|text| watched.is_due(holding(text)))
            .collect();
        let expected = [
            false, false, false, false, true, false, false, false, true, false, true,
        ];
        assert_eq!(due, expected);
    }

    #[test]
    fn a_save_that_is_taken_back_before_the_next_look_is_none() {
        let mut watched = Watched::after(holding("one"));
        assert!(!watched.is_due(holding("two")));
        assert!(!watched.is_due(holding("one")));
        assert!(!watched.is_due(holding("one")));
    }

    #[test]
    fn catalogues_and_records_are_watched_and_may_come_and_go() {
        let folder = tempfile::tempdir().expect("a folder");
        let project = folder.path().join("job.yaml");
        let write = |name: &str, text: &str| {
            std::fs::write(folder.path().join(name), text).expect("written");
        };
        let path = project.to_string_lossy().into_owned();
        let names = |contents: &Contents| -> Vec<String> {
            let there = contents.iter().filter(|(_, content)| content.is_some());
            let names = there.filter_map(|(path, _)| path.file_name());
            names
                .map(|name| name.to_string_lossy().into_owned())
                .collect()
        };
        assert!(names(&contents(&path)).is_empty());
        write("job.yaml", "format: 1\ncatalogues: [goods.yaml]\n");
        write("other.yaml", "x");
        assert_eq!(names(&contents(&path)), ["job.yaml"]);
        write("goods.yaml", "y");
        write("issued-A.yaml", "z");
        let all = contents(&path);
        assert_eq!(names(&all), ["goods.yaml", "issued-A.yaml", "job.yaml"]);
        write("goods.yaml", "w");
        assert_ne!(contents(&path), all);
    }
}
