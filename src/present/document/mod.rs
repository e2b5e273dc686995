//! A document as titled sections of typed cells. Builders, one file a document, fill it from the
//! results; writers, one file a format beside this folder, show it.

mod addresses;
pub mod along;
mod as_built;
mod assumptions;
mod cables;
pub mod catalogue;
pub mod cell;
pub mod changes;
mod checks;
mod circuits;
mod commissioning;
pub mod comparison;
mod cutting;
mod drivers;
mod feed_points;
mod feet;
mod handover;
mod labels;
pub(in crate::present) mod lacking;
mod list;
mod loops;
mod materials;
mod one_line;
mod order;
mod places;
mod quote;
pub mod readings;
mod room_scenes;
mod rules;
mod runs;
mod safety;
mod scenes;
mod scope;
pub mod site_tests;
mod summary;
pub mod table;
mod terms;
pub mod tolerance;
mod untold;
mod verdicts;
mod whites;
mod work;

pub(crate) use checks::bound_words;
pub(crate) use circuits::protection as protection_of;
pub(crate) use cutting::{ends as cut_ends, kept as offcut_kept, marks as cut_marks, stock_word};
pub use list::{DOCUMENTS, Listed, all, named, of_names};
pub use quote::headline;
pub(crate) use quote::unit as unit_of;
pub(crate) use scope::lines as scope_of;

use crate::present::drawing::sheet::Sheet;
use crate::present::money::Grouping;
use crate::quantity::figure::{Figure, Unit};
use rust_decimal::Decimal;

/// What one cell holds.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// Text.
    Text(String),
    /// A number with its unit.
    Figure(Figure),
    /// An amount of money in the document's currency.
    Money(Decimal),
    /// An exact decimal quantity.
    Decimal(Decimal),
    /// A verdict's word: holds, broken, cannot tell.
    Verdict(&'static str),
    /// A value that is not known, and why. Shown as `?` with a numbered note.
    Unknown(String),
    /// To be written in by hand on site.
    Blank,
    /// Nothing belongs here.
    Empty,
}

/// How a column is set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Align {
    /// Text: to the left.
    Left,
    /// Numbers: to the right.
    Right,
}

/// A column.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Stable key, snake_case with unit suffix, for CSV headings.
    pub key: String,
    /// Heading for people, without the unit.
    pub heading: String,
    /// Unit of all its figures; printed once in the heading.
    pub unit: Option<Unit>,
    /// Alignment.
    pub align: Align,
    /// Share of spare width it takes in the PDF and on the terminal; 0: as narrow as its cells.
    pub stretch: u8,
    /// Where it is shown.
    pub showing: Showing,
}

/// Where a column is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Showing {
    /// Wherever the table is.
    Always,
    /// Everywhere but on a terminal too narrow for it.
    WhenWide,
    /// In files that programs read; print has it in the part's heading.
    DataOnly,
    /// On paper: to be written in by hand.
    PaperOnly,
}

/// What kind of row it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowKind {
    /// An ordinary row.
    Body,
    /// A heading across a group of rows; only the first cell is used.
    Group,
    /// A total.
    Total,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its kind.
    pub kind: RowKind,
    /// Its cells, one a column (one alone for a group).
    pub cells: Vec<Cell>,
}

/// A table.
#[derive(Debug, Clone, PartialEq)]
pub struct Table {
    /// Columns.
    pub columns: Vec<Column>,
    /// Rows.
    pub rows: Vec<Row>,
}

/// A titled part of a document.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Part {
    /// Name of its table, by which CSV files are named; parts of one name have the same columns
    /// and go into one file.
    pub name: &'static str,
    /// Heading; empty for none.
    pub heading: String,
    /// Whether it begins on a sheet of its own.
    pub new_sheet: bool,
    /// Whether its drawing is made smaller to stand on what is left of the sheet, as far as it stays
    /// readable.
    pub fills_sheet: bool,
    /// Paragraphs before the table.
    pub text: Vec<String>,
    /// The table, if any.
    pub table: Option<Table>,
    /// A drawing before the table, bare: the sheet that it stands on has title block and cautions.
    pub drawing: Option<Sheet>,
    /// Notes after the table.
    pub notes: Vec<String>,
    /// For rows of long text: how many leading cells head the block of lines that the terminal
    /// makes of each row; 0: it makes a table.
    pub block_head: usize,
}

/// What the title block of every document says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct TitleBlock {
    /// Project title.
    pub project: String,
    /// Reference.
    pub reference: String,
    /// Revision.
    pub revision: String,
    /// Date, as the region writes it.
    pub date: String,
    /// Prepared by.
    pub prepared_by: String,
    /// Customer.
    pub customer: String,
    /// Region.
    pub region: String,
    /// How that groups the digits of amounts.
    pub grouping: Grouping,
}

/// A document.
#[derive(Debug, Clone, PartialEq)]
pub struct Document {
    /// File name without ending: `run-schedule`.
    pub name: &'static str,
    /// Title.
    pub title: String,
    /// Title block.
    pub block: TitleBlock,
    /// Currency code of its money cells.
    pub currency: String,
    /// Decimals of that currency.
    pub decimals: u32,
    /// Whether it shows costs and margins, which a customer is not shown.
    pub inside: bool,
    /// Parts, in order.
    pub parts: Vec<Part>,
    /// Cautions, printed in a frame on every sheet that someone wires from.
    pub cautions: Vec<String>,
}
