//! Strip is bent as its maker allows.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::run::Bend;
use crate::model::strip::BendWay;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::millimeter;

/// Strip is bent as its maker allows.
pub static RULE: Rule = Rule {
    id: "bend-radius",
    subject: Subject::Strip,
    statement: "a bend goes the way in which the strip is flexible and is no tighter than its least radius",
    formula: "radius and way of each of the run’s `bends` against `bend` of the strip",
    sources: &everywhere(
        "datasheet; plain strip is never bent across its width (common practice, no source)",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a strip that bends sideways; or cut, and joined round the corner with a loop of cable",
    caution: Some("bending back and forth cracks copper: sections go out later, and come back"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.runs.iter().flat_map(of_run).collect()
}

fn of_run(sized: &SizedRun) -> Vec<Finding> {
    let bends = sized.run.detail.bends.iter().zip(1..);
    bends
        .map(|(bend, number)| of_bend(sized, bend, number))
        .collect()
}

fn of_bend(sized: &SizedRun, bend: &Bend, number: usize) -> Finding {
    let subject = format!("run {}, bend {number}", sized.run.name);
    let strip = &sized.run.strip;
    let Some(allowed) = strip.detail.bend else {
        let missing = format!("`bend` in strip `{}` (the datasheet)", strip.offer.id);
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    };
    if bend.way != allowed.way {
        return Finding::plain(subject, false).at(&bend.place).remedy(|| {
            format!(
                "strip `{}` bends to its {}, not to its {}: choose one that does, or cut it there \
                 and join it with a loop of cable",
                strip.offer.id,
                allowed.way.name(),
                bend.way.name()
            )
        });
    }
    let limit = Limit {
        value: allowed.radius.get::<millimeter>(),
        bound: Bound::AtLeast,
        source: Source::Datasheet,
    };
    let found = Figure::new(bend.radius.get::<millimeter>(), Unit::Millimetre);
    let way = match bend.way {
        BendWay::Face => "out of its plane",
        BendWay::Side => "across its width",
    };
    Finding::measured(subject, found, &limit)
        .working(|| format!("bent {way} round {found}"))
        .at(&bend.place)
        .remedy(|| {
            format!(
                "bend it round at least {}",
                Figure::new(limit.value, Unit::Millimetre)
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::strip::BendAllowed;
    use crate::quantity::Length;

    /// The cove with a bend of 60 mm out of its plane, and what its strip allows.
    fn job(allowed: Option<(BendWay, f64)>) -> Sample {
        let old = "group: cove, cupboard: cupboard-a";
        let mut job = Sample::with(old, &format!("{old}, bends: [{{radius: 60 mm}}]"));
        job.strip(0).detail.bend = allowed.map(|(way, radius)| BendAllowed {
            way,
            radius: Length::new::<millimeter>(radius),
        });
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some((BendWay::Face, 60.1))).worst(&RULE), "broken");
        assert_eq!(job(Some((BendWay::Side, 20.0))).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some((BendWay::Face, 60.0))).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }
}
