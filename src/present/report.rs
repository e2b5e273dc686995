//! Every document of a job as files, made one after the other.

use super::document::{self, Document, Part};
use super::drawing::alone::{Surround, standing_alone};
use super::drawing::sheet::Sheet;
use super::file_name::file_names;
use super::job::Job;
use super::json::{self, Report};
use super::shown::block_line;
use super::{csv, html, pdf, svg, xlsx};
use serde::Serialize;
use std::collections::BTreeSet;

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
    /// The workbook can't be made.
    #[error("the tables can't be written as a spreadsheet: {0}")]
    Xlsx(#[from] rust_xlsxwriter::XlsxError),
    /// The PDF can't be made.
    #[error("the documents can't be written as PDF: {0}")]
    Pdf(#[from] pdf::PdfError),
}

/// What is made next.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Step<'a> {
    /// Its number, from 1.
    pub number: usize,
    /// How many there are in all.
    pub of: usize,
    /// The file's name; of the drawings and tables of a document, its title.
    pub what: &'a str,
}

/// Counts the steps and tells each as it begins.
struct Steps<T> {
    number: usize,
    of: usize,
    tell: T,
}

impl<T: FnMut(Step<'_>)> Steps<T> {
    fn next(&mut self, what: &str) {
        self.number += 1;
        (self.tell)(Step {
            number: self.number,
            of: self.of,
            what,
        });
    }
}

/// Files of documents that are bound together.
const BOOK: [&str; 3] = ["pdf", "xlsx", "html"];

/// Hands over one file after the other, so that no more than those of a few documents need be held: of
/// the whole job,
/// one PDF, workbook and web page of what goes to site and customer and one of each of what shows
/// costs, all results as JSON, a drawing of each run; of the documents named in `only` (the usual
/// ones when it is empty), one PDF,
/// workbook and web page each. Of both, a CSV file for each table and the drawings in them. `tell`
/// hears what is made next.
///
/// # Errors
/// When a document can't be made, or what `take` returns.
pub fn each<E: From<ReportError>>(
    job: &Job,
    only: &[String],
    tell: impl FnMut(Step<'_>),
    mut take: impl FnMut(File) -> Result<(), E>,
) -> Result<(), E> {
    let documents = match only {
        [] => document::all(job),
        names => document::of_names(job, names),
    };
    let books_made = if only.is_empty() { 2 } else { documents.len() };
    let whole = usize::from(only.is_empty());
    let mut steps = Steps {
        number: 0,
        of: BOOK.len() * books_made + whole + documents.len(),
        tell,
    };
    if only.is_empty() {
        for (name, inside) in [("report", false), ("costs", true)] {
            let of_kind = documents.iter().filter(|it| it.inside == inside);
            let bound: Vec<Document> = of_kind.cloned().collect();
            books(job, name, &bound, &mut |what| steps.next(what), &mut take)?;
        }
        steps.next("report.json");
        let text = json::text(&Report::of(job)).map_err(ReportError::from)?;
        take(file("report.json", text.into_bytes()))?;
    } else {
        for document in &documents {
            books(
                job,
                document.name,
                std::slice::from_ref(document),
                &mut |what| steps.next(what),
                &mut take,
            )?;
        }
    }
    let mut made: BTreeSet<&str> = BTreeSet::new();
    for document in &documents {
        steps.next(&document.title);
        drawn_parts(document, &mut take)?;
        tables(document, &mut made, &mut take)?;
    }
    Ok(())
}

/// The files of [`each`], all at once.
///
/// # Errors
/// When a document can't be made.
pub fn files(job: &Job, only: &[String]) -> Result<Vec<File>, ReportError> {
    let mut files = Vec::new();
    each(
        job,
        only,
        |_| {},
        |file| {
            files.push(file);
            Ok::<(), ReportError>(())
        },
    )?;
    Ok(files)
}

/// The files of one document that stands for itself: in each format that people read, a CSV file
/// for each table, and the JSON object that holds the same.
///
/// # Errors
/// When the document can't be made.
pub fn document_files<T: Serialize>(
    job: &Job,
    document: &Document,
    object: &T,
) -> Result<Vec<File>, ReportError> {
    let mut files = Vec::new();
    let mut take = |file| {
        files.push(file);
        Ok::<(), ReportError>(())
    };
    let documents = std::slice::from_ref(document);
    books(job, document.name, documents, &mut |_| {}, &mut take)?;
    let object = json::text(object)?.into_bytes();
    take(file(format!("{}.json", document.name), object))?;
    tables(document, &mut BTreeSet::new(), &mut take)?;
    Ok(files)
}

fn file(name: impl Into<String>, bytes: Vec<u8>) -> File {
    File {
        name: name.into(),
        bytes,
    }
}

/// The documents bound together, in each format that people read, made side by side.
fn books<E: From<ReportError>>(
    job: &Job,
    name: &str,
    documents: &[Document],
    begin: &mut impl FnMut(&str),
    take: &mut impl FnMut(File) -> Result<(), E>,
) -> Result<(), E> {
    if documents.is_empty() {
        return Ok(());
    }
    let [pdf_file, xlsx_file, html_file] = BOOK.map(|ending| format!("{name}.{ending}"));
    let heading = &job.project.heading;
    let (title, date) = (&heading.title, heading.date);
    let paper = pdf::Paper::of(job.project.region);
    begin(&pdf_file);
    let (pdf, (xlsx, html)) = rayon::join(
        || pdf::write(title, documents, paper, date),
        || {
            rayon::join(
                || xlsx::write(title, documents, paper, date),
                || html::write(title, documents, paper),
            )
        },
    );
    take(file(pdf_file, pdf.map_err(ReportError::from)?))?;
    begin(&xlsx_file);
    take(file(xlsx_file, xlsx.map_err(ReportError::from)?))?;
    begin(&html_file);
    take(file(html_file, html.into_bytes()))
}

/// The drawings in a document's parts, each named for its part and that part's heading.
fn drawn_parts<E>(
    document: &Document,
    take: &mut impl FnMut(File) -> Result<(), E>,
) -> Result<(), E> {
    let parts = document.parts.iter();
    let drawn: Vec<(&Part, &Sheet)> = parts
        .filter_map(|part| part.drawing.as_ref().map(|sheet| (part, sheet)))
        .collect();
    let kinds: BTreeSet<&str> = drawn.iter().map(|(part, _)| part.name).collect();
    for kind in kinds {
        let of_kind = drawn.iter().filter(|(part, _)| part.name == kind);
        let of_kind: Vec<_> = of_kind.collect();
        let headings: Vec<&str> = of_kind.iter().map(|(_, it)| it.title.as_str()).collect();
        for (name, (part, sheet)) in file_names(kind, &headings).into_iter().zip(of_kind) {
            let surround = Surround {
                title: &part.heading,
                lines: &[&block_line(document), &document.title],
                cautions: &document.cautions,
            };
            let sheet = standing_alone((*sheet).clone(), &surround);
            take(file(format!("{name}.svg"), svg::write(&sheet).into_bytes()))?;
        }
    }
    Ok(())
}

/// A table that stands in two documents, such as the assumptions, is one file.
fn tables<'a, E: From<ReportError>>(
    document: &'a Document,
    made: &mut BTreeSet<&'a str>,
    take: &mut impl FnMut(File) -> Result<(), E>,
) -> Result<(), E> {
    for table in csv::files(document).map_err(ReportError::from)? {
        if made.insert(table.name) {
            let name = format!("{}.csv", table.name);
            take(file(name, table.text.into_bytes()))?;
        }
    }
    Ok(())
}
