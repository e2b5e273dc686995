//! How cells look. Nothing is told by colour.

use crate::quantity::figure::Unit;
use rust_xlsxwriter::{Format, FormatAlign, FormatBorder};

/// Type of what is said under a table, in points.
const PARAGRAPH: f64 = 9.0;

/// What row a cell is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Weight {
    Ordinary,
    Total,
}

pub(super) fn heading() -> Format {
    Format::new()
        .set_bold()
        .set_text_wrap()
        .set_align(FormatAlign::Bottom)
        .set_border_bottom(FormatBorder::Medium)
}

/// Headings of text, clear of the numbers to their left as the text is.
pub(super) fn text_heading() -> Format {
    heading().set_align(FormatAlign::Left).set_indent(1)
}

/// Headings of numbers stand over them.
pub(super) fn number_heading() -> Format {
    heading().set_align(FormatAlign::Right)
}

fn base(weight: Weight) -> Format {
    let format = Format::new().set_align(FormatAlign::Top);
    match weight {
        Weight::Ordinary => format,
        Weight::Total => format.set_bold().set_border_top(FormatBorder::Thin),
    }
}

/// Text. What begins as a formula would is marked as text, so that it stays text when someone
/// goes into the cell.
pub(super) fn text(weight: Weight, text: &str) -> Format {
    let format = base(weight)
        .set_text_wrap()
        .set_align(FormatAlign::Left)
        .set_indent(1);
    if text.starts_with(['=', '+', '-', '@']) {
        format.set_quote_prefix()
    } else {
        format
    }
}

/// A value that is not known stands where the number would.
pub(super) fn unknown(weight: Weight) -> Format {
    base(weight).set_align(FormatAlign::Right)
}

/// A number with so many decimals, its unit after it where the heading does not have it.
pub(super) fn number(weight: Weight, decimals: usize, unit: Option<Unit>) -> Format {
    let mut pattern = if decimals == 0 {
        "0".to_owned()
    } else {
        format!("0.{}", "0".repeat(decimals))
    };
    if let Some(sign) = unit.map(Unit::sign).filter(|sign| !sign.is_empty()) {
        pattern.push_str(&format!("\" {sign}\""));
    }
    base(weight).set_num_format(pattern)
}

/// A number as it is.
pub(super) fn plain_number(weight: Weight) -> Format {
    base(weight)
}

pub(super) fn blank(weight: Weight) -> Format {
    base(weight)
}

/// To be written into.
pub(super) fn by_hand() -> Format {
    Format::new().set_border_bottom(FormatBorder::Hair)
}

pub(super) fn title() -> Format {
    Format::new().set_bold().set_font_size(14)
}

pub(super) fn strong() -> Format {
    Format::new().set_bold().set_align(FormatAlign::Top)
}

/// A paragraph over several columns.
pub(super) fn paragraph() -> Format {
    Format::new()
        .set_text_wrap()
        .set_font_size(PARAGRAPH)
        .set_align(FormatAlign::Top)
        .set_align(FormatAlign::Left)
}

/// A caution: in a frame.
pub(super) fn caution() -> Format {
    paragraph().set_border(FormatBorder::Thin)
}
