//! What a result is about.

use crate::present::date;
use crate::present::job::Job;
use schemars::JsonSchema;
use serde::Serialize;

/// The project.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Project {
    /// Title.
    pub title: String,
    /// Reference.
    pub reference: Option<String>,
    /// Revision.
    pub revision: Option<String>,
    /// Date, `2026-11-20`.
    pub date: Option<String>,
    /// Whom it is for.
    pub customer: Option<String>,
    /// Who prepared it.
    pub prepared_by: Option<String>,
    /// `iec`, `north-america` or `aus-nz`.
    pub region: String,
}

impl Project {
    pub(super) fn of(job: &Job) -> Project {
        let heading = &job.project.heading;
        Project {
            title: heading.title.clone(),
            reference: heading.reference.clone(),
            revision: heading.revision.clone(),
            date: heading.date.map(date::written),
            customer: heading.customer.clone(),
            prepared_by: heading.prepared_by.clone(),
            region: job.project.region.name().to_owned(),
        }
    }
}
