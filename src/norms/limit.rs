//! A limit: its value, which side of it is allowed, and where it comes from.
//!
//! The choosers and the judges ask the same question of the same limit through [`Limit::allows`],
//! so that what was chosen is never judged broken.

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

impl std::fmt::Display for Source {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Source::Published(text) => f.write_str(text),
            Source::CommonPractice(text) => write!(f, "{text} (common practice, no source)"),
            Source::Datasheet => f.write_str("datasheet"),
            Source::Project => f.write_str("project file"),
            Source::Loosened(said) => f.write_str(said),
        }
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
