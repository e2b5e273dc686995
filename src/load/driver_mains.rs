//! The mains side of a driver of a catalogue.

use super::circuits::BreakerName;
use super::desk::Desk;
use super::measure::{Amperes, AmperesOrNone, MainsVoltage, SomeShare};
use super::plain::Count;
use super::words::Word;
use super::written::{Reads, Unread, Written};
use crate::model::driver::{DriverMains, MainsNeeds};
use crate::model::project::Breaker;
use crate::model::protection::ResidualType;
use crate::quantity::{Ratio, Voltage};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use uom::si::ratio::ratio;

/// A driver's mains side.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct MainsBlock {
    /// Input current at full load.
    current: Option<Written<Amperes>>,
    /// Most of this driver on a B16 breaker, by inrush.
    most_per_b16: Option<Written<Count>>,
    /// Most of it on other breakers, by inrush.
    most_on: Option<Vec<MostOnRow>>,
    /// Least and most mains voltage it works on.
    voltage: Option<Vec<Written<MainsVoltage>>>,
    /// Type of residual current device that its sheet asks for.
    residual_type: Option<Written<Word<ResidualType>>>,
    /// Protective conductor current.
    earth_leakage: Option<Written<AmperesOrNone>>,
    /// Power factor at full load.
    power_factor: Option<Written<PowerFactor>>,
    /// Output power over input power at full load.
    efficiency: Option<Written<SomeShare>>,
}

/// Most of a driver on a breaker.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct MostOnRow {
    /// The breaker.
    #[schemars(required)]
    breaker: Option<Written<BreakerName>>,
    /// How many.
    #[schemars(required)]
    count: Option<Written<Count>>,
}

/// A power factor: more than 0, at most 1.
#[derive(Debug)]
struct PowerFactor;

impl Reads for PowerFactor {
    type Value = Ratio;
    const NAME: &'static str = "PowerFactor";

    fn what() -> String {
        "a power factor".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "number", "exclusiveMinimum": 0, "maximum": 1, "examples": [0.95]})
    }

    fn read(text: &str) -> Result<Ratio, Unread> {
        let number: Option<f64> = text.parse().ok();
        let fits = number.filter(|number| *number > 0.0 && *number <= 1.0);
        fits.map(Ratio::new::<ratio>).ok_or_else(|| {
            let message = format!(
                "`{text}` is not a power factor: it is a number above 0 and at most 1, as in `0.95`"
            );
            Unread::new("out-of-range", message)
        })
    }
}

/// Reads a driver's mains side.
pub fn read(block: Option<&MainsBlock>, desk: &mut Desk) -> DriverMains {
    let ends = block.and_then(|block| block.voltage.as_ref());
    DriverMains {
        voltage: ends.and_then(|ends| range(ends, desk)),
        current: block.and_then(|block| desk.read(&block.current)),
        most_per_b16: block.and_then(|block| desk.read(&block.most_per_b16)),
        earth_leakage: block.and_then(|block| desk.read(&block.earth_leakage)),
        power_factor: block.and_then(|block| desk.read(&block.power_factor)),
        efficiency: block.and_then(|block| desk.read(&block.efficiency)),
        needs: block.map(|block| needs(block, desk)).unwrap_or_default(),
    }
}

fn needs(block: &MainsBlock, desk: &mut Desk) -> MainsNeeds {
    let rows = block.most_on.as_deref().unwrap_or_default();
    MainsNeeds {
        residual_type: desk.read(&block.residual_type),
        most_on: rows.iter().filter_map(|row| most_on(row, desk)).collect(),
    }
}

fn most_on(row: &MostOnRow, desk: &mut Desk) -> Option<(Breaker, usize)> {
    let breaker = desk.read(&row.breaker);
    let count = desk.read(&row.count);
    Some((breaker?, count?))
}

/// The least and the most of a range of mains voltage.
fn range(ends: &[Written<MainsVoltage>], desk: &mut Desk) -> Option<(Voltage, Voltage)> {
    let read: Vec<_> = ends.iter().filter_map(|end| desk.one(end)).collect();
    match read.as_slice() {
        [least, most] if least <= most => Some((*least, *most)),
        _ if read.len() < ends.len() => None,
        _ => {
            let place = ends.first().map(|end| end.at).unwrap_or_default();
            let message =
                "`voltage` of the mains side is the least and the most, as in `[220 V, 240 V]`";
            desk.complain("voltage-order", message, place);
            None
        }
    }
}
