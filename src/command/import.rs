//! `feedpoint import`: a take-off, CSV or workbook, into the runs of a project; and back.

use super::catalogue_path::named_from;
use super::input::complaints;
use super::new_file;
use super::region;
use super::{Failure, Outcome, Output};
use crate::diagnostic::Diagnostic;
use crate::load;
use crate::load::takeoff::{self, Asked, DecimalSign, TakeOff};
use crate::norms::region::Region;
use crate::present::takeoff::{Starting, document, project, runs};
use crate::present::{json, terminal};
use clap::ValueEnum;
use std::path::{Path, PathBuf};

/// What to read, and as what.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
The take-off needs a row of headings; titles above it, totals, room headings and blank rows are told \
apart. Lengths carry a unit in the cell (12.4 m, 40 ft 8 in) or in the heading: Length (m). Columns \
that no run has are kept as comments. What is not read is listed by row and column.
Exit status: 0 every run has what it needs; 1 a run lacks something, a cell could not be read or a \
total disagrees; 2 the input can't be used.

Examples:
  feedpoint import take-off.csv
  feedpoint import take-off.xlsx --catalogue trade.yaml --out project.yaml
  feedpoint import take-off.csv --map \"length=Lfd m\" --unit m
  feedpoint import --back project.yaml > take-off.csv")]
pub struct Args {
    /// The take-off, CSV or .xlsx; - reads it from standard input
    #[arg(value_name = "TAKEOFF", required_unless_present = "back")]
    take_off: Option<String>,
    /// Which heading gives which key of a run, such as "length=Lfd m"; may be given again
    #[arg(long, value_name = "KEY=HEADING", value_parser = mapping)]
    map: Vec<(String, String)>,
    /// The sheet of a workbook
    #[arg(long, value_name = "NAME")]
    sheet: Option<String>,
    /// The unit of bare lengths in columns whose heading has none
    #[arg(long, value_enum, value_name = "UNIT")]
    unit: Option<LengthUnit>,
    /// Decimal sign of the numbers, where they don't show it
    #[arg(long, value_enum, value_name = "SIGN")]
    decimal: Option<Decimal>,
    /// Match strips, drivers, cables and profiles against this catalogue, and write a whole project that uses it
    #[arg(long, value_name = "FILE")]
    catalogue: Option<String>,
    /// Region of the whole project
    #[arg(long, value_name = "REGION", value_parser = region::parser(), default_value = "iec", requires = "catalogue")]
    region: Region,
    /// Write to this file, and print what became of the rows
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Overwrite the file if it is there
    #[arg(long, requires = "out")]
    force: bool,
    /// How the result is printed
    #[arg(long, value_enum, value_name = "FORMAT", default_value_t)]
    format: Format,
    /// The other way: print the runs of a project as a take-off that import reads
    #[arg(long, value_name = "PROJECT", conflicts_with_all = ["take_off", "map", "sheet", "unit", "decimal", "catalogue", "format"])]
    back: Option<String>,
}

/// How the result is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
enum Format {
    /// The runs as the project file has them
    #[default]
    Yaml,
    /// One JSON object with the runs and what became of every row
    Json,
}

/// Units of length that a take-off is measured in.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum LengthUnit {
    /// Metres
    M,
    /// Centimetres
    Cm,
    /// Millimetres
    Mm,
    /// Feet
    Ft,
    /// Inches
    In,
}

/// Decimal signs.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum Decimal {
    /// 12.4
    Point,
    /// 12,4
    Comma,
}

fn mapping(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((key, heading)) if !key.trim().is_empty() && !heading.trim().is_empty() => {
            Ok((key.trim().to_owned(), heading.trim().to_owned()))
        }
        _ => Err("write KEY=HEADING, such as \"length=Lfd m\"".to_owned()),
    }
}

/// Reads the take-off and writes its runs.
///
/// # Errors
/// When it is no take-off, or something can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    if let Some(project) = &args.back {
        return back(project, args, out);
    }
    let take_off = args.take_off.as_deref().unwrap_or("-");
    let catalogue = match &args.catalogue {
        Some(path) => Some(load::catalogue(path).map_err(complaints)?),
        None => None,
    };
    let taken = takeoff::read(take_off, &asked(args), catalogue.as_ref()).map_err(refused)?;
    let text = match (args.format, &args.catalogue) {
        (Format::Json, _) => json::text(&json::TakeOff::of(&taken)).map_err(Failure::saying)?,
        (Format::Yaml, Some(path)) => project(&taken, &starting(args, path, take_off)),
        (Format::Yaml, None) => runs(&taken),
    };
    let told = terminal::write(&[document(&taken)], out.look);
    match &args.out {
        Some(path) => {
            new_file::write(path, &text, args.force)?;
            out.result(&told)?;
            out.message(&format!("wrote {}", path.display()));
        }
        None => {
            out.result(&text)?;
            if args.format == Format::Yaml {
                out.message(&told);
            }
        }
    }
    Ok(outcome(&taken))
}

fn outcome(taken: &TakeOff) -> Outcome {
    if taken.is_whole() {
        Outcome::NothingBroken
    } else {
        Outcome::Broken
    }
}

fn asked(args: &Args) -> Asked {
    let unit = args.unit.and_then(|unit| {
        takeoff::fields::unit(match unit {
            LengthUnit::M => "m",
            LengthUnit::Cm => "cm",
            LengthUnit::Mm => "mm",
            LengthUnit::Ft => "ft",
            LengthUnit::In => "in",
        })
    });
    Asked {
        map: args.map.clone(),
        sheet: args.sheet.clone(),
        unit,
        decimal: args.decimal.map(|sign| match sign {
            Decimal::Point => DecimalSign::Point,
            Decimal::Comma => DecimalSign::Comma,
        }),
    }
}

/// What the project begins with: its catalogue is named relative to the folder it is written to.
fn starting(args: &Args, catalogue: &str, take_off: &str) -> Starting {
    let folder = args.out.as_deref().and_then(Path::parent);
    let stem = Path::new(take_off).file_stem().filter(|_| take_off != "-");
    Starting {
        title: stem.map_or("Take-off".to_owned(), |stem| {
            stem.to_string_lossy().into_owned()
        }),
        region: args.region.name(),
        catalogue: named_from(folder, catalogue),
    }
}

/// The runs of a project as a take-off.
fn back(path: &str, args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let loaded = load::project(path).map_err(complaints)?;
    let source = loaded.sources.first();
    let source = source.ok_or_else(|| Failure::saying("the project has no file"))?;
    let rows = takeoff::written(source).map_err(complaints)?;
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.write_record(row).map_err(Failure::saying)?;
    }
    let bytes = writer.into_inner().map_err(Failure::saying)?;
    let text = String::from_utf8(bytes).map_err(Failure::saying)?;
    match &args.out {
        Some(path) => {
            new_file::write(path, &text, args.force)?;
            out.message(&format!("wrote {}", path.display()));
        }
        None => out.result(&text)?,
    }
    Ok(Outcome::NothingBroken)
}

fn refused(fault: Diagnostic) -> Failure {
    complaints(fault.into())
}
