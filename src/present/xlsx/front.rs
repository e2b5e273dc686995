//! The first sheet: what the workbook is of, and where in it things are.

use super::gather::Schedule;
use super::style;
use super::text;
use crate::present::document::Document;
use crate::present::pdf::Paper;
use rust_xlsxwriter::{Url, Workbook, XlsxError};

/// Its name.
pub(super) const NAME: &str = "Contents";

/// Adds it.
pub(super) fn add(
    book: &mut Workbook,
    documents: &[&Document],
    schedules: &[Schedule],
    paper: Paper,
) -> Result<(), XlsxError> {
    let sheet = book.add_worksheet();
    sheet.set_name(NAME)?;
    super::sheet::set_paper(sheet, paper);
    sheet.set_column_width(0, 26)?;
    sheet.set_column_width(1, 30)?;
    sheet.set_column_width(2, 50)?;
    let mut row = 0;
    if let Some(document) = documents.first() {
        let block = &document.block;
        sheet.write_string_with_format(row, 0, text(&block.project), &style::title())?;
        row += 1;
        let fields = [
            ("For", &block.customer),
            ("Reference", &block.reference),
            ("Revision", &block.revision),
            ("Date", &block.date),
            ("Prepared by", &block.prepared_by),
            ("Region", &block.region),
            ("Currency", &document.currency),
        ];
        for (label, value) in fields.into_iter().filter(|(_, value)| !value.is_empty()) {
            sheet.write_string_with_format(row, 0, label, &style::strong())?;
            let value = text(value);
            sheet.write_string_with_format(row, 1, &value, &left(&value))?;
            row += 1;
        }
        row += 1;
    }
    for (column, heading) in [(0, "Sheet"), (1, "Document"), (2, "What is on it")] {
        sheet.write_string_with_format(row, column, heading, &style::heading())?;
    }
    for schedule in schedules {
        row += 1;
        let there = Url::new(format!("internal:'{}'!A1", schedule.name)).set_text(&schedule.name);
        sheet.write_url(row, 0, there)?;
        sheet.write_string(row, 1, text(&schedule.document.title))?;
        let headings = schedule.parts.iter().map(|part| part.heading.as_str());
        if let Some(heading) = headings.into_iter().find(|heading| !heading.is_empty()) {
            let heading = text(heading);
            sheet.write_string_with_format(row, 2, &heading, &left(&heading))?;
        }
    }
    row += 2;
    let said = "Totals are formulas over the rows above them. A value that is not known is ?, and \
                the last column says why.";
    sheet.write_string(row, 0, said)?;
    Ok(())
}

fn left(text: &str) -> rust_xlsxwriter::Format {
    style::text(style::Weight::Ordinary, text)
}
