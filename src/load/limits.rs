//! Limits of a project and of a run.

use super::desk::Desk;
use super::measure::{Distance, LoadShare, Share, SomeShare, Steps};
use super::written::Written;
use crate::model::limits::{Limits, RunLimits};
use crate::norms::defaults;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;
use schemars::JsonSchema;
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
    let feed_drop = block.and_then(|block| desk.read(&block.feed_drop));
    let driver_load = block.and_then(|block| desk.read(&block.driver_load));
    let circuit_drop = block.and_then(|block| desk.read(&block.circuit_drop));
    let end_gap = block.and_then(|block| desk.read(&block.end_gap));
    let light_drop = light_drop.map_or_else(defaults::light_drop, at_most);
    let evenness = evenness.map(at_least);
    Limits {
        evenness: evenness.unwrap_or_else(|| defaults::evenness(&light_drop)),
        light_drop,
        colour_shift: colour_shift.map_or_else(defaults::colour_shift, at_most),
        feed_drop: feed_drop.map_or_else(|| defaults::feed_drop(region), at_most),
        driver_load: driver_load.map_or_else(defaults::driver_load, at_most),
        circuit_drop: circuit_drop.map_or_else(|| defaults::circuit_drop(region), at_most),
        end_gap: end_gap.map_or_else(defaults::end_gap, at_most),
    }
}

/// Limits that are others than `base` where the block says so. A light drop brings its own evenness
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
    if let Some(drop) = desk.read(&block.feed_drop) {
        limits.feed_drop = at_most(drop);
    }
    if let Some(load) = desk.read(&block.driver_load) {
        limits.driver_load = at_most(load);
    }
    if let Some(drop) = desk.read(&block.circuit_drop) {
        limits.circuit_drop = at_most(drop);
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
