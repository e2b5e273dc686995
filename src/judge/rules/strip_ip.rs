//! Strip in a wet place is sealed for it.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_60529::WET_PLACE;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};

/// Strip in a wet place is sealed for it.
pub static RULE: Rule = Rule {
    id: "strip-ip",
    subject: Subject::Strip,
    statement: "a strip in a wet place keeps out at least splashing water",
    formula: "second numeral of the strip’s IP code, at least 4 where `wet: yes`",
    sources: &everywhere(
        "IEC 60529 second numeral 4 (splashing); that a wet place asks for it: common practice, no source",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a sealed strip, with sealed ends and joints",
    caution: Some(
        "a cut sealed strip loses its rating until it is closed again with the maker’s kit",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .sizing
        .runs
        .iter()
        .filter(|sized| sized.run.wet)
        .map(of_run)
        .collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let strip = &sized.run.strip.offer;
    let Some((_, water)) = sized.run.strip.ingress else {
        let missing = format!("`ingress` in strip `{}` (the datasheet)", strip.id);
        return Finding::cannot_tell(subject, missing).at(&strip.place);
    };
    let mut finding = Finding::plain(subject, water >= WET_PLACE);
    finding.found = Some(Figure::new(f64::from(water), Unit::Count));
    finding.limit = Some((
        Bound::AtLeast,
        Figure::new(f64::from(WET_PLACE), Unit::Count),
    ));
    finding
        .at(&sized.run.place)
        .remedy(|| format!("choose a strip of IPx{WET_PLACE} or better for this run"))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.strip(2).ingress = Some((2, 3));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.strip(2).ingress = Some((4, 4));
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.strip(2).ingress = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
