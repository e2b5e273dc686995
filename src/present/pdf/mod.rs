//! Documents on paper, as PDF: one quiet layout, the same bytes for the same job.

mod columns;
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
use finish::Bookmark;
use flow::Sheet;
use font::{Face, Fonts};
use mark::Mark;
use press::Press;
use printpdf::{OffsetDateTime, PdfDocument, PdfSaveOptions};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
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
    /// The bytes can't be put together.
    #[error("the document can't be put together")]
    Write(#[source] std::io::Error),
}

/// Sets documents side by side; sheets are numbered through. `date` is the project's: the
/// file carries no other.
///
/// # Errors
/// When the font or the PDF library fails, which is a fault of this program.
pub fn write(
    title: &str,
    documents: &[Document],
    paper: Paper,
    date: Option<Date>,
) -> Result<Vec<u8>, PdfError> {
    let fonts = Fonts::load()?;
    let set: Vec<(&Document, Vec<Sheet>)> = documents
        .par_iter()
        .map(|document| (document, flow::sheets(document, paper, &fonts)))
        .collect();
    let bookmarks = bookmarks(&set);
    let sheets = with_title_blocks(set, &mut Press::new(&fonts));
    let mut pdf = PdfDocument::new(title);
    embed_fonts(&mut pdf, &sheets, &fonts)?;
    date_it(&mut pdf, date);
    pdf.metadata.info.producer = format!("feedpoint {}", env!("CARGO_PKG_VERSION"));
    pdf.metadata.info.creator = "feedpoint".to_owned();
    let pages = sheets
        .par_iter()
        .map(|(page, marks)| draw::page(*page, marks))
        .collect();
    pdf.with_pages(pages);
    let file = pdf.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
    finish::finish(file, &bookmarks, date.is_some())
}

fn bookmarks(set: &[(&Document, Vec<Sheet>)]) -> Vec<Bookmark> {
    let mut first = 0;
    let mut bookmarks = Vec::new();
    for (document, sheets) in set {
        let under = (first..)
            .zip(sheets)
            .flat_map(|(sheet, it)| it.headings.iter().map(move |text| (sheet, text)))
            .map(|(sheet, text)| Bookmark {
                text: text.clone(),
                sheet,
                under: Vec::new(),
            })
            .collect();
        bookmarks.push(Bookmark {
            text: document.title.clone(),
            sheet: first,
            under,
        });
        first += sheets.len();
    }
    bookmarks
}

/// Every sheet with its title block, which comes first so that it is read first.
fn with_title_blocks(
    set: Vec<(&Document, Vec<Sheet>)>,
    press: &mut Press,
) -> Vec<(paper::Page, Vec<Mark>)> {
    let count = set.iter().map(|(_, sheets)| sheets.len()).sum();
    let mut number = 0;
    let mut done = Vec::new();
    for (document, sheets) in set {
        for sheet in sheets {
            number += 1;
            let title = frame::title_block(document, sheet.page, number, count, press);
            let mut marks = title.marks;
            marks.extend(sheet.marks);
            done.push((sheet.page, marks));
        }
    }
    done
}

fn embed_fonts(
    pdf: &mut PdfDocument,
    sheets: &[(paper::Page, Vec<Mark>)],
    fonts: &Fonts,
) -> Result<(), PdfError> {
    let mut used: BTreeMap<Face, BTreeSet<char>> = BTreeMap::new();
    for mark in sheets.iter().flat_map(|(_, marks)| marks) {
        if let Mark::Text { face, text, .. } = mark {
            used.entry(*face).or_default().extend(text.chars());
        }
    }
    for (face, characters) in &used {
        let font = fonts.subset(*face, characters)?;
        pdf.resources.fonts.map.insert(face.id(), font);
    }
    Ok(())
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
