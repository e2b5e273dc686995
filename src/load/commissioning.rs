//! Commissioning and provisional sums in the pricing of a project.

use super::desk::Desk;
use super::measure::WorkTime;
use super::plain::{Price, Text};
use super::written::{Span, Written};
use crate::model::pricing::{Commissioning, ProvisionalSum};
use schemars::JsonSchema;
use serde::Deserialize;

/// Time to commission each of what the job has; what is left out is not priced.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct CommissioningBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Price of an hour; the `labour_rate` when left out.
    rate: Option<Written<Price>>,
    /// To find, address and group a device on the bus, gear or control device.
    device: Option<Written<WorkTime>>,
    /// To prove a loop: supply, polarity, furthest device.
    #[serde(rename = "loop")]
    control_loop: Option<Written<WorkTime>>,
    /// To test a mains circuit.
    circuit: Option<Written<WorkTime>>,
    /// To set and store a scene.
    scene: Option<Written<WorkTime>>,
}

/// An amount set aside for work that can't be counted yet.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ProvisionalBlock {
    /// What it is for.
    #[schemars(required)]
    sum: Option<Written<Text>>,
    /// How much, as it is sold, before tax.
    #[schemars(required)]
    amount: Option<Written<Price>>,
}

/// Reads commissioning; a block that prices nothing is complained of.
pub fn read(block: &CommissioningBlock, desk: &mut Desk) -> Commissioning {
    let all = Commissioning {
        rate: desk.read(&block.rate),
        device: desk.read(&block.device),
        control_loop: desk.read(&block.control_loop),
        circuit: desk.read(&block.circuit),
        scene: desk.read(&block.scene),
    };
    let written = [
        block.device.is_some(),
        block.control_loop.is_some(),
        block.circuit.is_some(),
        block.scene.is_some(),
    ];
    if written == [false; 4] {
        let message = "this prices nothing: give the time for a `device`, `loop`, `circuit` or \
                       `scene`";
        desk.complain("empty-commissioning", message, block.place);
    }
    all
}

/// Reads the provisional sums.
pub fn provisional(blocks: &[ProvisionalBlock], desk: &mut Desk) -> Vec<ProvisionalSum> {
    let mut sums = Vec::with_capacity(blocks.len());
    for block in blocks {
        let what = desk.read(&block.sum);
        let amount = desk.read(&block.amount);
        let both = what.zip(amount);
        sums.extend(both.map(|(what, amount)| ProvisionalSum { what, amount }));
    }
    sums
}
