//! Title block, supply and region of a project.

use super::desk::Desk;
use super::measure::{MainsFrequency, MainsVoltage, SpareShare};
use super::plain::{Day, Text};
use super::written::{Reads, Span, Unread, Written};
use crate::model::assumption::Assumption;
use crate::model::project::{Heading, Supply};
use crate::norms::region::Region;
use crate::quantity::{Frequency, Ratio, Voltage, voltage};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use uom::si::electric_potential::volt;
use uom::si::frequency::hertz;
use uom::si::ratio::percent;

/// What the title block says.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct HeadingBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Title of the project.
    #[schemars(required)]
    title: Option<Written<Text>>,
    /// Its reference.
    reference: Option<Written<Text>>,
    /// Its revision.
    revision: Option<Written<Text>>,
    /// Whom it is for.
    #[serde(rename = "for")]
    customer: Option<Written<Text>>,
    /// Who prepared it.
    by: Option<Written<Text>>,
    /// Its date; documents carry no other.
    date: Option<Written<Day>>,
    /// The day on which everything must be on site.
    needed: Option<Written<Day>>,
}

/// The mains supply.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct SupplyBlock {
    /// Voltage between line and neutral.
    voltage: Option<Written<MainsVoltage>>,
    /// Frequency.
    frequency: Option<Written<MainsFrequency>>,
    /// Phases: 1 or 3; 1 when left out.
    phases: Option<Written<Phases>>,
    /// Voltage already lost upstream of the panel; 0 % when left out.
    upstream_drop: Option<Written<SpareShare>>,
}

/// 1 or 3.
#[derive(Debug)]
struct Phases;

impl Reads for Phases {
    type Value = usize;
    const NAME: &'static str = "Phases";

    fn what() -> String {
        "a number of phases".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"enum": [1, 3]})
    }

    fn read(text: &str) -> Result<usize, Unread> {
        match text {
            "1" => Ok(1),
            "3" => Ok(3),
            _ => {
                let message = format!("`{text}` is not a number of phases: it is 1 or 3");
                Err(Unread::new("unknown-word", message))
            }
        }
    }
}

/// Reads the title block.
pub fn read(block: Option<&HeadingBlock>, desk: &mut Desk) -> Heading {
    let Some(block) = block else {
        return Heading::default();
    };
    Heading {
        title: desk.read(&block.title).unwrap_or_default(),
        reference: desk.read(&block.reference),
        revision: desk.read(&block.revision),
        customer: desk.read(&block.customer),
        prepared_by: desk.read(&block.by),
        date: desk.read(&block.date),
        needed: desk.read(&block.needed),
        place: Some(desk.place(block.place)),
    }
}

/// Reads the supply; what is not said is the region's usual, and an assumption.
pub fn supply(
    block: Option<&SupplyBlock>,
    region: Region,
    assumed: &mut Vec<Assumption>,
    desk: &mut Desk,
) -> Supply {
    let (usual_volts, usual_hertz) = match region {
        Region::Iec | Region::AusNz => (230.0, 50.0),
        Region::NorthAmerica => (120.0, 60.0),
    };
    let mut supply = Supply {
        voltage: Voltage::new::<volt>(usual_volts),
        frequency: Frequency::new::<hertz>(usual_hertz),
        phases: 1,
        upstream_drop: Ratio::new::<percent>(0.0),
    };
    let voltage = block.and_then(|block| desk.read(&block.voltage));
    if voltage.is_none() {
        assumed.push(Assumption {
            subject: "project".to_owned(),
            statement: format!("the mains supply is {}", voltage::write(supply.voltage)),
            missing: "`voltage` in `supply`".to_owned(),
            supplied_by: "the supply agreement, or a meter at the panel".to_owned(),
        });
    }
    if block.is_none_or(|block| block.upstream_drop.is_none()) {
        assumed.push(Assumption {
            subject: "project".to_owned(),
            statement: "no voltage is lost before the panel".to_owned(),
            missing: "`upstream_drop` in `supply`".to_owned(),
            supplied_by: "the supply agreement, or a meter at the panel".to_owned(),
        });
    }
    supply.voltage = voltage.unwrap_or(supply.voltage);
    if let Some(block) = block {
        supply.frequency = desk.read(&block.frequency).unwrap_or(supply.frequency);
        supply.phases = desk.read(&block.phases).unwrap_or(supply.phases);
        supply.upstream_drop = desk
            .read(&block.upstream_drop)
            .unwrap_or(supply.upstream_drop);
    }
    supply
}
