//! Results as JSON for programs: one object a command, whose keys do not change within a format.
//!
//! Keys are plain snake_case with the unit as suffix; numbers are numbers, money is a decimal in
//! a string, and what is not known is `null`. Lists stand in the order of the documents. The
//! structs here are the contract; [`schema`] gives it as a JSON Schema.

mod along;
mod catalogue;
mod changes;
mod check;
mod comparison;
mod cuts;
mod driver;
mod loops;
mod order;
mod project;
mod quote;
mod readings;
mod size;
mod stakes;
mod take_off;
mod totals;

pub use along::{Along, Tolerance};
pub use catalogue::Catalogue;
pub use changes::{Changes, Issue};
pub use check::{Check, Verdict};
pub use comparison::Comparison;
pub use loops::Loops;
pub use order::Order;
pub use project::Project;
pub use quote::Quote;
pub use readings::Readings;
pub use size::Size;
pub use take_off::TakeOff;

use super::job::Job;
use super::measured;
use rust_decimal::Decimal;
use schemars::{JsonSchema, SchemaGenerator};
use serde::Serialize;
use std::io::Write;

/// The format's number. A reader refuses one that it does not know.
pub const FORMAT: u32 = 1;

/// Everything: what `feedpoint report` writes to `report.json`.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Report {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// Runs, drivers, cables.
    pub size: Size,
    /// Loops and circuits.
    pub loops: Loops,
    /// Materials, labour, totals.
    pub quote: Quote,
    /// Verdicts and cautions.
    pub check: Check,
    /// What is not as it was issued; `null` when nothing was issued.
    pub changes: Option<Changes>,
}

impl Report {
    /// The report of a job.
    #[must_use]
    pub fn of(job: &Job) -> Report {
        Report {
            format: FORMAT,
            project: Project::of(job),
            size: Size::of(job),
            loops: Loops::of(job),
            quote: Quote::of(job),
            check: Check::of(job),
            changes: Changes::of(job),
        }
    }
}

/// One object as text, with a line end.
///
/// # Errors
/// When it can't be serialised, which is a fault of this program.
pub fn text<T: Serialize>(object: &T) -> Result<String, serde_json::Error> {
    let mut text = serde_json::to_string_pretty(object)?;
    text.push('\n');
    Ok(text)
}

/// Writes one object as [`text`] gives it.
///
/// # Errors
/// When `out` takes no more, or the object can't be serialised, which is a fault of this program.
pub fn write<T: Serialize>(object: &T, out: &mut dyn Write) -> Result<(), serde_json::Error> {
    serde_json::to_writer_pretty(&mut *out, object)?;
    out.write_all(b"\n").map_err(serde_json::Error::io)
}

/// The JSON Schema of [`Report`], whose parts are what `size`, `loops`, `quote` and `check` print;
/// what `along`, `readings` and `check` of a catalogue print is among its definitions.
///
/// # Errors
/// When it can't be serialised, which is a fault of this program.
pub fn schema() -> Result<String, serde_json::Error> {
    let mut generator = SchemaGenerator::default();
    generator.subschema_for::<Along>();
    generator.subschema_for::<Readings>();
    generator.subschema_for::<Catalogue>();
    text(&generator.into_root_schema_for::<Report>())
}

/// The JSON Schema of one object.
///
/// # Errors
/// When it can't be serialised, which is a fault of this program.
pub fn schema_of<T: JsonSchema>() -> Result<String, serde_json::Error> {
    text(&schemars::schema_for!(T))
}

/// A number as it is written; `null` when it is not finite.
type Number = Option<f64>;

fn number(value: f64) -> Number {
    measured::written(value)
}

/// Money as a decimal in a string.
fn money(amount: Decimal) -> String {
    amount.to_string()
}

/// A quantity as a plain decimal in a string, without idle zeros.
fn quantity(amount: Decimal) -> String {
    amount.normalize().to_string()
}

fn names<'a>(names: impl IntoIterator<Item = &'a str>) -> Vec<String> {
    names.into_iter().map(str::to_owned).collect()
}
