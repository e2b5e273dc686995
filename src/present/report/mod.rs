//! Every document of a job as files, made side by side.

mod making;
mod shelf;
mod steps;

pub use shelf::{File, Shelf};
pub use steps::Step;

use super::document::{self, Document};
use super::job::Job;
use super::{json, pdf};
use making::{Making, Volume};
use rayon::prelude::*;
use serde::Serialize;
use shelf::InMemory;
use std::collections::BTreeSet;
use std::io::Write;
use steps::Steps;

/// Why a document could not be made. Each is a fault of this program, but that of a shelf which takes
/// no more.
#[derive(Debug, thiserror::Error)]
pub enum ReportError {
    /// A table has rows that do not fit its columns.
    #[error("a table can't be written as CSV")]
    Csv(#[from] ::csv::Error),
    /// The results have no JSON form.
    #[error("the results can't be written as JSON")]
    Json(#[from] serde_json::Error),
    /// The workbook can't be made.
    #[error("the tables can't be written as a spreadsheet: {0}")]
    Xlsx(#[from] rust_xlsxwriter::XlsxError),
    /// The PDF can't be made.
    #[error("the documents can't be written as PDF: {0}")]
    Pdf(#[from] pdf::PdfError),
    /// What was made can't be put where it should go.
    #[error("the file can't be written: {0}")]
    Write(#[from] std::io::Error),
}

/// Makes the files and puts them on a shelf. Of the whole job:
/// one PDF, workbook and web page of what goes to site and customer and one of each of what shows
/// costs, all results as JSON, a drawing of each run; of the documents named in `only` (the usual
/// ones when it is empty), one PDF,
/// workbook and web page each. Of both, a CSV file for each table and the drawings in them. `tell`
/// hears of each step that is done. Returns the names of the files, in an order that does not change.
///
/// # Errors
/// When a document can't be made, or what the shelf returns.
pub fn each<S: Shelf>(
    job: &Job,
    only: &[String],
    tell: &(dyn Fn(Step<'_>) + Sync),
    shelf: &S,
) -> Result<Vec<String>, S::Error> {
    let documents = match only {
        [] => document::all(job),
        names => document::of_names(job, names),
    };
    let whole = only.is_empty();
    let volumes: Vec<Volume> = if whole {
        let of_kind = |inside| documents.iter().filter(move |it| it.inside == inside);
        [("report", false), ("costs", true)]
            .map(|(name, inside)| Volume::new(job, name, of_kind(inside).collect()))
            .into()
    } else {
        let alone = documents.iter();
        alone
            .map(|it| Volume::new(job, it.name, vec![it]))
            .collect()
    };
    let volumes = volumes.iter().filter(|it| !it.documents.is_empty());
    let mut makings: Vec<Making> = volumes.flat_map(Making::volume).collect();
    let results = |out: &mut dyn Write| Ok(json::write(&json::Report::of(job), out)?);
    makings.extend(whole.then_some(Making::Results("report", &results)));
    makings.extend(loose(&documents));
    all_made(&makings, tell, shelf)
}

/// The files of [`each`], all at once.
///
/// # Errors
/// When a document can't be made.
pub fn files(job: &Job, only: &[String]) -> Result<Vec<File>, ReportError> {
    let shelf = InMemory::default();
    let names = each(job, only, &|_| {}, &shelf)?;
    Ok(shelf.in_order(names))
}

/// Puts the files of one document that stands for itself on a shelf: in each format that people read,
/// a CSV file for each table, and the JSON object that holds the same. Returns their names.
///
/// # Errors
/// When the document can't be made, or what the shelf returns.
pub fn alone<T: Serialize + Sync, S: Shelf>(
    job: &Job,
    document: &Document,
    object: &T,
    shelf: &S,
) -> Result<Vec<String>, S::Error> {
    let volume = Volume::new(job, document.name, vec![document]);
    let mut makings: Vec<Making> = Making::volume(&volume).into();
    let results = |out: &mut dyn Write| Ok(json::write(object, out)?);
    makings.push(Making::Results(document.name, &results));
    makings.extend(loose(std::slice::from_ref(document)));
    all_made(&makings, &|_| {}, shelf)
}

/// The drawings and tables of documents. A table that stands in two of them, such as the assumptions,
/// is one file.
fn loose(documents: &[Document]) -> impl Iterator<Item = Making<'_>> {
    let mut known: BTreeSet<&str> = BTreeSet::new();
    documents.iter().map(move |document| {
        let tables = document.parts.iter().filter(|part| part.table.is_some());
        let names: BTreeSet<&str> = tables.map(|part| part.name).collect();
        let own = names.difference(&known).copied().collect();
        known.extend(names);
        Making::Loose(document, own)
    })
}

fn all_made<S: Shelf>(
    makings: &[Making],
    tell: &(dyn Fn(Step<'_>) + Sync),
    shelf: &S,
) -> Result<Vec<String>, S::Error> {
    let steps = Steps::new(makings.iter().map(Making::steps).sum(), tell);
    let made = makings.par_iter().map(|it| it.make(shelf, &steps));
    let names: Vec<Vec<String>> = made.collect::<Result<_, _>>()?;
    Ok(names.into_iter().flatten().collect())
}
