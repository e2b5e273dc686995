//! What is wrong with a section whose readings lie outside their bands: the same ladder is solved
//! with each single fault in it, its one free number fitted, and the faults are ranked by how well
//! they explain all readings together.
//!
//! What may differ without a fault (supply, strip power, lengths and temperature of the feed
//! cables) counts with its own uncertainty, so that readings which only share such a difference are
//! no evidence. Faults are ranked by −2 ln likelihood of normal errors with two added for each free
//! number (Akaike 1974).

pub mod bus;
pub mod case;
pub mod fault;
mod feed_open;
mod fit;
mod further;
mod joined;
mod joint;
mod longer;
mod misfit;
mod return_open;
mod shorted;
pub mod site;
mod supply_low;
mod swapped;
mod thinner;

pub use case::{Case, Meters, Quantity, Reading};
pub use fault::{Core, Fault, Number, Spot};
pub use further::Further;
pub use site::Site;

use misfit::Weights;

/// Every fault that is tried, in the order in which equals are told.
pub const FAULTS: [&Fault; 9] = [
    &feed_open::FAULT,
    &return_open::FAULT,
    &swapped::FAULT,
    &supply_low::FAULT,
    &thinner::FAULT,
    &longer::FAULT,
    &joint::FAULT,
    &shorted::FAULT,
    &joined::FAULT,
];

/// What a free number costs, in −2 ln likelihood. Akaike 1974.
const FREE_NUMBER: f64 = 2.0;
/// How far behind the best a cause may be and still not be told apart from it: 95 % point of χ²
/// with one degree of freedom.
const ALIKE: f64 = 3.84;

/// A fault at a place, fitted to the readings.
#[derive(Debug, Clone)]
pub struct Cause {
    /// Which fault.
    pub fault: &'static Fault,
    /// Where.
    pub spot: Spot,
    /// Its free number, fitted, where it has one.
    pub number: Option<f64>,
    /// χ² of the readings with it.
    pub misfit: f64,
    /// −2 ln likelihood with the cost of its free number; less is better.
    pub score: f64,
    /// Whether the readings are such as it would give: χ² at most three standard deviations above
    /// what χ² comes to on average.
    pub fits: bool,
}

/// What was found.
#[derive(Debug, Clone)]
pub struct Diagnosis {
    /// χ² of the readings if nothing is wrong.
    pub healthy: f64,
    /// Readings that were weighed.
    pub readings: usize,
    /// Causes, the best first: each fault at each place once, a short at the likeliest place.
    pub causes: Vec<Cause>,
    /// How many of them, from the first, the readings don't tell apart; at least 1 where there is
    /// a cause.
    pub alike: usize,
    /// The reading that would best tell the first from the next that is like it; `None` where they
    /// are told apart, or where no reading would.
    pub further: Option<Further>,
}

impl Diagnosis {
    /// The causes that the readings don't tell apart.
    #[must_use]
    pub fn first(&self) -> &[Cause] {
        self.causes.get(..self.alike).unwrap_or_default()
    }
}

/// Ranks the faults of a section by how well they explain its readings. `None` when there are no
/// readings, or when the section has no working point even without a fault.
#[must_use]
pub fn diagnose(case: &Case, readings: &[Reading]) -> Option<Diagnosis> {
    if readings.is_empty() {
        return None;
    }
    let healthy = Site::of(case);
    let usual = Weights::of(case, &healthy, readings)?;
    let mut causes: Vec<Cause> = Vec::new();
    for fault in FAULTS {
        let mut found: Vec<Cause> = (fault.spots)(case, readings)
            .into_iter()
            .filter_map(|spot| fit::cause(case, readings, fault, spot, &usual))
            .collect();
        if fault.one_place {
            found.sort_by(|a, b| a.score.total_cmp(&b.score));
            found.truncate(1);
        }
        causes.extend(found);
    }
    causes.sort_by(|a, b| a.score.total_cmp(&b.score));
    let best = causes.first().map_or(0.0, |cause| cause.score);
    let alike = causes
        .iter()
        .take_while(|cause| cause.score <= best + ALIKE)
        .count();
    let further = further::tells_apart(case, readings, causes.get(..alike).unwrap_or_default());
    Some(Diagnosis {
        healthy: usual.misfit(&healthy, readings)?,
        readings: readings.len(),
        causes,
        alike,
        further,
    })
}

/// How far apart two sites are by these readings, in standard deviations: the square root of
/// (p − q)ᵀ Σ⁻¹ (p − q) with Σ of the first. `None` when one has no working point.
#[must_use]
pub fn apart(case: &Case, readings: &[Reading], one: &Site, other: &Site) -> Option<f64> {
    let weights = Weights::of(case, one, readings)?;
    let there = Site::read_all(other, readings)?;
    let as_if = readings.iter().zip(there);
    let as_if: Vec<Reading> = as_if.map(|(it, value)| Reading { value, ..*it }).collect();
    Some(weights.misfit(one, &as_if)?.sqrt())
}
