//! Documents on paper, as PDF: one quiet layout, the same bytes for the same job.

mod binding;
mod columns;
mod counted;
mod draw;
mod finish;
mod flow;
mod font;
mod frame;
mod mark;
mod paper;
mod picture;
mod press;
mod table;

pub use paper::Paper;

use super::document::Document;
use binding::{Binding, Set};
use counted::{Counted, used_in_all};
use finish::Bookmark;
use flow::Sheet;
use font::Fonts;
use press::Press;
use printpdf::{OffsetDateTime, PdfDocument};
use rayon::prelude::*;
use std::borrow::Borrow;
use std::io::Write;
use time::Date;

/// Why no PDF could be made.
#[derive(Debug, thiserror::Error)]
pub enum PdfError {
    /// The font that is built in can't be read or cut down.
    #[error("the built-in font can't be used")]
    Font,
    /// The file's structure is not as it should be.
    #[error("the document's structure is broken")]
    Structure(#[from] lopdf::Error),
    /// A page is not as the library makes them.
    #[error("a page's structure is broken")]
    Page,
    /// The bytes can't be put together.
    #[error("the document can't be put together")]
    Write(#[source] std::io::Error),
}

/// Documents that are bound into one file, their sheets numbered through.
pub struct Book<'a> {
    /// Title of the whole.
    pub title: &'a str,
    /// The documents, in order.
    pub documents: Vec<&'a Document>,
    /// What it is printed on.
    pub paper: Paper,
    /// The project's date: the file carries no other.
    pub date: Option<Date>,
}

/// Sheets that are drawn in one go.
const AT_ONCE: usize = 256;

impl Book<'_> {
    /// Writes the file; `done` hears of each document that is drawn.
    ///
    /// # Errors
    /// When `out` takes no more, or when the font or the PDF library fails, which is a fault of this
    /// program.
    pub fn write(
        &self,
        out: &mut dyn Write,
        done: &(dyn Fn(&Document) + Sync),
    ) -> Result<(), PdfError> {
        let fonts = Fonts::load()?;
        let documents = self.documents.par_iter();
        let mut counted: Vec<Counted> = documents
            .map(|document| Counted::of(document, self.paper, &fonts))
            .collect();
        let bookmarks = bookmarks(&counted);
        let count = counted.iter().map(|it| it.sheets).sum();
        let used = used_in_all(&counted);
        let mut binding = Binding::new(self.title, &used, &fonts, |pdf| {
            date_it(pdf, self.date);
            pdf.metadata.info.producer = format!("feedpoint {}", env!("CARGO_PKG_VERSION"));
            pdf.metadata.info.creator = "feedpoint".to_owned();
        })?;
        let mut press = Press::new(&fonts);
        let mut number = 0;
        let mut waiting = Vec::new();
        for it in &mut counted {
            let document = it.document;
            let mut added = Ok(());
            it.each(self.paper, &fonts, |sheet| {
                number += 1;
                waiting.push(titled(document, sheet, (number, count), &mut press));
                if waiting.len() >= AT_ONCE && added.is_ok() {
                    added = binding.add(&waiting);
                    waiting.clear();
                }
            });
            added?;
            done(document);
        }
        binding.add(&waiting)?;
        let (file, pages) = binding.bound()?;
        finish::finish(file, &pages, &bookmarks, self.date.is_some(), out)
    }
}

/// The bytes of [`Book::write`].
///
/// # Errors
/// When the font or the PDF library fails, which is a fault of this program.
pub fn write<D: Borrow<Document>>(
    title: &str,
    documents: &[D],
    paper: Paper,
    date: Option<Date>,
) -> Result<Vec<u8>, PdfError> {
    let book = Book {
        title,
        documents: documents.iter().map(Borrow::borrow).collect(),
        paper,
        date,
    };
    let mut bytes = Vec::new();
    book.write(&mut bytes, &|_| {})?;
    Ok(bytes)
}

fn bookmarks(counted: &[Counted]) -> Vec<Bookmark> {
    let mut first = 0;
    let mut bookmarks = Vec::new();
    for it in counted {
        let under = it.headings.iter().map(|(sheet, text)| Bookmark {
            text: text.clone(),
            sheet: first + sheet,
            under: Vec::new(),
        });
        bookmarks.push(Bookmark {
            text: it.document.title.clone(),
            sheet: first,
            under: under.collect(),
        });
        first += it.sheets;
    }
    bookmarks
}

/// A sheet with its title block, which comes first so that it is read first.
fn titled(
    document: &Document,
    sheet: Sheet,
    (number, count): (usize, usize),
    press: &mut Press,
) -> Set {
    let title = frame::title_block(document, sheet.page, number, count, press);
    let mut marks = title.marks;
    marks.extend(sheet.marks);
    (sheet.page, marks)
}

fn date_it(pdf: &mut PdfDocument, date: Option<Date>) {
    let Some(date) = date else { return };
    let seconds = date.midnight().assume_utc().unix_timestamp();
    if let Ok(moment) = OffsetDateTime::from_unix_timestamp(seconds) {
        pdf.metadata.info.creation_date = moment;
        pdf.metadata.info.modification_date = moment;
        pdf.metadata.info.metadata_date = moment;
    }
}
