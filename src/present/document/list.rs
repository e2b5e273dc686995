//! The list of documents, and how each is put together from its parts.

use super::{
    Document, Part, TitleBlock, addresses, as_built, cables, changes, checks, circuits,
    commissioning, cutting, drivers, feed_points, feet, handover, labels, loops, materials,
    one_line, order, quote, room_scenes, rules, runs, safety, scenes, site_tests, summary,
};
use crate::model::project::Project;
use crate::norms::region::Region;
use crate::present::cautions;
use crate::present::date;
use crate::present::job::Job;
use crate::present::money::Grouping;
use rayon::prelude::*;

/// A document that can be made.
#[derive(Debug, Clone, Copy)]
pub struct Listed {
    /// Its name, by which `--only` and files call it.
    pub name: &'static str,
    /// Its title.
    pub title: &'static str,
    /// Whether someone could wire from it: then it carries the cautions.
    pub wired_from: bool,
    /// Whether it shows costs and margins.
    pub inside: bool,
    /// Whether only a job that was issued before has it.
    pub since_issue: bool,
    /// Whether it is made only when it is asked for by name.
    pub on_request: bool,
    /// Makes its parts.
    parts: fn(&Job) -> Vec<Part>,
}

const fn wired(name: &'static str, title: &'static str, parts: fn(&Job) -> Vec<Part>) -> Listed {
    Listed {
        name,
        title,
        wired_from: true,
        inside: false,
        since_issue: false,
        on_request: false,
        parts,
    }
}

const fn commercial(
    name: &'static str,
    title: &'static str,
    inside: bool,
    parts: fn(&Job) -> Vec<Part>,
) -> Listed {
    Listed {
        name,
        title,
        wired_from: false,
        inside,
        since_issue: false,
        on_request: false,
        parts,
    }
}

/// A document that only a job that was issued before has.
const fn since_issue(listed: Listed) -> Listed {
    Listed {
        since_issue: true,
        ..listed
    }
}

impl Listed {
    /// Whether a job has it.
    #[must_use]
    pub fn is_made(&self, job: &Job) -> bool {
        !self.since_issue || job.project.issued.record.is_some()
    }
}
/// Every rule on a sheet of its own: many sheets, made when they are asked for.
const RULES_SHEETS: Listed = Listed {
    on_request: true,
    ..wired("rules", "Rules", rules::parts)
};

/// All documents, in the order in which they are bound.
pub const DOCUMENTS: &[Listed] = &[
    wired("summary", "Summary", summary::parts),
    wired("checks", "Checks", checks::parts),
    wired("run-schedule", "Run schedule", runs::parts),
    wired("feed-points", "Feed-point sheets", feed_points::parts),
    wired("driver-schedule", "Driver schedule", drivers::parts),
    wired("cable-schedule", "Cable schedule", cables::parts),
    wired("loop-schedule", "Loop schedule", loops::parts),
    wired("circuit-schedule", "Circuit schedule", circuits::parts),
    wired("one-line", "One-line drawings", one_line::parts),
    wired("scene-schedule", "Group and scene schedule", scenes::parts),
    wired("scene-sheets", "Scenes by room", room_scenes::parts),
    wired("address-list", "Address list", addresses::parts),
    wired("labels", "Label list", labels::parts),
    since_issue(wired(
        "changes",
        "Changes since the last issue",
        changes::parts,
    )),
    wired("cutting-list", "Cutting list", cutting::parts),
    wired("test-sheet", "Test sheet", site_tests::parts),
    wired(
        "commissioning-sheet",
        "Commissioning sheet",
        commissioning::parts,
    ),
    wired("as-built", "As-built record", as_built::parts),
    wired("handover", "Handover page", handover::page),
    wired("owner-record", "Owner's record", handover::record),
    wired("cautions", "Cautions", safety::parts),
    commercial("quote", "Quotation", false, quote::parts),
    since_issue(commercial(
        "change-prices",
        "Price of the changes since the last issue",
        false,
        changes::price_parts,
    )),
    commercial("materials", "Materials and cost", true, materials::parts),
    commercial("order-list", "Order list", true, order::parts),
    RULES_SHEETS,
];

/// Every document of a job that is not made on request alone.
#[must_use]
pub fn all(job: &Job) -> Vec<Document> {
    made(job, |listed| !listed.on_request)
}

/// The documents of those names, in the order in which they are bound.
#[must_use]
pub fn of_names(job: &Job, names: &[String]) -> Vec<Document> {
    made(job, |listed| names.iter().any(|name| name == listed.name))
}

/// Those of the job's documents that are wanted, made side by side.
fn made(job: &Job, wanted: impl Fn(&Listed) -> bool) -> Vec<Document> {
    let listed = DOCUMENTS.iter();
    let listed: Vec<&Listed> = listed.filter(|it| wanted(it) && it.is_made(job)).collect();
    let documents = listed.into_par_iter();
    documents.map(|listed| document(listed, job)).collect()
}

/// The document of that name, if there is one.
#[must_use]
pub fn named(name: &str, job: &Job) -> Option<Document> {
    DOCUMENTS
        .iter()
        .find(|listed| listed.name == name)
        .map(|listed| document(listed, job))
}

fn document(listed: &Listed, job: &Job) -> Document {
    let document = Document {
        name: listed.name,
        title: listed.title.to_owned(),
        block: title_block(&job.project),
        currency: job.quote.currency.clone(),
        decimals: job.quote.decimals,
        inside: listed.inside,
        parts: (listed.parts)(job),
        cautions: if listed.wired_from {
            cautions::on_sheets(job)
        } else {
            cautions::loosened(&job.project)
        },
    };
    match job.project.region {
        Region::NorthAmerica => feet::added(document),
        Region::Iec | Region::AusNz => document,
    }
}

pub(super) fn title_block(project: &Project) -> TitleBlock {
    let heading = &project.heading;
    let said = |text: &Option<String>| text.clone().unwrap_or_default();
    TitleBlock {
        project: heading.title.clone(),
        reference: said(&heading.reference),
        revision: said(&heading.revision),
        date: heading
            .date
            .map(|day| date::shown(day, project.region))
            .unwrap_or_default(),
        prepared_by: said(&heading.prepared_by),
        customer: said(&heading.customer),
        region: region_name(project.region).to_owned(),
        grouping: Grouping::of(project.region),
    }
}

/// A region as people call it.
fn region_name(region: Region) -> &'static str {
    match region {
        Region::Iec => "IEC",
        Region::NorthAmerica => "North America",
        Region::AusNz => "Australia, New Zealand",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_safe_as_file_names_and_not_used_twice() {
        let mut names: Vec<_> = DOCUMENTS.iter().map(|listed| listed.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), DOCUMENTS.len());
        for name in names {
            assert!(
                name.chars().all(|c| c.is_ascii_lowercase() || c == '-'),
                "{name}"
            );
        }
    }
}
