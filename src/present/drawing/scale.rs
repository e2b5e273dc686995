//! Axes in round steps.

use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::{real, whole};

/// Steps that people read easily. A table, so that every machine has the same.
const STEPS: [f64; 21] = [
    0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0,
    2000.0, 5000.0, 10_000.0, 20_000.0, 50_000.0,
];

/// An axis from `low` to `high`, marked every `step`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scale {
    /// Where it begins.
    pub low: f64,
    /// Where it ends.
    pub high: f64,
    /// Distance of its marks.
    pub step: f64,
    /// Decimals that its marks need.
    pub digits: usize,
}

impl Scale {
    /// An axis that begins and ends on a mark, holds `low` to `high`, and has at most `most` steps.
    #[must_use]
    pub fn around(low: f64, high: f64, most: usize) -> Scale {
        let fits = |step: &f64| (high / step).ceil() - (low / step).floor() <= real(most.max(1));
        let step = STEPS.into_iter().find(fits).unwrap_or(STEPS[20]);
        let below = (low / step).floor();
        let above = (high / step).ceil().max(below + 1.0);
        Scale {
            low: below * step,
            high: above * step,
            step,
            digits: digits(step),
        }
    }

    /// An axis from 0 to `length`, which need not be on a mark.
    #[must_use]
    pub fn along(length: f64, most: usize) -> Scale {
        Scale {
            low: 0.0,
            high: length,
            ..Scale::around(0.0, length, most)
        }
    }

    /// Where its marks are, as counted steps so that no rounding adds up.
    #[must_use]
    pub fn marks(&self) -> Vec<f64> {
        let first = (self.low / self.step).round();
        let count = whole((self.high - self.low) / self.step + 1e-9).unwrap_or(0);
        let marks = 0..=count;
        marks.map(|n| (first + real(n)) * self.step).collect()
    }

    /// What is written along an axis of distance: its marks, and its end in place of a mark close
    /// to it.
    #[must_use]
    pub fn distances(&self) -> Vec<(f64, String)> {
        let clear = |mark: &f64| self.high - mark > 0.62 * self.step;
        let marks = self.marks().into_iter().filter(clear);
        let mut written: Vec<(f64, String)> = marks
            .map(|mark| (mark, format!("{} m", self.written(mark))))
            .collect();
        let end = Figure::new(self.high, Unit::Metre).to_string();
        written.push((self.high, end));
        written
    }

    /// A mark as it is written.
    #[must_use]
    pub fn written(&self, mark: f64) -> String {
        format!("{mark:.*}", self.digits)
    }

    /// The share of the axis at which a value lies.
    #[must_use]
    pub fn share(&self, value: f64) -> f64 {
        ((value - self.low) / (self.high - self.low)).clamp(0.0, 1.0)
    }
}

fn digits(step: f64) -> usize {
    if step < 0.1 {
        2
    } else if step < 1.0 {
        1
    } else {
        0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_holds_its_values_in_few_round_steps() {
        let axis = Scale::around(90.2, 100.0, 5);
        assert_eq!((axis.low, axis.high, axis.step), (90.0, 100.0, 2.0));
        assert_eq!(axis.marks(), [90.0, 92.0, 94.0, 96.0, 98.0, 100.0]);
        let volts = Scale::around(23.27, 24.0, 5);
        assert_eq!(volts.marks().len(), 5);
        assert_eq!(volts.written(23.4), "23.4");
    }

    #[test]
    fn a_value_on_its_own_still_has_an_axis() {
        let axis = Scale::around(100.0, 100.0, 5);
        assert!(axis.high > axis.low);
        assert!(axis.share(100.0) >= 0.0);
    }

    #[test]
    fn a_length_ends_where_it_ends() {
        let axis = Scale::along(18.4, 8);
        assert_eq!(axis.high, 18.4);
        assert_eq!(axis.marks().last(), Some(&15.0));
    }
}
