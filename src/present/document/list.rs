//! The list of documents, and how each is put together from its parts.

use super::{
    Document, Part, TitleBlock, cables, checks, circuits, cutting, drivers, feet, loops, materials,
    order, quote, runs, safety, scenes, summary,
};
use crate::model::project::Project;
use crate::norms::region::Region;
use crate::present::cautions;
use crate::present::date;
use crate::present::job::Job;
use crate::present::money::Grouping;

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
    /// Makes its parts.
    parts: fn(&Job) -> Vec<Part>,
}

const fn wired(name: &'static str, title: &'static str, parts: fn(&Job) -> Vec<Part>) -> Listed {
    Listed {
        name,
        title,
        wired_from: true,
        inside: false,
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
        parts,
    }
}

/// All documents, in the order in which they are bound.
pub const DOCUMENTS: &[Listed] = &[
    wired("summary", "Summary", summary::parts),
    wired("checks", "Checks", checks::parts),
    wired("run-schedule", "Run schedule", runs::parts),
    wired("driver-schedule", "Driver schedule", drivers::parts),
    wired("cable-schedule", "Cable schedule", cables::parts),
    wired("loop-schedule", "Loop schedule", loops::parts),
    wired("circuit-schedule", "Circuit schedule", circuits::parts),
    wired("scene-schedule", "Group and scene schedule", scenes::parts),
    wired("cutting-list", "Cutting list", cutting::parts),
    wired("cautions", "Cautions", safety::parts),
    commercial("quote", "Quotation", false, quote::parts),
    commercial("materials", "Materials and cost", true, materials::parts),
    commercial("order-list", "Order list", true, order::parts),
];

/// Every document of a job.
#[must_use]
pub fn all(job: &Job) -> Vec<Document> {
    DOCUMENTS
        .iter()
        .map(|listed| document(listed, job))
        .collect()
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
            Vec::new()
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
