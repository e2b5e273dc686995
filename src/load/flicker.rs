//! How a driver's light is modulated.

use super::desk::Desk;
use super::measure::{DimmingFrequency, Share};
use super::written::{Reads, Unread, Written};
use crate::model::driver::Flicker;
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;

/// A driver's flicker figures.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct FlickerBlock {
    /// Short-term flicker of light, Pst LM, at full load.
    pst_lm: Option<Written<FlickerNumber>>,
    /// Stroboscopic visibility, SVM, at full load.
    svm: Option<Written<FlickerNumber>>,
    /// Frequency of the modulation when dimmed.
    frequency: Option<Written<DimmingFrequency>>,
    /// Depth of the modulation when dimmed; 100 %, as with pulse width, is taken when left out.
    depth: Option<Written<Share>>,
}

/// A flicker figure: a number from 0.
#[derive(Debug)]
struct FlickerNumber;

impl Reads for FlickerNumber {
    type Value = f64;
    const NAME: &'static str = "FlickerNumber";

    fn what() -> String {
        "a flicker figure".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "number", "minimum": 0, "maximum": 1000, "examples": [0.4]})
    }

    fn read(text: &str) -> Result<f64, Unread> {
        let number: Option<f64> = text.parse().ok();
        let fits = number.filter(|number| (0.0..=1000.0).contains(number));
        fits.ok_or_else(|| {
            let message = format!(
                "`{text}` is not a flicker figure: it is a number from 0 to 1000, as in `0.4`"
            );
            Unread::new("out-of-range", message)
        })
    }
}

/// Reads them.
pub fn read(block: Option<&FlickerBlock>, desk: &mut Desk) -> Flicker {
    Flicker {
        pst_lm: block.and_then(|block| desk.read(&block.pst_lm)),
        svm: block.and_then(|block| desk.read(&block.svm)),
        frequency: block.and_then(|block| desk.read(&block.frequency)),
        depth: block.and_then(|block| desk.read(&block.depth)),
    }
}
