//! Numbers of feed cables as they were issued.

use crate::model::issued::Record;
use std::collections::BTreeMap;

/// The numbers that cables had, by what they feed, and the next that nothing ever had.
#[derive(Debug, Default)]
pub(in crate::choose) struct Numbers<'a> {
    known: BTreeMap<(&'a str, usize, usize), &'a str>,
    highest: usize,
}

impl<'a> Numbers<'a> {
    /// Those of a record; none without one.
    pub(in crate::choose) fn of(record: Option<&'a Record>) -> Numbers<'a> {
        let Some(record) = record else {
            return Numbers::default();
        };
        let known = record.cables.iter().map(|cable| {
            let feeds = (cable.run.as_str(), cable.section, cable.feed);
            (feeds, cable.cable.as_str())
        });
        Numbers {
            known: known.collect(),
            highest: record.highest.cables,
        }
    }

    /// The number of the cable to a feed: a run, a section of it and a feed of that, from 1.
    pub(in crate::choose) fn number(&mut self, run: &str, section: usize, feed: usize) -> String {
        if let Some(known) = self.known.get(&(run, section, feed)) {
            return (*known).to_owned();
        }
        self.highest += 1;
        format!("F-{:03}", self.highest)
    }
}
