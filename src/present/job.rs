//! Everything that was worked out for a project: what documents are made from.

use super::joints::Joints;
use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::judge::verdict::Verdict;
use crate::model::by_name::{ByName, add, at};
use crate::model::project::Project;
use crate::price::priced::Quote;
use crate::quantity::Length;
use std::collections::HashMap;

/// A project with all that was worked out for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Job {
    /// The project.
    pub project: Project,
    /// Runs, drivers, feed cables.
    pub sizing: Sizing,
    /// Loops and circuits.
    pub allocation: Allocation,
    /// Materials, labour, totals.
    pub quote: Quote,
    /// Every verdict of every rule, in table order and then by subject.
    pub verdicts: Vec<Verdict>,
    /// Cautions that the job calls for, most general first; never empty.
    pub cautions: Vec<String>,
    /// Where verdicts stand, by subject.
    pub by_subject: ByName<HashMap<String, Vec<usize>>>,
    /// Where strip is joined.
    pub joints: ByName<Joints>,
}

impl Job {
    /// What the rules say of a subject such as `run hall-cove`, in table order.
    pub fn verdicts_on(&self, subject: &str) -> impl Iterator<Item = &Verdict> + use<'_> {
        let places = self.by_subject.places(|| {
            let mut places = HashMap::new();
            for (place, verdict) in self.verdicts.iter().enumerate() {
                for subject in verdict.subjects() {
                    add(&mut places, subject, place);
                }
            }
            places
        });
        at(&self.verdicts, places, subject)
    }

    /// Places of the joints of a section, from the run's start, rising; sections counted from 1.
    #[must_use]
    pub fn joints(&self, run: &str, section: usize) -> &[Length] {
        let joints = self.joints.places(|| Joints::of(&self.quote));
        joints.at(run, section)
    }
}
