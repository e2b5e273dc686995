//! Sheets bound into one file. Each is turned into a page of the PDF library and compressed as soon
//! as it is set, so that no more than a few are ever held in full.

use super::PdfError;
use super::counted::Used;
use super::draw;
use super::finish::compress;
use super::font::{Face, Fonts};
use super::mark::Mark;
use super::paper::Page;
use lopdf::{Dictionary, Document, Object, ObjectId, Stream};
use printpdf::{FontId, PdfDocument, PdfFont, PdfSaveOptions};
use rayon::prelude::*;
use std::collections::BTreeMap;

/// Sheets that are turned into pages in one go.
const AT_ONCE: usize = 24;

/// A sheet that was set, with its title block.
pub(super) type Set = (Page, Vec<Mark>);

/// A file that sheets are bound into.
pub(super) struct Binding {
    fonts: BTreeMap<FontId, PdfFont>,
    file: Document,
    /// What all pages refer to: the list that they are in, and their fonts.
    parent: ObjectId,
    resources: Object,
    /// The pages, in order.
    pub pages: Vec<ObjectId>,
}

impl Binding {
    /// An empty file that has the fonts, with the characters that will be used. `prepare` sets what
    /// the library is to write of the file as a whole.
    pub(super) fn new(
        title: &str,
        used: &Used,
        fonts: &Fonts,
        prepare: impl FnOnce(&mut PdfDocument),
    ) -> Result<Binding, PdfError> {
        let mut embedded = BTreeMap::new();
        for (face, characters) in used {
            embedded.insert(face.id(), fonts.subset(*face, characters)?);
        }
        let mut pdf = PdfDocument::new(title);
        prepare(&mut pdf);
        pdf.resources.fonts.map = embedded.clone();
        // The library embeds what some page uses: here one that is taken out again.
        pdf.with_pages(vec![draw::page(SPECIMEN, &specimen(used))]);
        let mut file = pdf.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
        let first = file.get_pages().into_values().next();
        let taken = first.and_then(|id| file.objects.remove(&id));
        let taken = taken.ok_or(PdfError::Page)?;
        let page = taken.as_dict()?;
        let parent = page.get(b"Parent")?.as_reference()?;
        let resources = page.get(b"Resources")?.clone();
        file.objects.remove(&page.get(b"Contents")?.as_reference()?);
        Ok(Binding {
            fonts: embedded,
            file,
            parent,
            resources,
            pages: Vec::new(),
        })
    }

    /// Adds sheets, turned into pages side by side.
    pub(super) fn add(&mut self, sheets: &[Set]) -> Result<(), PdfError> {
        let pages: Vec<Vec<(Dictionary, Stream)>> = sheets
            .par_chunks(AT_ONCE)
            .map(|few| self.as_pages(few))
            .collect::<Result<_, _>>()?;
        for (mut page, contents) in pages.into_iter().flatten() {
            let contents = self.file.add_object(contents);
            page.set("Contents", Object::Reference(contents));
            page.set("Parent", Object::Reference(self.parent));
            page.set("Resources", self.resources.clone());
            let id = self.file.add_object(page);
            self.pages.push(id);
        }
        Ok(())
    }

    /// Pages with their contents; they refer to things of a file of their own.
    fn as_pages(&self, sheets: &[Set]) -> Result<Vec<(Dictionary, Stream)>, PdfError> {
        let mut pdf = PdfDocument::new("");
        pdf.resources.fonts.map = self.fonts.clone();
        let drawn = sheets.iter().map(|(page, marks)| draw::page(*page, marks));
        pdf.with_pages(drawn.collect());
        let mut file = pdf.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
        let mut pages = Vec::new();
        for id in file.get_pages().into_values() {
            let page = file.get_dictionary(id)?.clone();
            let contents = page.get(b"Contents")?.as_reference()?;
            match file.objects.remove(&contents) {
                Some(Object::Stream(mut stream)) => {
                    compress(&mut stream)?;
                    pages.push((page, stream));
                }
                _ => return Err(PdfError::Page),
            }
        }
        Ok(pages)
    }

    /// The file with all its pages.
    pub(super) fn bound(self) -> Result<(Document, Vec<ObjectId>), PdfError> {
        let Binding {
            mut file,
            parent,
            pages,
            ..
        } = self;
        let count = i64::try_from(pages.len()).unwrap_or(i64::MAX);
        let list = file.get_object_mut(parent)?.as_dict_mut()?;
        list.set("Count", count);
        let kids = pages.iter().map(|id| Object::Reference(*id));
        list.set("Kids", kids.collect::<Vec<_>>());
        Ok((file, pages))
    }
}

/// The size of a page that nobody sees.
const SPECIMEN: Page = Page {
    width: 100.0,
    height: 100.0,
};

/// Every character that will be used, in its face.
fn specimen(used: &Used) -> Vec<Mark> {
    let lines = used
        .iter()
        .map(|(face, characters): (&Face, _)| Mark::Text {
            x: 0.0,
            y: 0.0,
            size: 1.0,
            face: *face,
            text: characters.iter().collect(),
        });
    lines.collect()
}
