//! What a report is made of: each makes its files by itself.

use super::steps::Steps;
use super::{ReportError, Shelf};
use crate::present::document::{Document, Part};
use crate::present::drawing::alone::{Surround, standing_alone};
use crate::present::drawing::sheet::Sheet;
use crate::present::file_name::file_names;
use crate::present::html::WebPage;
use crate::present::job::Job;
use crate::present::pdf::{Book, Paper};
use crate::present::shown::block_line;
use crate::present::{csv, svg, xlsx};
use std::collections::BTreeSet;
use std::io::Write;
use time::Date;

/// Documents that are bound together.
pub(super) struct Volume<'a> {
    /// Its files' name without ending.
    name: &'a str,
    title: &'a str,
    date: Option<Date>,
    paper: Paper,
    pub documents: Vec<&'a Document>,
}

/// How documents are bound together.
#[derive(Debug, Clone, Copy)]
pub(super) enum Format {
    Pdf,
    Workbook,
    WebPage,
}

impl Format {
    const ALL: [Format; 3] = [Format::Pdf, Format::Workbook, Format::WebPage];

    fn ending(self) -> &'static str {
        match self {
            Format::Pdf => "pdf",
            Format::Workbook => "xlsx",
            Format::WebPage => "html",
        }
    }
}

/// Writes something.
pub(super) type WriteTo<'a> = dyn Fn(&mut dyn Write) -> Result<(), ReportError> + Sync + 'a;

/// One of the things that are made side by side.
pub(super) enum Making<'a> {
    /// A volume in one of the formats that people read.
    Bound(&'a Volume<'a>, Format),
    /// Results as JSON, under a name without ending.
    Results(&'a str, &'a WriteTo<'a>),
    /// The drawings of a document, and those of its tables that have these names.
    Loose(&'a Document, BTreeSet<&'a str>),
}

impl<'a> Volume<'a> {
    pub(super) fn new(job: &'a Job, name: &'a str, documents: Vec<&'a Document>) -> Volume<'a> {
        let heading = &job.project.heading;
        Volume {
            name,
            title: &heading.title,
            date: heading.date,
            paper: Paper::of(job.project.region),
            documents,
        }
    }

    /// Writes the file of that name in a format.
    fn write(
        &self,
        format: Format,
        name: &str,
        steps: &Steps,
        out: &mut dyn Write,
    ) -> Result<(), ReportError> {
        let done = |document: &Document| steps.done(&format!("{name}, {}", document.title));
        let documents = self.documents.clone();
        let Volume {
            title, paper, date, ..
        } = *self;
        match format {
            Format::Pdf => Book {
                title,
                documents,
                paper,
                date,
            }
            .write(out, &done)?,
            Format::WebPage => WebPage {
                title,
                documents,
                paper,
            }
            .write(out, &done)?,
            Format::Workbook => {
                out.write_all(&xlsx::write(title, &documents, paper, date)?)?;
                steps.done(name);
            }
        }
        Ok(())
    }
}

impl<'a> Making<'a> {
    /// A volume in each format that people read.
    pub(super) fn volume(volume: &'a Volume<'a>) -> [Making<'a>; 3] {
        Format::ALL.map(|format| Making::Bound(volume, format))
    }

    /// How many steps it takes.
    pub(super) fn steps(&self) -> usize {
        match self {
            Making::Bound(volume, Format::Pdf | Format::WebPage) => volume.documents.len(),
            Making::Bound(_, Format::Workbook) | Making::Results(..) | Making::Loose(..) => 1,
        }
    }

    /// Makes it; the names of its files.
    pub(super) fn make<S: Shelf>(&self, shelf: &S, steps: &Steps) -> Result<Vec<String>, S::Error> {
        match self {
            Making::Bound(volume, format) => {
                let name = format!("{}.{}", volume.name, format.ending());
                shelf.take(&name, &mut |out| volume.write(*format, &name, steps, out))?;
                Ok(vec![name])
            }
            Making::Results(name, write) => {
                let name = format!("{name}.json");
                shelf.take(&name, &mut |out| write(out))?;
                steps.done(&name);
                Ok(vec![name])
            }
            Making::Loose(document, own) => {
                let mut names = drawings(document, shelf)?;
                names.extend(tables(document, own, shelf)?);
                steps.done(&document.title);
                Ok(names)
            }
        }
    }
}

fn put<S: Shelf>(shelf: &S, name: &str, bytes: &[u8]) -> Result<(), S::Error> {
    shelf.take(name, &mut |out| Ok(out.write_all(bytes)?))
}

/// The drawings in a document's parts, each named for its part and that part's heading.
fn drawings<S: Shelf>(document: &Document, shelf: &S) -> Result<Vec<String>, S::Error> {
    let parts = document.parts.iter();
    let drawn: Vec<(&Part, &Sheet)> = parts
        .filter_map(|part| part.drawing.as_ref().map(|sheet| (part, sheet)))
        .collect();
    let kinds: BTreeSet<&str> = drawn.iter().map(|(part, _)| part.name).collect();
    let mut names = Vec::new();
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
            let name = format!("{name}.svg");
            put(shelf, &name, svg::write(&sheet).as_bytes())?;
            names.push(name);
        }
    }
    Ok(names)
}

/// Those tables of a document that have these names.
fn tables<S: Shelf>(
    document: &Document,
    own: &BTreeSet<&str>,
    shelf: &S,
) -> Result<Vec<String>, S::Error> {
    let mut names = Vec::new();
    for table in csv::files(document).map_err(ReportError::from)? {
        if own.contains(table.name) {
            let name = format!("{}.csv", table.name);
            put(shelf, &name, table.text.as_bytes())?;
            names.push(name);
        }
    }
    Ok(names)
}
