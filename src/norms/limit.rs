//! A limit: its value, which side of it is allowed, and where it comes from.
//!
//! The choosers and the judges ask the same question of the same limit through [`Limit::allows`],
//! so that what was chosen is never judged broken.

use std::borrow::Cow;

/// Which side of a limit is allowed. A figure that equals its limit is allowed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bound {
    /// The figure may be at most the limit.
    AtMost,
    /// The figure must be at least the limit.
    AtLeast,
}

/// Where a limit comes from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Source {
    /// A published standard or handbook, with clause or table.
    Published(&'static str),
    /// A default which the trade uses, without a source.
    CommonPractice(&'static str),
    /// The maker's datasheet, through the catalogue.
    Datasheet,
    /// The project file sets it.
    Project,
    /// The project file loosened a published limit: what it was, by which rule of the house, why.
    Loosened(String),
}

impl Source {
    /// It in words.
    #[must_use]
    pub fn words(&self) -> Cow<'static, str> {
        match self {
            Source::Published(text) => Cow::Borrowed(text),
            Source::CommonPractice(text) => {
                Cow::Owned(format!("{text} (common practice, no source)"))
            }
            Source::Datasheet => Cow::Borrowed("datasheet"),
            Source::Project => Cow::Borrowed("project file"),
            Source::Loosened(said) => Cow::Owned(said.clone()),
        }
    }
}

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.words())
    }
}

/// A limit on a quantity `Q` (a `uom` quantity, a count or a plain number).
#[derive(Debug, Clone, PartialEq)]
pub struct Limit<Q> {
    /// The limiting value.
    pub value: Q,
    /// Which side is allowed.
    pub bound: Bound,
    /// Where it comes from.
    pub source: Source,
}

/// Figures within this relative distance of their limit count as equal to it: rounding in the
/// arithmetic must not decide a verdict.
const ROUNDING: f64 = 1e-9;

impl<Q: Copy + PartialOrd + std::ops::Mul<f64, Output = Q>> Limit<Q> {
    /// Whether `found` keeps this limit. `NaN` never does.
    #[must_use]
    pub fn allows(&self, found: Q) -> bool {
        match self.bound {
            Bound::AtMost => found <= self.value * (1.0 + ROUNDING),
            Bound::AtLeast => found >= self.value * (1.0 - ROUNDING),
        }
    }
}

impl Limit<usize> {
    /// Whether a count keeps this limit.
    #[must_use]
    pub fn allows_count(&self, found: usize) -> bool {
        match self.bound {
            Bound::AtMost => found <= self.value,
            Bound::AtLeast => found >= self.value,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn limit<Q>(value: Q, bound: Bound) -> Limit<Q> {
        Limit {
            value,
            bound,
            source: Source::Project,
        }
    }

    #[test]
    fn what_equals_its_limit_is_allowed_and_what_is_past_it_is_not() {
        let most = limit(5.0, Bound::AtMost);
        assert_eq!(
            [4.9, 5.0, 5.1].map(|it| most.allows(it)),
            [true, true, false]
        );
        let least = limit(5.0, Bound::AtLeast);
        assert_eq!(
            [4.9, 5.0, 5.1].map(|it| least.allows(it)),
            [false, true, true]
        );
        assert!(!most.allows(f64::NAN) && !least.allows(f64::NAN));
    }

    #[test]
    fn a_count_that_equals_its_limit_is_allowed_and_one_past_it_is_not() {
        let most = limit(5, Bound::AtMost);
        assert_eq!(
            [4, 5, 6].map(|it| most.allows_count(it)),
            [true, true, false]
        );
        let least = limit(5, Bound::AtLeast);
        assert_eq!(
            [4, 5, 6].map(|it| least.allows_count(it)),
            [false, true, true]
        );
    }

    // 0.1 + 0.2 comes to a little more than 0.3; 2 parts in 10⁹ are not rounding.
    #[test]
    fn rounding_decides_no_verdict_and_anything_more_does() {
        let most = limit(0.3, Bound::AtMost);
        assert!(most.allows(0.1 + 0.2));
        assert!(!most.allows(0.3 * (1.0 + 2e-9)));
        let least = limit(0.1 + 0.2, Bound::AtLeast);
        assert!(least.allows(0.3));
        assert!(!least.allows(0.3 * (1.0 - 2e-9)));
    }
}
