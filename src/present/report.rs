//! Every document of a job as files, made in memory before any is written.

use super::document::{self, Document, Part};
use super::drawing::alone::{Surround, standing_alone};
use super::drawing::sheet::Sheet;
use super::file_name::file_names;
use super::job::Job;
use super::json::{self, Report};
use super::shown::block_line;
use super::{csv, pdf, svg};

/// A file to be written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct File {
    /// Its name, without any folder.
    pub name: String,
    /// Its contents.
    pub bytes: Vec<u8>,
}

/// Why a document could not be made. Each is a fault of this program.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// A table has rows that do not fit its columns.
    #[error("a table can't be written as CSV")]
    Csv(#[from] ::csv::Error),
    /// The results have no JSON form.
    #[error("the results can't be written as JSON")]
    Json(#[from] serde_json::Error),
    /// The PDF can't be made.
    #[error("the documents can't be written as PDF: {0}")]
    Pdf(#[from] pdf::PdfError),
}

/// The files of the documents named in `only`, or of all when it is empty: a PDF of what goes to
/// site and customer, another of what shows costs, a CSV file for each table, and, with all
/// documents, all results as JSON and a drawing of each run.
///
/// # Errors
/// When a document can't be made.
pub fn files(job: &Job, only: &[String]) -> Result<Vec<File>, ReportError> {
    let wanted = |it: &Document| only.is_empty() || only.iter().any(|name| name == it.name);
    let documents: Vec<Document> = document::all(job).into_iter().filter(wanted).collect();
    let mut files = Vec::new();
    for (name, inside) in [("report.pdf", false), ("costs.pdf", true)] {
        let bound: Vec<Document> = documents
            .iter()
            .filter(|it| it.inside == inside)
            .cloned()
            .collect();
        if !bound.is_empty() {
            files.push(File {
                name: name.to_owned(),
                bytes: pdf_of(job, &bound)?,
            });
        }
    }
    if only.is_empty() {
        files.push(File {
            name: "report.json".to_owned(),
            bytes: json::text(&Report::of(job))?.into_bytes(),
        });
    }
    files.extend(documents.iter().flat_map(drawn_parts));
    push_tables(&mut files, &documents)?;
    Ok(files)
}

/// The drawings in a document's parts, each named for its part.
fn drawn_parts(document: &Document) -> Vec<File> {
    let parts = document.parts.iter();
    let drawn: Vec<(&Part, &Sheet)> = parts
        .filter_map(|part| part.drawing.as_ref().map(|it| (part, it)))
        .collect();
    let mut files = Vec::new();
    let mut begun: Vec<&str> = Vec::new();
    for (part, _) in &drawn {
        if begun.contains(&part.name) {
            continue;
        }
        begun.push(part.name);
        let of_name: Vec<_> = drawn
            .iter()
            .filter(|(it, _)| it.name == part.name)
            .collect();
        let titles: Vec<&str> = of_name.iter().map(|(_, it)| it.title.as_str()).collect();
        for (name, (part, sheet)) in file_names(part.name, &titles).into_iter().zip(of_name) {
            let surround = Surround {
                title: &part.heading,
                lines: &[&block_line(document), &document.title],
                cautions: &document.cautions,
            };
            files.push(File {
                name: format!("{name}.svg"),
                bytes: svg::write(&standing_alone((*sheet).clone(), &surround)).into_bytes(),
            });
        }
    }
    files
}

fn pdf_of(job: &Job, documents: &[Document]) -> Result<Vec<u8>, ReportError> {
    let heading = &job.project.heading;
    let paper = pdf::Paper::of(job.project.region);
    Ok(pdf::write(&heading.title, documents, paper, heading.date)?)
}

/// A table that stands in two documents, such as the assumptions, is one file.
fn push_tables(files: &mut Vec<File>, documents: &[Document]) -> Result<(), ReportError> {
    for document in documents {
        for table in csv::files(document)? {
            let name = format!("{}.csv", table.name);
            if !files.iter().any(|file| file.name == name) {
                files.push(File {
                    name,
                    bytes: table.text.into_bytes(),
                });
            }
        }
    }
    Ok(())
}
