//! How far the making of a report is.

use std::sync::atomic::{AtomicUsize, Ordering};

/// A step that is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step<'a> {
    /// How many are done.
    pub number: usize,
    /// How many there are in all.
    pub of: usize,
    /// The file's name; of one document in a file, that document's title; of the drawings and tables
    /// of a document, its title.
    pub what: &'a str,
}

/// Counts the steps and tells each as it is done.
pub(super) struct Steps<'a> {
    done: AtomicUsize,
    of: usize,
    tell: &'a (dyn Fn(Step<'_>) + Sync),
}

impl<'a> Steps<'a> {
    pub(super) fn new(of: usize, tell: &'a (dyn Fn(Step<'_>) + Sync)) -> Steps<'a> {
        Steps {
            done: AtomicUsize::new(0),
            of,
            tell,
        }
    }

    pub(super) fn done(&self, what: &str) {
        let number = 1 + self.done.fetch_add(1, Ordering::Relaxed);
        (self.tell)(Step {
            number,
            of: self.of,
            what,
        });
    }
}
