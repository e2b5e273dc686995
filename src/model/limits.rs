//! The limits a project is judged by: defaults of the region and the trade, or the project's own.

use crate::norms::limit::Limit;
use crate::quantity::{Length, Ratio};

/// Limits of the whole project, complete: what the file does not say has its default.
#[derive(Debug, Clone, PartialEq)]
pub struct Limits {
    /// Most light lost at the darkest segment, as a share of nominal light.
    pub light_drop: Limit<Ratio>,
    /// Least ratio of darkest to brightest segment of a run.
    pub evenness: Limit<Ratio>,
    /// Most colour shift between any two places of a run, in steps of 0.0011 in u′v′.
    pub colour_shift: Limit<f64>,
    /// Most voltage lost in the feed cable and the strip to its furthest segment, as a share of
    /// nominal.
    pub feed_drop: Limit<Ratio>,
    /// Most load of a driver as a share of its rating at the cupboard's ambient.
    pub driver_load: Limit<Ratio>,
    /// Most voltage lost from the panel to a cupboard, as a share of the mains voltage.
    pub circuit_drop: Limit<Ratio>,
    /// Most a run may fall short of the length asked for.
    pub end_gap: Limit<Length>,
    /// Most distance of a mixed white from the black body, Duv in CIE 1960 uv, either side.
    pub off_locus: Limit<f64>,
    /// Lowest light that dimming must reach; `None`: the lowest that a scene asks for.
    pub dim_to: Option<Ratio>,
}

/// Limits of one run that stand in place of the project's.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct RunLimits {
    /// In place of [`Limits::light_drop`].
    pub light_drop: Option<Limit<Ratio>>,
    /// In place of [`Limits::evenness`].
    pub evenness: Option<Limit<Ratio>>,
    /// In place of [`Limits::colour_shift`].
    pub colour_shift: Option<Limit<f64>>,
}

impl Limits {
    /// These limits with a run's own in their place.
    #[must_use]
    pub fn of_run(&self, own: &RunLimits) -> Limits {
        let mut limits = self.clone();
        if let Some(limit) = &own.light_drop {
            limits.light_drop = limit.clone();
        }
        if let Some(limit) = &own.evenness {
            limits.evenness = limit.clone();
        }
        if let Some(limit) = &own.colour_shift {
            limits.colour_shift = limit.clone();
        }
        limits
    }
}
