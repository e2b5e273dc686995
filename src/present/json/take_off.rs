//! What `feedpoint import` prints with `--format json`.

use super::FORMAT;
use crate::load::takeoff::{self, Fate};
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;

/// A take-off as read.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOff {
    /// Number of this format.
    pub format: u32,
    /// The file.
    pub file: String,
    /// The sheet of a workbook.
    pub sheet: Option<String>,
    /// What each column was read as.
    pub columns: Vec<TakeOffColumn>,
    /// What became of each row that holds anything.
    pub rows: Vec<TakeOffRow>,
    /// The runs.
    pub runs: Vec<TakeOffRun>,
    /// Cells that could not be read.
    pub unread: Vec<TakeOffUnread>,
    /// What was filled in that a row does not say itself.
    pub filled: Vec<TakeOffFilled>,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOffColumn {
    /// Its letter.
    pub column: String,
    /// Its heading.
    pub heading: String,
    /// The key of a run that it gives; `null` when it is kept as a remark.
    pub key: Option<String>,
    /// The unit of its bare numbers.
    pub unit: Option<String>,
}

/// A row.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOffRow {
    /// Its number, from 1.
    pub row: usize,
    /// `title`, `headings`, `units`, `room`, `total`, `runs` or `remark`.
    pub read_as: String,
    /// How many runs it became.
    pub runs: usize,
    /// Its text where it is no run.
    pub text: Option<String>,
    /// How a total differs from the rows above it.
    pub disagrees: Option<String>,
}

/// A run.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOffRun {
    /// The row it stands in.
    pub row: usize,
    /// Keys of the project file with their values as it writes them.
    pub keys: BTreeMap<String, String>,
    /// What its row says besides.
    pub remarks: Vec<TakeOffRemark>,
    /// What it lacks.
    pub lacks: Vec<TakeOffLack>,
}

/// A cell that a run is not made from.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOffRemark {
    /// The heading of its column.
    pub heading: String,
    /// Its text.
    pub text: String,
}

/// Something a run can't do without.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOffLack {
    /// The key that would give it.
    pub key: String,
    /// What would be right.
    pub cure: String,
}

/// A cell that could not be read.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOffUnread {
    /// Its row.
    pub row: usize,
    /// Its column's letter.
    pub column: String,
    /// Its column's heading.
    pub heading: String,
    /// Its text.
    pub text: String,
    /// Why it could not be read.
    pub why: String,
}

/// Something filled in.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct TakeOffFilled {
    /// The row.
    pub row: usize,
    /// The key.
    pub key: String,
    /// The value.
    pub value: String,
    /// Where it is from.
    pub from: String,
}

impl TakeOff {
    /// The object of a take-off.
    #[must_use]
    pub fn of(taken: &takeoff::TakeOff) -> TakeOff {
        let column = |column: &takeoff::ReadColumn| TakeOffColumn {
            column: column.column.clone(),
            heading: column.heading.clone(),
            key: column.key.map(str::to_owned),
            unit: column.unit.map(|unit| unit.sign.to_owned()),
        };
        let unread = |cell: &takeoff::UnreadCell| TakeOffUnread {
            row: cell.row,
            column: cell.column.clone(),
            heading: cell.heading.clone(),
            text: cell.text.clone(),
            why: cell.why.clone(),
        };
        let filled = |filled: &takeoff::Filled| TakeOffFilled {
            row: filled.row,
            key: filled.key.to_owned(),
            value: filled.value.clone(),
            from: filled.from.clone(),
        };
        TakeOff {
            format: FORMAT,
            file: taken.file.clone(),
            sheet: taken.sheet.clone(),
            columns: taken.columns.iter().map(column).collect(),
            rows: taken.rows.iter().map(row).collect(),
            runs: taken.runs.iter().map(run).collect(),
            unread: taken.unread.iter().map(unread).collect(),
            filled: taken.filled.iter().map(filled).collect(),
        }
    }
}

fn row(row: &takeoff::ReadRow) -> TakeOffRow {
    let (read_as, runs, text, disagrees) = match &row.fate {
        Fate::Title(text) => ("title", 0, Some(text), None),
        Fate::Headings => ("headings", 0, None, None),
        Fate::Units => ("units", 0, None, None),
        Fate::Room(text) => ("room", 0, Some(text), None),
        Fate::Total { text, disagrees } => ("total", 0, Some(text), disagrees.clone()),
        Fate::Runs(count) => ("runs", *count, None, None),
        Fate::Remark(text) => ("remark", 0, Some(text), None),
    };
    TakeOffRow {
        row: row.number,
        read_as: read_as.to_owned(),
        runs,
        text: text.cloned(),
        disagrees,
    }
}

fn run(run: &takeoff::TakenRun) -> TakeOffRun {
    let remark = |(heading, text): &(String, String)| TakeOffRemark {
        heading: heading.clone(),
        text: text.clone(),
    };
    let lack = |lack: &takeoff::Lack| TakeOffLack {
        key: lack.key.to_owned(),
        cure: lack.cure.clone(),
    };
    let keys = run.keys.iter();
    TakeOffRun {
        row: run.row,
        keys: keys
            .map(|(key, value)| ((*key).to_owned(), value.clone()))
            .collect(),
        remarks: run.remarks.iter().map(remark).collect(),
        lacks: run.lacks.iter().map(lack).collect(),
    }
}
