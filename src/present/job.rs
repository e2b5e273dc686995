//! Everything that was worked out for a project: what documents are made from.

use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::judge::verdict::Verdict;
use crate::model::project::Project;
use crate::price::priced::Quote;

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
}
