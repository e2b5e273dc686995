//! The drivers of a cupboard have room to stand apart.

use crate::choose::sized::SizedDriver;
use crate::judge::cupboards;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::verdict::Outcome;
use crate::model::project::Severity;
use crate::model::site::{Point, Space};
use crate::norms::defaults::driver_gap;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Length;
use crate::quantity::figure::{Figure, Unit};
use crate::solve::rows;
use uom::si::length::millimeter;

/// The drivers of a cupboard have room to stand apart.
pub static RULE: Rule = Rule {
    id: "driver-space",
    subject: Subject::Driver,
    statement: "the drivers of a cupboard stand in it with 30 mm free around each",
    formula: "sum of (length + 30 mm) × (width + 30 mm) over its drivers, of its own (length − 30 mm) × (width − 30 mm); holds when they also stand in rows and under its height",
    sources: &everywhere("30 mm between drivers (common practice, no source: 20 mm to 50 mm)"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a larger cupboard; fewer, larger drivers; runs moved to another cupboard",
    caution: Some("the gap that a driver’s datasheet asks for goes before the one assumed here"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    cupboards::with_drivers(evidence)
        .into_iter()
        .map(|(cupboard, drivers)| of_cupboard(cupboard, &drivers))
        .collect()
}

fn of_cupboard(cupboard: &Point, drivers: &[&SizedDriver]) -> Finding {
    let subject = format!("cupboard {}", cupboard.name);
    let Some(space) = cupboard.space else {
        let missing = format!("`space` of point `{}` (a measurement)", cupboard.name);
        return Finding::cannot_tell(subject, missing).at_some(cupboard.place.as_ref());
    };
    let sizes = drivers.iter().filter_map(|driver| driver.item.size);
    let sizes: Vec<[Length; 3]> = sizes.collect();
    let mut no_size: Vec<&str> = drivers
        .iter()
        .filter(|driver| driver.item.size.is_none())
        .map(|driver| driver.item.offer.id.as_str())
        .collect();
    no_size.sort_unstable();
    no_size.dedup();
    let mut finding = held(subject, space, &sizes);
    if finding.outcome != Outcome::Broken && !no_size.is_empty() {
        let missing = format!("`size` in driver {} (the datasheet)", no_size.join(", "));
        finding.outcome = Outcome::CannotTell { missing };
    }
    finding
        .working(|| {
            format!(
                "{} drivers on {:.0} mm × {:.0} mm",
                drivers.len(),
                space.length.get::<millimeter>(),
                space.width.get::<millimeter>()
            )
        })
        .at_some(cupboard.place.as_ref())
        .remedy(|| "a larger cupboard, or some of its runs moved to another".to_owned())
}

/// Drivers of known size against the space: too much of it is broken, rows that can be built hold,
/// and between the two only a drawing tells.
fn held(subject: String, space: Space, sizes: &[[Length; 3]]) -> Finding {
    let millimetres = |length: Length| length.get::<millimeter>();
    let gap = millimetres(driver_gap());
    let surface = [space.length, space.width].map(|side| (millimetres(side) - gap).max(0.0));
    let boxes: Vec<[f64; 2]> = sizes
        .iter()
        .map(|[length, width, _]| [*length, *width].map(|side| millimetres(side) + gap))
        .collect();
    let taken: f64 = boxes.iter().map(|[a, b]| a * b).sum();
    let whole = Limit {
        value: 100.0,
        bound: Bound::AtMost,
        source: Source::CommonPractice("30 mm between drivers"),
    };
    let share = Figure::new(100.0 * taken / (surface[0] * surface[1]), Unit::Percent);
    let mut finding = Finding::measured(subject, share, &whole);
    let too_high = space
        .height
        .is_some_and(|most| sizes.iter().any(|[_, _, height]| *height > most));
    let alone = boxes.iter().all(|one| rows::fit(surface, &[*one]));
    if too_high || !alone {
        finding.outcome = Outcome::Broken;
    } else if finding.outcome == Outcome::Holds && !rows::fit(surface, &boxes) {
        let missing = "a drawing of the cupboard: the drivers take less than its space but don’t \
                       stand in plain rows (the installer)";
        finding.outcome = Outcome::CannotTell {
            missing: missing.to_owned(),
        };
    }
    finding
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use std::sync::Arc;

    fn millimetres(value: f64) -> Length {
        Length::new::<millimeter>(value)
    }

    /// The sample with one driver of 200 mm × 40 mm × 30 mm in a cupboard of that space.
    fn job(length: f64, width: f64, height: Option<f64>) -> Sample {
        let mut job = Sample::new();
        job.sizing.drivers.truncate(1);
        job.driver().size = Some([200.0, 40.0, 30.0].map(millimetres));
        let at = job.sizing.drivers[0].cupboard.index;
        Arc::make_mut(&mut job.project.site.points[at]).space = Some(Space {
            length: millimetres(length),
            width: millimetres(width),
            height: height.map(millimetres),
        });
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(259.0, 100.0, None).worst(&RULE), "broken");
        assert_eq!(job(260.0, 99.0, None).worst(&RULE), "broken");
        assert_eq!(job(260.0, 100.0, Some(29.0)).worst(&RULE), "broken");
        // Large enough in all, too narrow for any driver.
        assert_eq!(job(2000.0, 90.0, None).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(260.0, 100.0, Some(30.0)).worst(&RULE), "holds");
        assert_eq!(job(100.0, 260.0, None).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(Sample::new().worst(&RULE), "cannot tell");
        let mut job = job(260.0, 100.0, None);
        job.driver().size = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
