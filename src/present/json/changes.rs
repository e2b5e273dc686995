//! What `feedpoint issue --format json` prints: the record's place, and what is not as it was
//! issued before.

use super::{FORMAT, Project, money, quantity};
use crate::allocate::issued::{self, How};
use crate::present::document::changes::price_rows;
use crate::present::issued::record;
use crate::present::job::Job;
use schemars::JsonSchema;
use serde::Serialize;

/// An issue of a project.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Issue {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// Path of the record.
    pub record: String,
    /// Whether it was written now; else it said the same already.
    pub written: bool,
    /// What is not as it was issued before; `null` for a first issue.
    pub changes: Option<Changes>,
}

impl Issue {
    /// The issue of a job.
    #[must_use]
    pub fn of(job: &Job, record: &str, written: bool) -> Issue {
        Issue {
            format: FORMAT,
            project: Project::of(job),
            record: record.to_owned(),
            written,
            changes: Changes::of(job),
        }
    }
}

/// What is not as it was issued.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Changes {
    /// The revision that was issued.
    pub since: String,
    /// Whether everything was chosen afresh, holding nothing.
    pub afresh: bool,
    /// Things moved.
    pub moved: usize,
    /// Things added.
    pub added: usize,
    /// Things removed.
    pub removed: usize,
    /// Things as they were.
    pub untouched: usize,
    /// Each change.
    pub list: Vec<Change>,
    /// Lines whose quantity or price is another.
    pub prices: Vec<PriceChange>,
    /// Net total of the issue.
    pub net_was: String,
    /// Net total now.
    pub net_now: String,
}

/// A change.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Change {
    /// What kind of thing.
    pub kind: String,
    /// Which.
    pub subject: String,
    /// `moved`, `added` or `removed`.
    pub change: String,
    /// What was so; `null` for what is new.
    pub was: Option<String>,
    /// What is so; `null` for what has gone.
    pub now: Option<String>,
    /// Why.
    pub reason: String,
}

/// A line of the quote that is not as it was.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PriceChange {
    /// Catalogue id, `labour`, `commissioning` or `provisional sum`.
    pub item: String,
    /// Description.
    pub description: String,
    /// Quantity then.
    pub quantity_was: String,
    /// Quantity now.
    pub quantity_now: String,
    /// Price then; `null` when it was not known.
    pub price_was: Option<String>,
    /// Price now; `null` when it is not known.
    pub price_now: Option<String>,
    /// What about it is not as it was.
    pub reason: String,
}

impl Changes {
    /// The changes of a job; `None` when nothing was issued.
    #[must_use]
    pub fn of(job: &Job) -> Option<Changes> {
        let was = job.project.issued.record.as_ref()?;
        let changes = job.allocation.changes.as_ref()?;
        let now = record(job).prices;
        let (rows, _) = price_rows(&was.prices, &now);
        Some(Changes {
            since: was.revision.clone(),
            afresh: job.project.issued.afresh,
            moved: changes.count(How::Moved),
            added: changes.count(How::Added),
            removed: changes.count(How::Removed),
            untouched: changes.unmoved(),
            list: changes.list.iter().map(Change::of).collect(),
            prices: rows
                .iter()
                .map(|row| PriceChange {
                    item: row.item.clone(),
                    description: row.description.clone(),
                    quantity_was: quantity(row.was.0),
                    quantity_now: quantity(row.now.0),
                    price_was: row.was.1.map(money),
                    price_now: row.now.1.map(money),
                    reason: row.reason(),
                })
                .collect(),
            net_was: money(was.prices.net),
            net_now: money(now.net),
        })
    }
}

impl Change {
    fn of(change: &issued::Change) -> Change {
        let said = |text: &String| (!text.is_empty()).then(|| text.clone());
        Change {
            kind: change.kind.name().to_owned(),
            subject: change.subject.clone(),
            change: change.how.name().to_owned(),
            was: said(&change.was),
            now: said(&change.now),
            reason: change.reason.clone(),
        }
    }
}
