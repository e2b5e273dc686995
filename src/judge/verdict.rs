//! What a rule says of a subject.

use crate::diagnostic::Place;
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::Figure;
use std::borrow::Cow;

/// How a check ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Outcome {
    /// The rule is kept.
    Holds,
    /// The rule is broken.
    Broken,
    /// A figure is missing.
    CannotTell {
        /// The missing key and where it belongs, and who supplies it.
        missing: String,
    },
    /// The rule has nothing to say here.
    NotHere {
        /// Why: region or kind.
        why: String,
    },
}

impl Outcome {
    /// Whether something is left to do or to find out: broken, or not to be told.
    #[must_use]
    pub fn is_open(&self) -> bool {
        matches!(self, Outcome::Broken | Outcome::CannotTell { .. })
    }

    /// Its place among the outcomes, worst first.
    #[must_use]
    pub fn rank(&self) -> usize {
        match self {
            Outcome::Broken => 0,
            Outcome::CannotTell { .. } => 1,
            Outcome::Holds => 2,
            Outcome::NotHere { .. } => 3,
        }
    }

    /// The word used in tables and JSON.
    #[must_use]
    pub fn name(&self) -> &'static str {
        match self {
            Outcome::Holds => "holds",
            Outcome::Broken => "broken",
            Outcome::CannotTell { .. } => "cannot tell",
            Outcome::NotHere { .. } => "not here",
        }
    }
}

/// A verdict of one rule on one subject.
#[derive(Debug, Clone, PartialEq)]
pub struct Verdict {
    /// The rule's id.
    pub rule: Cow<'static, str>,
    /// What it is about: `run hall-cove-north`, `driver D-04`, `loop L1`.
    pub subject: String,
    /// Every thing that it is about, where one missing figure is told once for several.
    pub each: Vec<String>,
    /// How the check ended.
    pub outcome: Outcome,
    /// How bad it is when broken.
    pub severity: Severity,
    /// What was found.
    pub found: Option<Figure>,
    /// The limit.
    pub limit: Option<(Bound, Figure)>,
    /// The formula with this subject's figures in it, and what they come to.
    pub working: Option<String>,
    /// What is left to the limit, in percent of it; negative when broken.
    pub spare_percent: Option<f64>,
    /// Where the limit comes from.
    pub source: Cow<'static, str>,
    /// What to do, when broken or not to be told.
    pub remedy: Option<String>,
    /// Where in the files the thing to change stands.
    pub place: Option<Place>,
}

impl Verdict {
    /// The things that it is about, each by itself.
    pub fn subjects(&self) -> impl Iterator<Item = &str> {
        let alone = self.each.is_empty().then_some(&self.subject);
        self.each.iter().chain(alone).map(String::as_str)
    }
}
