//! What a rule finds about one subject, before its own name and severity are put to it.

use super::verdict::{Outcome, Verdict};
use crate::choose::limits::Checked;
use crate::diagnostic::Place;
use crate::model::assumption::Assumption;
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit};
use crate::quantity::Ratio;
use crate::quantity::figure::{Figure, Unit};
use std::borrow::Cow;
use uom::si::ratio::percent;

/// What a rule finds about one subject.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// What it is about.
    pub subject: String,
    /// Every thing that it is about, where it is put together from several findings.
    pub each: Vec<String>,
    /// How the check ended.
    pub outcome: Outcome,
    /// What was found.
    pub found: Option<Figure>,
    /// The limit.
    pub limit: Option<(Bound, Figure)>,
    /// The formula with this subject's figures in it, and what they come to.
    pub working: Option<String>,
    /// The limit's own source, when it is not the rule's.
    pub source: Option<Cow<'static, str>>,
    /// What to do.
    pub remedy: Option<String>,
    /// Where the thing to change stands.
    pub place: Option<Place>,
}

impl Finding {
    fn bare(subject: String, outcome: Outcome) -> Finding {
        Finding {
            subject,
            each: Vec::new(),
            outcome,
            found: None,
            limit: None,
            working: None,
            source: None,
            remedy: None,
            place: None,
        }
    }

    /// The rule has nothing to say, and why.
    #[must_use]
    pub fn not_here(subject: String, why: String) -> Finding {
        Finding::bare(subject, Outcome::NotHere { why })
    }

    /// A figure is missing: which, where it belongs, who supplies it.
    #[must_use]
    pub fn cannot_tell(subject: String, missing: String) -> Finding {
        Finding::bare(subject, Outcome::CannotTell { missing })
    }

    /// A figure that the reader is told, without a limit.
    #[must_use]
    pub fn told(subject: String, found: Figure) -> Finding {
        let mut finding = Finding::plain(subject, true);
        finding.found = Some(found);
        finding
    }

    /// Yes or no, without a figure.
    #[must_use]
    pub fn plain(subject: String, holds: bool) -> Finding {
        Finding::bare(
            subject,
            if holds {
                Outcome::Holds
            } else {
                Outcome::Broken
            },
        )
    }

    /// A figure against a limit in the same unit; figures in percent, steps and plain numbers.
    #[must_use]
    pub fn measured(subject: String, found: Figure, limit: &Limit<f64>) -> Finding {
        let holds = limit.allows(found.value);
        let mut finding = Finding::plain(subject, holds);
        finding.found = Some(found);
        finding.limit = Some((limit.bound, Figure::new(limit.value, found.unit)));
        finding.source = Some(limit.source.words());
        finding
    }

    /// A share against a limit, shown in percent.
    #[must_use]
    pub fn share(subject: String, found: Ratio, limit: &Limit<Ratio>) -> Finding {
        let mut finding = Finding::plain(subject, limit.allows(found));
        finding.found = Some(Figure::new(found.get::<percent>(), Unit::Percent));
        finding.limit = Some((
            limit.bound,
            Figure::new(limit.value.get::<percent>(), Unit::Percent),
        ));
        finding.source = Some(limit.source.words());
        finding
    }

    /// A figure that was held against its limit where the choosers ask too.
    #[must_use]
    pub fn checked(subject: String, checked: &Checked) -> Finding {
        let mut finding = Finding::plain(subject, checked.keeps);
        finding.found = Some(checked.found);
        finding.limit = Some((checked.bound, checked.limit));
        finding.source = Some(checked.source.words());
        finding
    }

    /// Turns what was found into *cannot tell* when it rests on an assumption; the figure stays,
    /// so that the reader sees what the assumption leads to.
    #[must_use]
    pub fn resting_on(mut self, assumption: Option<&Assumption>) -> Finding {
        if let Some(assumption) = assumption {
            self.outcome = Outcome::CannotTell {
                missing: format!(
                    "{} ({}); the figure shown assumes: {}",
                    assumption.missing, assumption.supplied_by, assumption.statement
                ),
            };
        }
        self
    }

    /// With what to do about it; kept only when it does not hold.
    #[must_use]
    pub fn remedy(mut self, remedy: impl FnOnce() -> String) -> Finding {
        if self.outcome == Outcome::Broken {
            self.remedy = Some(remedy());
        }
        self
    }

    /// With the formula worked on this subject's figures.
    #[must_use]
    pub fn working(mut self, working: impl FnOnce() -> String) -> Finding {
        self.working = Some(working());
        self
    }

    /// The worse of two findings about one subject; this one when they are as bad.
    #[must_use]
    pub fn or_worse(self, other: Finding) -> Finding {
        let rank = |finding: &Finding| finding.outcome.rank();
        if rank(&other) < rank(&self) {
            other
        } else {
            self
        }
    }

    /// With the place of the thing to change.
    #[must_use]
    pub fn at(mut self, place: &Place) -> Finding {
        self.place = Some(place.clone());
        self
    }

    /// With the place of the thing to change, where a file says it.
    #[must_use]
    pub fn at_some(mut self, place: Option<&Place>) -> Finding {
        self.place = place.cloned();
        self
    }

    /// With a source of its own.
    #[must_use]
    pub fn from_source(mut self, source: String) -> Finding {
        self.source = Some(Cow::Owned(source));
        self
    }

    /// With the rule's name, severity and source.
    #[must_use]
    pub fn into_verdict(
        self,
        rule: impl Into<Cow<'static, str>>,
        severity: Severity,
        source: &'static str,
    ) -> Verdict {
        let spare_percent = spare(self.found, self.limit);
        Verdict {
            rule: rule.into(),
            subject: self.subject,
            each: self.each,
            outcome: self.outcome,
            severity,
            found: self.found,
            limit: self.limit,
            working: self.working,
            spare_percent,
            source: self.source.unwrap_or(Cow::Borrowed(source)),
            remedy: self.remedy,
            place: self.place,
        }
    }
}

/// What is left to the limit, in percent of it; negative when the limit is passed.
fn spare(found: Option<Figure>, limit: Option<(Bound, Figure)>) -> Option<f64> {
    let (found, (bound, limit)) = (found?.value, limit?);
    let room = match bound {
        Bound::AtMost => limit.value - found,
        Bound::AtLeast => found - limit.value,
    };
    let share = 100.0 * room / limit.value;
    share.is_finite().then_some(share)
}
