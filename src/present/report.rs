//! Every document of a job as files, made in memory before any is written.

use super::document::{self, Document};
use super::drawing::{cutting, layout, run::drawing};
use super::file_name::file_names;
use super::job::Job;
use super::json::{self, Report};
use super::{csv, pdf, svg};
use serde::Serialize;

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
        files.extend(drawings(job));
    }
    if documents.iter().any(|it| it.name == "cutting-list") {
        files.extend(cutting_drawings(job));
    }
    push_tables(&mut files, &documents)?;
    Ok(files)
}

/// The files of one document that stands for itself: PDF, a CSV file for each table, and the JSON
/// object that holds the same.
///
/// # Errors
/// When the document can't be made.
pub fn document_files<T: Serialize>(
    job: &Job,
    document: &Document,
    object: &T,
) -> Result<Vec<File>, ReportError> {
    let mut files = vec![
        File {
            name: format!("{}.pdf", document.name),
            bytes: pdf_of(job, std::slice::from_ref(document))?,
        },
        File {
            name: format!("{}.json", document.name),
            bytes: json::text(object)?.into_bytes(),
        },
    ];
    push_tables(&mut files, std::slice::from_ref(document))?;
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

/// Drawings of all that is cut, named for it.
fn cutting_drawings(job: &Job) -> Vec<File> {
    let drawn = cutting::sheets(job);
    let items: Vec<&str> = drawn.iter().map(|it| it.item.as_str()).collect();
    file_names("cutting", &items)
        .into_iter()
        .zip(&drawn)
        .map(|(name, it)| File {
            name: format!("{name}.svg"),
            bytes: svg::write(&it.sheet).into_bytes(),
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
