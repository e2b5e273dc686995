//! Limits of a project and of a run.

use super::desk::Desk;
use super::measure::{Distance, LoadShare, Share, SomeShare, Steps};
use super::written::{Reads, Unread, Written};
use crate::model::house_rule::Measure;
use crate::model::limits::{Limits, RunLimits};
use crate::norms::defaults;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;
use crate::quantity::{Ratio, ratio};
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;

/// Limits that the project is judged by, tighter or looser than usual.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct LimitsBlock {
    /// Most light lost at the darkest place, of full light.
    light_drop: Option<Written<SomeShare>>,
    /// Least darkest-to-brightest ratio along a run.
    evenness: Option<Written<Share>>,
    /// Most colour shift along a run.
    colour_shift: Option<Written<Steps>>,
    /// Most voltage lost from the driver to the furthest light.
    feed_drop: Option<Written<SomeShare>>,
    /// Most load of a driver, of its rating.
    driver_load: Option<Written<LoadShare>>,
    /// Most voltage lost from the panel to a cupboard.
    circuit_drop: Option<Written<SomeShare>>,
    /// Most that a run may fall short of its length.
    end_gap: Option<Written<Distance>>,
    /// Most distance of a mixed white from the black body, Duv either side.
    off_locus: Option<Written<Duv>>,
    /// Lowest light that dimming must reach; the lowest that a scene asks for when left out.
    dim_to: Option<Written<SomeShare>>,
}

/// A distance from the black body, in CIE 1960 uv.
#[derive(Debug)]
struct Duv;

impl Reads for Duv {
    type Value = f64;
    const NAME: &'static str = "Duv";

    fn what() -> String {
        "a distance from the black body".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "number", "exclusiveMinimum": 0, "maximum": 0.05, "examples": [0.006]})
    }

    fn read(text: &str) -> Result<f64, Unread> {
        let number: Option<f64> = text.parse().ok();
        let fits = number.filter(|number| *number > 0.0 && *number <= 0.05);
        fits.ok_or_else(|| {
            let message = format!(
                "`{text}` is not a distance from the black body: it is a number above 0 and at \
                 most 0.05, as in `0.006`"
            );
            Unread::new("out-of-range", message)
        })
    }
}

/// Limits of one run, in place of the project's.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct RunLimitsBlock {
    /// Most light lost at the darkest place, of full light.
    light_drop: Option<Written<SomeShare>>,
    /// Least darkest-to-brightest ratio.
    evenness: Option<Written<Share>>,
    /// Most colour shift.
    colour_shift: Option<Written<Steps>>,
}

fn limit<Q>(value: Q, bound: Bound) -> Limit<Q> {
    Limit {
        value,
        bound,
        source: Source::Project,
    }
}

fn at_most<Q>(value: Q) -> Limit<Q> {
    limit(value, Bound::AtMost)
}

fn at_least<Q>(value: Q) -> Limit<Q> {
    limit(value, Bound::AtLeast)
}

/// The project's limits, with the region's and the trade's defaults for what it does not say.
pub fn of_project(block: Option<&LimitsBlock>, region: Region, desk: &mut Desk) -> Limits {
    let light_drop = block.and_then(|block| desk.read(&block.light_drop));
    let evenness = block.and_then(|block| desk.read(&block.evenness));
    let colour_shift = block.and_then(|block| desk.read(&block.colour_shift));
    let written = block.and_then(|block| block.feed_drop.as_ref());
    let feed_drop = published(
        written,
        Measure::FeedDrop,
        defaults::feed_drop(region),
        desk,
    );
    let driver_load = block.and_then(|block| desk.read(&block.driver_load));
    let written = block.and_then(|block| block.circuit_drop.as_ref());
    let usual = defaults::circuit_drop(region);
    let circuit_drop = published(written, Measure::CircuitDrop, usual, desk);
    let end_gap = block.and_then(|block| desk.read(&block.end_gap));
    let off_locus = block.and_then(|block| desk.read(&block.off_locus));
    let dim_to = block.and_then(|block| desk.read(&block.dim_to));
    let light_drop = light_drop.map_or_else(defaults::light_drop, at_most);
    let evenness = evenness.map(at_least);
    Limits {
        evenness: evenness.unwrap_or_else(|| defaults::evenness(&light_drop)),
        light_drop,
        colour_shift: colour_shift.map_or_else(defaults::colour_shift, at_most),
        feed_drop,
        driver_load: driver_load.map_or_else(defaults::driver_load, at_most),
        circuit_drop,
        end_gap: end_gap.map_or_else(defaults::end_gap, at_most),
        off_locus: off_locus.map_or_else(defaults::off_locus, at_most),
        dim_to,
    }
}

/// The project's own limit, or the one that holds anyway. A published limit is not loosened here:
/// that is complained of.
fn published(
    written: Option<&Written<SomeShare>>,
    measure: Measure,
    usual: Limit<Ratio>,
    desk: &mut Desk,
) -> Limit<Ratio> {
    let Some(written) = written else {
        return usual;
    };
    let Some(value) = desk.one(written) else {
        return usual;
    };
    if let (Source::Published(source), true) = (&usual.source, value > usual.value) {
        let message = format!(
            "`{}: {}` is looser than the published {} ({source})",
            measure.name(),
            written.text,
            ratio::write(usual.value)
        );
        let help = format!(
            "a house rule may loosen it: `measure: {0}`, `at_most: {1}`, `loosens: {2}` and the \
             reason in `because`; every document then says so",
            measure.name(),
            written.text,
            measure.loosens().unwrap_or_default()
        );
        let fault = desk.fault("looser-than-published", message, written.at);
        desk.complaints.push(fault.help(help));
    }
    at_most(value)
}

/// Limits that are others than `base` where the block says so; no published one is loosened. A light drop brings its own evenness
/// with it.
pub fn of_option(block: &LimitsBlock, base: &Limits, desk: &mut Desk) -> Limits {
    let mut limits = base.clone();
    if let Some(drop) = desk.read(&block.light_drop) {
        limits.light_drop = at_most(drop);
        limits.evenness = defaults::evenness(&limits.light_drop);
    }
    if let Some(evenness) = desk.read(&block.evenness) {
        limits.evenness = at_least(evenness);
    }
    if let Some(shift) = desk.read(&block.colour_shift) {
        limits.colour_shift = at_most(shift);
    }
    if let Some(written) = &block.feed_drop {
        let usual = limits.feed_drop.clone();
        limits.feed_drop = published(Some(written), Measure::FeedDrop, usual, desk);
    }
    if let Some(load) = desk.read(&block.driver_load) {
        limits.driver_load = at_most(load);
    }
    if let Some(written) = &block.circuit_drop {
        let usual = limits.circuit_drop.clone();
        limits.circuit_drop = published(Some(written), Measure::CircuitDrop, usual, desk);
    }
    if let Some(gap) = desk.read(&block.end_gap) {
        limits.end_gap = at_most(gap);
    }
    limits
}

/// A run's own limits. A light drop of its own brings its own evenness with it.
pub fn of_run(block: Option<&RunLimitsBlock>, desk: &mut Desk) -> RunLimits {
    let Some(block) = block else {
        return RunLimits::default();
    };
    let light_drop = desk.read(&block.light_drop).map(at_most);
    let evenness = desk.read(&block.evenness).map(at_least);
    let colour_shift = desk.read(&block.colour_shift).map(at_most);
    RunLimits {
        evenness: evenness.or_else(|| light_drop.as_ref().map(defaults::evenness)),
        light_drop,
        colour_shift,
    }
}
