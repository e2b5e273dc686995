//! All cautions of the job in one list: those of every sheet, and those of the rules it touches.

use super::{Cell, Column, Part, Table};
use crate::present::cautions;
use crate::present::job::Job;

/// The part with the list.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::long_text("caution", "Caution"),
    ]);
    for (index, caution) in cautions::all(job).into_iter().enumerate() {
        table.row(vec![Cell::count(index + 1), Cell::text(caution)]);
    }
    vec![Part::table("cautions", "", table)]
}
