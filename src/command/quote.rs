//! `feedpoint quote`: the price with what it stands on, or what to buy.

use super::input::Input;
use super::results::{Format, Printing};
use super::{Failure, Outcome, Output};
use crate::pipeline;
use crate::present::json::{Order, Quote};
use crate::present::{cautions, terminal};

/// What to price.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Exit status: 0 no fault; 1 a rule of severity fault is broken; 2 the input can't be used.

Examples:
  feedpoint quote project.yaml
  feedpoint quote project.yaml --buy --format csv")]
pub struct Args {
    #[command(flatten)]
    input: Input,
    #[command(flatten)]
    printing: Printing,
    /// Print the order list instead, without selling prices
    #[arg(long)]
    buy: bool,
}

/// Prices the project and prints the quotation, or the order list.
///
/// # Errors
/// When the project can't be used or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let mut job = args.input.job(out)?;
    if args.buy {
        args.printing.print(out, &job, &["order-list"], Order::of)?;
    } else {
        pipeline::price_alternatives(&mut job);
        args.printing.print(out, &job, &["quote"], Quote::of)?;
        if args.printing.format == Format::Table {
            let cautions = cautions::on_sheets(&job);
            out.result("\n")?;
            out.result(&terminal::list("Cautions", &cautions, out.look))?;
        }
    }
    Ok(Outcome::by_faults(&job))
}
