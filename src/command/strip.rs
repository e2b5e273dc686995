//! `feedpoint strip`: one strip without a project, from flags or from a file.

pub mod answer;
pub mod flags;
pub mod json;
pub mod table;

use super::tolerance::ToleranceFlags;
use super::{Failure, Format, Outcome, Output};
use crate::diagnostic::render;
use crate::load::strip_case::strip_case;
use crate::norms::region::Region;
use crate::present::{cautions, csv, terminal};
use answer::{Answer, Asked};
use clap::{Args, ValueEnum};

/// What is asked of one strip.
#[derive(Debug, Clone, Default, Args)]
#[command(after_help = CLOSING)]
pub struct StripArgs {
    /// A strip case file; `-` reads standard input. The strip then comes from it, not from flags
    #[arg(long, value_name = "CASE")]
    pub file: Option<String>,
    /// Length of the strip
    #[arg(long)]
    pub length: Option<String>,
    /// Power per length, full on; of warm and cool: `9.6 W/m, 9.6 W/m`
    #[arg(long)]
    pub power: Option<String>,
    /// Nominal voltage of the strip (24 V)
    #[arg(long)]
    pub voltage: Option<String>,
    /// Output voltage of the driver (the strip's)
    #[arg(long)]
    pub supply: Option<String>,
    /// `single colour` or `tunable white` (single colour)
    #[arg(long)]
    pub kind: Option<String>,
    /// How current follows voltage: resistor, regulated or converter (resistor)
    #[arg(long)]
    pub light_source: Option<String>,
    /// Voltage at which light starts; without it a range is tried
    #[arg(long)]
    pub light_starts_at: Option<String>,
    /// Voltage from which a regulated strip holds its current; without it a range is tried
    #[arg(long)]
    pub regulated_from: Option<String>,
    /// Resistance per length of plus and return rail together
    #[arg(long)]
    pub rails: Option<String>,
    /// Resistance per length of the common plus rail
    #[arg(long)]
    pub rail_common: Option<String>,
    /// Resistance per length of each return rail
    #[arg(long)]
    pub rail_return: Option<String>,
    /// Light per length, full on
    #[arg(long)]
    pub flux: Option<String>,
    /// Colour temperature of warm and cool: `2700 K, 6500 K`
    #[arg(long)]
    pub white: Option<String>,
    /// Length of a cut segment (50 mm)
    #[arg(long)]
    pub cut: Option<String>,
    /// Where it is fed: start, end, both ends, middle, or `at 0 m, 6 m` (start)
    #[arg(long)]
    pub feed: Option<String>,
    /// Length of each feed's cable (0 m)
    #[arg(long)]
    pub cable_length: Option<String>,
    /// Size of each core: `1.5 mm²`, `16 AWG` (1.5 mm²)
    #[arg(long)]
    pub cable_size: Option<String>,
    /// `class 1`, `class 2`, `class 5`, `class 5 tinned`, solid or stranded (class 5)
    #[arg(long)]
    pub conductor: Option<String>,
    /// Temperature of the conductors (70 °C)
    #[arg(long)]
    pub cable_temperature: Option<String>,
    /// Most light that may be lost at the darkest place (10 %)
    #[arg(long)]
    pub limit: Option<String>,
    /// Answer only how long the strip may be; needs no length
    #[arg(long)]
    pub longest: bool,
    /// What may differ from its datasheet.
    #[command(flatten)]
    pub tolerances: ToleranceFlags,
    /// Whose cautions are printed
    #[arg(long, value_enum, default_value_t)]
    pub region: RegionFlag,
    /// How the answer is printed
    #[arg(long, value_enum, default_value_t)]
    pub format: Format,
}

const CLOSING: &str = "\
Quantities are written with their unit. In a name's place, `µ` may be `u`, `Ω` may be `ohm`.

Examples:
  feedpoint strip --length 12m --power 14.4W/m --rails 0.12ohm/m --light-starts-at 18V
  feedpoint strip --longest --power 9.6W/m --rails 0.1ohm/m --limit 5%
  feedpoint strip --file cove.yaml --format json";

/// A region as a flag.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum RegionFlag {
    /// UK and EU
    #[default]
    Iec,
    /// United States and Canada
    NorthAmerica,
    /// Australia and New Zealand
    AusNz,
}

impl RegionFlag {
    fn region(self) -> Region {
        match self {
            RegionFlag::Iec => Region::Iec,
            RegionFlag::NorthAmerica => Region::NorthAmerica,
            RegionFlag::AusNz => Region::AusNz,
        }
    }
}

/// Answers for one strip. A strip without a working point is an answer, not a failure.
///
/// # Errors
/// When the file or a flag can't be used.
pub fn run(args: &StripArgs, out: &mut Output) -> Result<Outcome, Failure> {
    let answer = Answer::of(&asked(args)?)?;
    let cautions = cautions::general(args.region.region());
    match args.format {
        Format::Json => {
            let text = serde_json::to_string_pretty(&json::of(&answer, &cautions));
            out.result(&text.map_err(Failure::saying)?)?;
            out.result("\n")?;
        }
        Format::Csv => {
            let document = table::document(&answer, cautions);
            let files = csv::files(&document).map_err(Failure::saying)?;
            let texts: Vec<String> = files.into_iter().map(|file| file.text).collect();
            out.result(&texts.join("\n"))?;
        }
        Format::Table => {
            let document = table::document(&answer, cautions);
            out.result(&terminal::write(&[document], out.look))?;
        }
    }
    Ok(Outcome::NothingBroken)
}

/// What the command line asks.
///
/// # Errors
/// When the file or a flag can't be used.
pub fn asked(args: &StripArgs) -> Result<Asked, Failure> {
    let limit = flags::limit(args)?;
    if let Some(path) = &args.file {
        refuse_flags(args)?;
        let case = strip_case(path).map_err(|faults| {
            Failure::shown(faults.in_order().into_iter().map(render::plain).collect())
        })?;
        return Ok(Asked {
            case,
            stood_in: Vec::new(),
            limit,
            tolerances: args.tolerances.clone(),
            only_longest: args.longest,
        });
    }
    let flagged = flags::read(args)?;
    Ok(Asked {
        case: flagged.case,
        stood_in: flagged.stood_in,
        limit,
        tolerances: args.tolerances.clone(),
        only_longest: args.longest && args.length.is_none(),
    })
}

/// With a file, flags about the strip would be passed over in silence.
fn refuse_flags(args: &StripArgs) -> Result<(), Failure> {
    let given = [
        ("length", &args.length),
        ("power", &args.power),
        ("voltage", &args.voltage),
        ("supply", &args.supply),
        ("kind", &args.kind),
        ("light-source", &args.light_source),
        ("light-starts-at", &args.light_starts_at),
        ("regulated-from", &args.regulated_from),
        ("rails", &args.rails),
        ("rail-common", &args.rail_common),
        ("rail-return", &args.rail_return),
        ("flux", &args.flux),
        ("white", &args.white),
        ("cut", &args.cut),
        ("feed", &args.feed),
        ("cable-length", &args.cable_length),
        ("cable-size", &args.cable_size),
        ("conductor", &args.conductor),
        ("cable-temperature", &args.cable_temperature),
    ];
    match given.iter().find(|(_, value)| value.is_some()) {
        None => Ok(()),
        Some((flag, _)) => Err(Failure::saying(format!(
            "`--{flag}` and `--file` can't both be given: the file says it"
        ))),
    }
}
