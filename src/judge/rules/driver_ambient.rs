//! Drivers stand where they are cool enough.

use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::Temperature;
use crate::quantity::figure::{Figure, Unit};
use uom::si::thermodynamic_temperature::degree_celsius;

/// Drivers stand where they are cool enough.
pub static RULE: Rule = Rule {
    id: "driver-ambient",
    subject: Subject::Driver,
    statement: "the ambient at a driver, the rise of its enclosure included, is within what it may stand",
    formula: "ambient of the cupboard against the driver’s highest ambient, or the last of its derating steps",
    sources: &everywhere("datasheet; IEC 61347-1"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "ventilate; space the drivers apart; a driver for a higher ambient; another cupboard",
    caution: Some(
        "keep drivers ventilated: each 10 K above their case limit roughly halves their life (common practice, no source)",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.drivers.iter().map(of_driver).collect()
}

fn of_driver(driver: &SizedDriver) -> Finding {
    let subject = format!("driver {}", driver.number);
    let item = &driver.item;
    let Some(ambient) = driver.cupboard.ambient else {
        let missing = format!(
            "`ambient` of point `{}` (a reading in the cupboard)",
            driver.cupboard.name
        );
        return Finding::cannot_tell(subject, missing).at_some(driver.cupboard.place.as_ref());
    };
    let Some(most) = item
        .derating
        .last()
        .map(|(most, _)| *most)
        .or(item.most_ambient)
    else {
        let missing = format!("`ambient` in driver `{}` (the datasheet)", item.offer.id);
        return Finding::cannot_tell(subject, missing).at(&item.offer.place);
    };
    let celsius = |t: Temperature| Figure::new(t.get::<degree_celsius>(), Unit::Celsius);
    let mut finding = Finding::plain(subject, ambient <= most);
    finding.found = Some(celsius(ambient));
    finding.limit = Some((Bound::AtMost, celsius(most)));
    finding
        .working(|| format!("{} in cupboard {}", celsius(ambient), driver.cupboard.name))
        .at(&item.offer.place)
        .remedy(|| "ventilate the cupboard, or a driver for a higher ambient".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.driver().most_ambient = Some(Temperature::new::<degree_celsius>(34.9));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.driver().most_ambient = Some(Temperature::new::<degree_celsius>(35.0));
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.driver().most_ambient = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
