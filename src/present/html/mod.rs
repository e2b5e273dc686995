//! Documents as one file for a browser: nothing is fetched, nothing runs, and it can be printed.
//! On a narrow screen each row of a table becomes a card that names its figures.

mod escape;
mod style;
mod table;

use super::document::{Document, Part, TitleBlock};
use super::pdf::Paper;
use super::shown::{self, Notes};
use super::svg;
use escape::{escaped, push_element};
use std::borrow::Borrow;
use std::io::{Result, Write};

/// Documents on one page, one under the other, with their contents first.
pub struct WebPage<'a> {
    /// Title of the whole.
    pub title: &'a str,
    /// The documents, in order.
    pub documents: Vec<&'a Document>,
    /// What it is printed on.
    pub paper: Paper,
}

impl WebPage<'_> {
    /// Writes the file, part by part; `done` hears of each document that is written.
    ///
    /// # Errors
    /// When `out` takes no more.
    pub fn write(&self, out: &mut dyn Write, done: &(dyn Fn(&Document) + Sync)) -> Result<()> {
        let mut text = format!(
            "<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\"/>\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n\
             <meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src \
             'unsafe-inline'\"/>\n\
             <title>{}</title>\n<style>\n{}</style>\n</head>\n<body>\n",
            escaped(self.title),
            style::sheet(self.paper)
        );
        if let Some(document) = self.documents.first() {
            push_title_block(&mut text, &document.block);
        }
        push_contents(&mut text, &self.documents);
        text.push_str("<main>\n");
        for document in &self.documents {
            push_heading(&mut text, document);
            for part in document.parts.iter().filter(|part| !shown::is_empty(part)) {
                push_part(&mut text, document, part);
                out.write_all(text.as_bytes())?;
                text.clear();
            }
            push_cautions(&mut text, &document.cautions);
            text.push_str("</article>\n");
            done(document);
        }
        text.push_str("</main>\n</body>\n</html>\n");
        out.write_all(text.as_bytes())
    }
}

/// The text of [`WebPage::write`].
#[must_use]
pub fn write<D: Borrow<Document>>(title: &str, documents: &[D], paper: Paper) -> String {
    let page = WebPage {
        title,
        documents: documents.iter().map(Borrow::borrow).collect(),
        paper,
    };
    let mut bytes = Vec::new();
    // Memory takes everything.
    let _ = page.write(&mut bytes, &|_| {});
    String::from_utf8_lossy(&bytes).into_owned()
}

fn push_title_block(out: &mut String, block: &TitleBlock) {
    out.push_str("<header>\n");
    push_element(out, "h1", "", &block.project);
    out.push_str("<dl>\n");
    let fields = [
        ("For", &block.customer),
        ("Reference", &block.reference),
        ("Revision", &block.revision),
        ("Date", &block.date),
        ("Prepared by", &block.prepared_by),
        ("Region", &block.region),
    ];
    for (label, value) in fields.into_iter().filter(|(_, value)| !value.is_empty()) {
        out.push_str("<div>");
        push_element(out, "dt", "", label);
        push_element(out, "dd", "", value);
        out.push_str("</div>\n");
    }
    out.push_str("</dl>\n</header>\n");
}

fn push_contents(out: &mut String, documents: &[&Document]) {
    out.push_str("<nav aria-label=\"Contents\">\n<ol>\n");
    for document in documents {
        let title = escaped(&document.title);
        out.push_str(&format!(
            "<li><a href=\"#{}\">{title}</a></li>\n",
            document.name
        ));
    }
    out.push_str("</ol>\n</nav>\n");
}

fn push_heading(out: &mut String, document: &Document) {
    out.push_str(&format!("<article id=\"{}\">\n", document.name));
    push_element(out, "h2", "", &document.title);
    // For paper and for who was sent straight here.
    push_element(out, "p", "block", &shown::block_line(document));
}

fn push_part(out: &mut String, document: &Document, part: &Part) {
    out.push_str("<section>\n");
    if !part.heading.is_empty() {
        push_element(out, "h3", "", &part.heading);
    }
    for text in &part.text {
        push_element(out, "p", "", text);
    }
    if let Some(drawing) = &part.drawing {
        out.push_str("<figure>\n");
        out.push_str(&svg::element(drawing));
        out.push_str("</figure>\n");
    }
    let mut notes = Notes::default();
    if let Some(it) = part.table.as_ref().filter(|it| !it.rows.is_empty()) {
        table::push(out, it, document.decimals, &mut notes);
    }
    for note in notes.lines().chain(part.notes.iter().cloned()) {
        push_element(out, "p", "note", &note);
    }
    out.push_str("</section>\n");
}

fn push_cautions(out: &mut String, cautions: &[String]) {
    if cautions.is_empty() {
        return;
    }
    out.push_str("<aside>\n<h3>Before you wire from this sheet</h3>\n<ul>\n");
    for caution in cautions {
        push_element(out, "li", "", caution);
    }
    out.push_str("</ul>\n</aside>\n");
}
