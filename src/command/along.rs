//! `feedpoint along`: volts, light and white along one run.

mod asked;
mod scene;

use super::folder::replace;
use super::input::Input;
use super::results::{Format, tables};
use super::tolerance::ToleranceFlags;
use super::{Failure, Outcome, Output};
use crate::present::along::Along;
use crate::present::document::{Document, along::document};
use crate::present::drawing::{layout, plot, run::drawing};
use crate::present::{json, svg, terminal};
use std::path::{Path, PathBuf};

/// Which run, and what is asked of it.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Exit status: 0 no limit of the run is broken; 1 one is; 2 the input can't be used.

Examples:
  feedpoint along project.yaml hall-cove --svg hall-cove.svg
  feedpoint along project.yaml hall-cove --feed 'both ends'
  feedpoint along project.yaml hall-cove --limits 5%,10%,20% --scene evening")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    /// The run's name
    #[arg(value_name = "RUN")]
    run: String,
    /// Draw the run to an SVG file as well
    #[arg(long, value_name = "FILE")]
    svg: Option<PathBuf>,
    /// Try another arrangement: start, end, middle, `both ends`, `every 5 m`, `at [0 m, 6 m]`,
    /// `sections [9 m, 9.4 m]`, auto
    #[arg(long, value_name = "WISH")]
    feed: Option<String>,
    /// What these limits on light drop would cost, with commas between them
    #[arg(long, value_name = "SHARE,…", value_delimiter = ',')]
    limits: Vec<String>,
    /// Show the run's light and white in this scene
    #[arg(long, value_name = "NAME")]
    scene: Option<String>,
    #[command(flatten)]
    tolerances: ToleranceFlags,
    /// How results are printed
    #[arg(long, value_enum, value_name = "FORMAT", default_value_t)]
    format: Format,
}

/// Shows the run.
///
/// # Errors
/// When the project can't be used, has no such run, or a flag or file can't be used.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let job = args.input.job(out)?;
    let along = asked::along(&job, args)?;
    let document = document(&along);
    if let Some(path) = &args.svg {
        write_drawing(&along, path)?;
        out.message(&format!("drawn to {}", path.display()));
    }
    match args.format {
        Format::Table => out.result(&shown(&along, &document, out))?,
        Format::Json => {
            let text = json::text(&json::Along::of(&along)).map_err(Failure::saying)?;
            out.result(&text)?;
        }
        Format::Csv => out.result(&tables(&[document])?)?,
    }
    Ok(if along.breaks_a_limit() {
        Outcome::Broken
    } else {
        Outcome::NothingBroken
    })
}

/// The figures, then the drawing, then the tables and the cautions.
fn shown(along: &Along, document: &Document, out: &Output) -> String {
    let mut head = document.clone();
    head.parts.truncate(1);
    head.cautions.clear();
    let mut text = terminal::write(&[head], out.look);
    let drawn = plot::write(&drawing(along.job, along.shown()), out.look);
    if !drawn.is_empty() {
        text.push('\n');
        text.push_str(&drawn);
    }
    for part in document.parts.iter().skip(1) {
        text.push('\n');
        text.push_str(&terminal::part(document, part, out.look));
    }
    text.push('\n');
    text.push_str(&terminal::list("Cautions", &document.cautions, out.look));
    text
}

fn write_drawing(along: &Along, path: &Path) -> Result<(), Failure> {
    let name = path
        .file_name()
        .map(|name| name.to_string_lossy().into_owned());
    let Some(name) = name else {
        return Err(Failure::saying(format!("{} names no file", path.display())));
    };
    let folder = match path.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let sheet = layout::sheet(&drawing(along.job, along.shown()));
    let bytes = svg::write(&sheet).into_bytes();
    replace(folder, &name, &bytes)
}
