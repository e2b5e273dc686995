//! Every document of a job as files, made in memory before any is written.

use super::document::{self, Document};
use super::drawing::{layout, run::drawing};
use super::file_name::file_names;
use super::job::Job;
use super::json::{self, Report};
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

/// The files of the documents named in `only`, or of the usual ones when it is empty: a PDF of what goes to
/// site and customer, another of what shows costs, a CSV file for each table, and, with all
/// documents, all results as JSON and a drawing of each run.
///
/// # Errors
/// When a document can't be made.
pub fn files(job: &Job, only: &[String]) -> Result<Vec<File>, ReportError> {
    let documents = match only {
        [] => document::all(job),
        names => document::of_names(job, names),
    };
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
        files.extend(drawings(job));
    }
    push_tables(&mut files, &documents)?;
    Ok(files)
}

/// A drawing of each run, named for it.
fn drawings(job: &Job) -> Vec<File> {
    let runs = &job.sizing.runs;
    let names: Vec<&str> = runs.iter().map(|sized| sized.run.name.as_str()).collect();
    let drawn = runs.iter().map(|sized| {
        let sheet = layout::sheet(&drawing(job, sized));
        svg::write(&sheet).into_bytes()
    });
    file_names("run", &names)
        .into_iter()
        .zip(drawn)
        .map(|(name, bytes)| File {
            name: format!("{name}.svg"),
            bytes,
        })
        .collect()
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
