//! A tail thinner than its feed cable is short.

use crate::choose::limits::accessories;
use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::extra::{Accessory, Per};
use crate::model::project::Severity;
use crate::norms::defaults::tail_length;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Area;
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::millimeter;

/// A tail thinner than its feed cable is short.
pub static RULE: Rule = Rule {
    id: "cable-tail-step-down",
    subject: Subject::Cable,
    statement: "a tail at the strip that is thinner than the feed cable joined to it is at most 150 mm long",
    formula: "length of the tail, where its conductor is smaller than that of a feed cable it is joined to",
    sources: &everywhere("150 mm (common practice, no source)"),
    severity: Severity::Note,
    severities: &[],
    remedy: "a thicker tail; a shorter one",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let all = evidence.project.catalogue.accessories.iter();
    all.map(AsRef::as_ref)
        .filter(|accessory: &&Accessory| {
            accessory.per == Per::Feed
                && (accessory.tail.is_some() || accessory.most_current.is_some())
        })
        .filter_map(|accessory| of_tail(evidence, accessory))
        .collect()
}

/// `None` where no run gets the tail, or where it is as thick as every cable it is joined to.
fn of_tail(evidence: &Evidence<'_>, accessory: &Accessory) -> Option<Finding> {
    let runs = evidence.sizing.runs.iter();
    let fed: Vec<_> = runs
        .filter(|sized| {
            accessories([accessory], &sized.run, Per::Feed)
                .next()
                .is_some()
        })
        .flat_map(|sized| &sized.sections)
        .map(|section| section.cable.size.area())
        .collect();
    let thickest = fed.into_iter().reduce(Area::max)?;
    let subject = items::subject(accessory.offer.kind, &accessory.offer.id);
    let place = &accessory.offer.place;
    let id = &accessory.offer.id;
    let Some(tail) = accessory.tail else {
        let missing = format!("`tail: {{size: …, length: …}}` in accessory `{id}` (the datasheet)");
        return Some(Finding::cannot_tell(subject, missing).at(place));
    };
    if tail.size.area() >= thickest {
        return Some(Finding::plain(subject, true).at(place));
    }
    let Some(length) = tail.length else {
        let missing = format!("`tail.length` in accessory `{id}` (the datasheet)");
        return Some(Finding::cannot_tell(subject, missing).at(place));
    };
    let most = Limit {
        value: tail_length().get::<millimeter>(),
        bound: Bound::AtMost,
        source: Source::CommonPractice("150 mm"),
    };
    let found = Figure::new(length.get::<millimeter>(), Unit::Millimetre);
    Some(
        Finding::measured(subject, found, &most)
            .at(place)
            .remedy(|| {
                format!(
                    "a tail of at most {}, or one as thick as its feed cable",
                    Figure::new(most.value, Unit::Millimetre)
                )
            }),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::extra::Tail;
    use crate::quantity::Length;
    use crate::quantity::conductor::ConductorSize;
    use std::sync::Arc;
    use uom::si::area::square_millimeter;

    fn job(mm2: f64, length: Option<f64>) -> Sample {
        let mut job = Sample::new();
        for accessory in &mut job.project.catalogue.accessories {
            Arc::make_mut(accessory).tail = Some(Tail {
                size: ConductorSize::Metric(Area::new::<square_millimeter>(mm2)),
                length: length.map(Length::new::<millimeter>),
            });
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(0.75, Some(151.0)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(0.75, Some(150.0)).worst(&RULE), "holds");
        assert_eq!(job(16.0, None).worst(&RULE), "holds", "no step down");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(0.75, None).worst(&RULE), "cannot tell");
        let mut job = Sample::new();
        for accessory in &mut job.project.catalogue.accessories {
            Arc::make_mut(accessory).tail = None;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
