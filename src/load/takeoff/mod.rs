//! A take-off → runs of a project, with nothing of it lost.
//!
//! A file goes through `sheet.rs` (bytes → rows of cells), `headings.rs` (which row names the
//! columns, what each column holds, in which unit) and `rows.rs` (each row → runs, a total, a room's
//! heading …). Every row ends as one [`Fate`]; what a cell says that can't be read is listed with
//! row, column and text. Nothing is guessed that could be two things: a bare `12.4` has no unit
//! until a heading or the user gives one, and `1,234` is read only where the sheet shows what its
//! comma means.

mod cell;
mod delimited;
pub mod fields;
mod figure;
pub mod headings;
mod matched;
mod rows;
mod sheet;
mod totals;
mod workbook;
mod written;

pub use cell::is_flow;
pub use fields::FieldUnit;
pub use figure::DecimalSign;
pub use written::written;

use crate::diagnostic::Diagnostic;
use crate::model::catalogue::Catalogue;
use headings::Columns;
use sheet::Sheet;
use std::path::Path;

/// What the user says of a take-off that it does not say itself.
#[derive(Debug, Clone, Default)]
pub struct Asked {
    /// Which heading holds which key: `("length", "Lfd m")`.
    pub map: Vec<(String, String)>,
    /// The sheet of a workbook.
    pub sheet: Option<String>,
    /// The unit of bare lengths in columns whose heading has none.
    pub unit: Option<FieldUnit>,
    /// What parts a number's whole from its fraction.
    pub decimal: Option<DecimalSign>,
}

/// A take-off as read.
#[derive(Debug, Clone, PartialEq)]
pub struct TakeOff {
    /// The file, as it is spoken of.
    pub file: String,
    /// The sheet of a workbook.
    pub sheet: Option<String>,
    /// What each column was read as.
    pub columns: Vec<ReadColumn>,
    /// What became of each row that holds anything, in order.
    pub rows: Vec<ReadRow>,
    /// The runs, in order.
    pub runs: Vec<TakenRun>,
    /// Cells that could not be read, in order.
    pub unread: Vec<UnreadCell>,
    /// What was filled in that the row itself does not say.
    pub filled: Vec<Filled>,
}

/// What a column was read as.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ReadColumn {
    /// Its letter in a spreadsheet: `A`.
    pub column: String,
    /// Its heading as written.
    pub heading: String,
    /// The key of a run that it gives; `None` when it is kept as a remark.
    pub key: Option<&'static str>,
    /// The unit its bare numbers are in.
    pub unit: Option<FieldUnit>,
}

/// A row, and what became of it.
#[derive(Debug, Clone, PartialEq)]
pub struct ReadRow {
    /// Its number in the file, from 1.
    pub number: usize,
    /// What became of it.
    pub fate: Fate,
}

/// What became of a row.
#[derive(Debug, Clone, PartialEq)]
pub enum Fate {
    /// It stands above the headings.
    Title(String),
    /// It names the columns.
    Headings,
    /// It gives the units of the columns.
    Units,
    /// It names the room of the rows after it.
    Room(String),
    /// It is a total of the rows above it; `disagrees` says how it differs from their sum.
    Total {
        /// Its text.
        text: String,
        /// How it differs from what the rows above add up to.
        disagrees: Option<String>,
    },
    /// It became this many runs.
    Runs(usize),
    /// It has text, and none of it in a column that a run is made from.
    Remark(String),
}

/// A run as taken off: keys of the project file with values in its words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenRun {
    /// The row it stands in.
    pub row: usize,
    /// Keys and values, in the order of the project file.
    pub keys: Vec<(&'static str, String)>,
    /// What the row says besides: heading and text.
    pub remarks: Vec<(String, String)>,
    /// What a run can't do without and this one lacks.
    pub lacks: Vec<Lack>,
    /// Cells of its row that could not be read: heading and text.
    pub unread: Vec<(String, String)>,
}

impl TakenRun {
    /// The value under a key.
    #[must_use]
    pub fn value(&self, key: &str) -> Option<&str> {
        let found = self.keys.iter().find(|(own, _)| *own == key);
        found.map(|(_, value)| value.as_str())
    }
}

