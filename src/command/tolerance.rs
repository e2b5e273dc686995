//! The flags that say what may differ from its datasheet.

use super::Failure;
use crate::load::measure::{LowVoltage, Share};
use crate::load::written::Reads;
use crate::quantity::Voltage;
use crate::solve::strip::Ladder;
use crate::solve::tolerance::{self, STRIP_POWER, SUPPLY, Tolerances};
use clap::Args;
use uom::si::electric_potential::volt;

/// What may differ.
#[derive(Debug, Clone, Default, Args)]
pub struct ToleranceFlags {
    /// How far the strip's power may lie from its datasheet's, either way [default: 10 %]
    #[arg(long, value_name = "SHARE")]
    pub power_tolerance: Option<String>,
    /// How far the driver's voltage may lie from nominal, either way [default: 1 %]
    #[arg(long, value_name = "SHARE")]
    pub supply_tolerance: Option<String>,
    /// Range in which the strip's light may start: `16V..18V`
    #[arg(long, value_name = "VOLTS..VOLTS")]
    pub light_starts_range: Option<String>,
}

impl ToleranceFlags {
    /// Reads them.
    ///
    /// # Errors
    /// When one can't be read or leaves the ladder without an answer.
    pub fn read(&self, ladder: &Ladder) -> Result<Tolerances, Failure> {
        let power = share("power-tolerance", self.power_tolerance.as_ref())?;
        let supply = share("supply-tolerance", self.supply_tolerance.as_ref())?;
        let starts = self.light_starts_range.as_ref();
        let starts_at = starts.map(|text| range(text, ladder)).transpose()?;
        Ok(Tolerances {
            power: power.unwrap_or(STRIP_POWER),
            supply: supply.unwrap_or(SUPPLY),
            starts_at,
        })
    }
}

fn share(flag: &str, given: Option<&String>) -> Result<Option<f64>, Failure> {
    let Some(text) = given else {
        return Ok(None);
    };
    let read = Share::read(text.trim());
    let share = read.map_err(|unread| Failure::saying(format!("--{flag}: {}", unread.message)))?;
    if share.value < 1.0 {
        Ok(Some(share.value))
    } else {
        Err(Failure::saying(format!(
            "`--{flag}` must be less than 100 %"
        )))
    }
}

fn range(text: &str, ladder: &Ladder) -> Result<[Voltage; 2], Failure> {
    let wrong = |why: String| Failure::saying(format!("--light-starts-range: {why}"));
    let ends = text.split_once("..");
    let (low, high) =
        ends.ok_or_else(|| wrong(format!("`{text}` is no range: write `16V..18V`")))?;
    let read = |end: &str| LowVoltage::read(end.trim()).map_err(|unread| wrong(unread.message));
    let (low, high) = (read(low)?, read(high)?);
    let below = tolerance::starts_below(ladder);
    let below = below.ok_or_else(|| wrong("light has no such voltage on this strip".to_owned()))?;
    if low >= high || high >= below {
        return Err(wrong(format!(
            "light must start from a lower voltage to a higher one, both below {:.2} V",
            below.get::<volt>()
        )));
    }
    Ok([low, high])
}
