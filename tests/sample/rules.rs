//! What the rules say of the sample job.

use super::place;
use feedpoint::judge::verdict::{Outcome, Verdict};
use feedpoint::model::project::Severity;
use feedpoint::norms::limit::Bound;
use feedpoint::quantity::figure::{Figure, Unit};

pub fn verdicts() -> Vec<Verdict> {
    let light = |run: &str, outcome: Outcome, found: f64| Verdict {
        rule: "strip-light-drop".into(),
        subject: format!("run {run}"),
        each: Vec::new(),
        working: None,
        spare_percent: Some((10.0 - found) * 10.0),
        found: Some(Figure::new(found, Unit::Percent)),
        limit: Some((Bound::AtMost, Figure::new(10.0, Unit::Percent))),
        source: "10 % on a continuous line of light (common practice, no source)".into(),
        remedy: (outcome != Outcome::Holds)
            .then(|| "feed it in the middle as well, or take heavier cable".to_owned()),
        outcome,
        severity: Severity::Fault,
        place: Some(place(24)),
    };
    let missing = "`rails` in strip `white-24`: the datasheet, or a bench reading".to_owned();
    vec![
        light("hall-cove-north", Outcome::Holds, 8.66),
        light("stacks-shelf-1", Outcome::CannotTell { missing }, 13.07),
        Verdict {
            rule: "driver-load-share".into(),
            each: Vec::new(),
            subject: "driver D-03".to_owned(),
            outcome: Outcome::Broken,
            severity: Severity::Caution,
            found: Some(Figure::new(85.5, Unit::Percent)),
            limit: Some((Bound::AtMost, Figure::new(85.0, Unit::Percent))),
            working: None,
            spare_percent: Some(-0.588),
            source: "85 % of the rating (common practice, no source)".into(),
            remedy: Some("take the next larger driver".to_owned()),
            place: None,
        },
        Verdict {
            rule: "price-missing".into(),
            each: Vec::new(),
            subject: "line 4, ceiling-sensor".to_owned(),
            outcome: Outcome::Broken,
            severity: Severity::Fault,
            found: None,
            limit: None,
            working: None,
            spare_percent: None,
            source: "catalogue".into(),
            remedy: Some("give `ceiling-sensor` a price".to_owned()),
            place: Some(place(9)),
        },
        Verdict {
            rule: "circuit-drop".into(),
            each: Vec::new(),
            subject: "circuit C1".to_owned(),
            outcome: Outcome::NotHere {
                why: "no upstream figure".to_owned(),
            },
            severity: Severity::Note,
            found: None,
            limit: None,
            working: None,
            spare_percent: None,
            source: "".into(),
            remedy: None,
            place: None,
        },
    ]
}