/// What a run lacks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lack {
    /// The key that would give it.
    pub key: &'static str,
    /// What would be right.
    pub cure: String,
}

/// A cell that could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnreadCell {
    /// Its row, from 1.
    pub row: usize,
    /// Its column's letter.
    pub column: String,
    /// Its column's heading.
    pub heading: String,
    /// Its text.
    pub text: String,
    /// Why it could not be read, and what would be right.
    pub why: String,
}

/// Something filled in that a row does not say itself.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Filled {
    /// The row.
    pub row: usize,
    /// The key.
    pub key: &'static str,
    /// The value.
    pub value: String,
    /// Where it is from.
    pub from: String,
}

impl TakeOff {
    /// Whether every run has what it needs and every cell was read, and totals agree.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        let disagrees = |row: &ReadRow| {
            matches!(
                row.fate,
                Fate::Total {
                    disagrees: Some(_),
                    ..
                }
            )
        };
        self.unread.is_empty()
            && self.runs.iter().all(|run| run.lacks.is_empty())
            && !self.rows.iter().any(disagrees)
    }
}

/// Reads a take-off from a file. `catalogue` gives the ids that strips are matched against.
///
/// # Errors
/// When the file is no table, when no row of it names columns that a run has, or when what is
/// asked does not fit it.
pub fn read(
    path: &str,
    asked: &Asked,
    catalogue: Option<&Catalogue>,
) -> Result<TakeOff, Diagnostic> {
    let bytes = if path == "-" {
        super::file::bytes_of_standard_input()?
    } else {
        super::file::bytes(Path::new(path), path)?
    };
    from_bytes(&bytes, super::file::spoken(path), asked, catalogue)
}

/// Reads a take-off from a file's bytes.
///
/// # Errors
/// As [`read`].
pub fn from_bytes(
    bytes: &[u8],
    name: &str,
    asked: &Asked,
    catalogue: Option<&Catalogue>,
) -> Result<TakeOff, Diagnostic> {
    let sheets = sheet::sheets(bytes, name)?;
    let (sheet, columns) = chosen(sheets, name, asked)?;
    let mut taken = rows::read(&sheet, &columns, asked, name);
    if let Some(catalogue) = catalogue {
        matched::items(&mut taken, catalogue);
    }
    Ok(taken)
}

/// The sheet that is read, and what its columns hold.
fn chosen(sheets: Vec<Sheet>, name: &str, asked: &Asked) -> Result<(Sheet, Columns), Diagnostic> {
    let names: Vec<String> = sheets.iter().filter_map(|one| one.name.clone()).collect();
    let known = || {
        names
            .iter()
            .map(|one| format!("`{one}`"))
            .collect::<Vec<_>>()
            .join(", ")
    };
    let mut sheets = sheets;
    if let Some(wanted) = &asked.sheet {
        sheets.retain(|sheet| sheet.name.as_ref() == Some(wanted));
        if sheets.is_empty() {
            let there = if names.is_empty() {
                format!("{name} is not a workbook, so it has no sheet `{wanted}`")
            } else {
                format!("{name} has no sheet `{wanted}`: its sheets are {}", known())
            };
            return Err(Diagnostic::error("no-sheet", there));
        }
    }
    let mut found = Vec::new();
    let mut first_fault = None;
    for sheet in sheets {
        match headings::find(&sheet, name, asked) {
            Ok(columns) => found.push((sheet, columns)),
            Err(fault) => {
                first_fault.get_or_insert(fault);
            }
        }
    }
    if found.len() > 1 {
        let both: Vec<String> = found
            .iter()
            .filter_map(|(sheet, _)| sheet.name.as_ref().map(|one| format!("`{one}`")))
            .collect();
        let message = format!(
            "{name} has {} sheets that can be read as a take-off: {}",
            both.len(),
            both.join(", ")
        );
        let help = "import one at a time, with `--sheet NAME`";
        return Err(Diagnostic::error("several-sheets", message).help(help));
    }
    found.pop().ok_or_else(|| {
        let empty = || Diagnostic::error("empty-take-off", format!("{name} holds no rows"));
        first_fault.unwrap_or_else(empty)
    })
}
