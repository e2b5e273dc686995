//! Strip lies where it is neither too hot nor too cold.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::Temperature;
use crate::quantity::figure::{Figure, Unit};
use uom::si::thermodynamic_temperature::degree_celsius;

/// Strip lies where it is neither too hot nor too cold.
pub static RULE: Rule = Rule {
    id: "strip-ambient",
    subject: Subject::Strip,
    statement: "the ambient at a strip is within the range of its sheet",
    formula: "`ambient` of the run, or of its room, against the strip’s coolest and hottest",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "move or ventilate it; a strip for that ambient; less power",
    caution: Some("saunas, plant spaces and sunlit sills need the hot figure, not the room’s"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence.sizing.runs.iter().map(of_run).collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let (run, strip) = (&sized.run, &sized.run.strip);
    let Some(most) = strip.detail.most_ambient else {
        let missing = format!(
            "`ambient.most` in strip `{}` (the datasheet)",
            strip.offer.id
        );
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    };
    let Some(ambient) = run.ambient.or(run.room.ambient) else {
        let missing = format!("`ambient` of point `{}` (a reading on site)", run.room.name);
        return Finding::cannot_tell(subject, missing).at_some(run.room.place.as_ref());
    };
    let celsius = |t: Temperature| Figure::new(t.get::<degree_celsius>(), Unit::Celsius);
    let too_cold = strip.detail.least_ambient.filter(|least| ambient < *least);
    let mut finding = Finding::plain(subject, ambient <= most && too_cold.is_none());
    finding.found = Some(celsius(ambient));
    finding.limit = Some(match too_cold {
        Some(least) => (Bound::AtLeast, celsius(least)),
        None => (Bound::AtMost, celsius(most)),
    });
    finding
        .working(|| format!("{} where strip `{}` lies", celsius(ambient), strip.offer.id))
        .at(&run.place)
        .remedy(|| format!("choose a strip for {}, or move the run", celsius(ambient)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// The cove at 40 °C with a strip for a range of ambients.
    fn job(least: Option<f64>, most: Option<f64>) -> Sample {
        let old = "group: cove, cupboard: cupboard-a";
        let mut job = Sample::with(old, &format!("{old}, ambient: 40 °C"));
        job.sizing.runs.truncate(1);
        job.strip(0).detail.least_ambient = least.map(Temperature::new::<degree_celsius>);
        job.strip(0).detail.most_ambient = most.map(Temperature::new::<degree_celsius>);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(None, Some(39.9)).worst(&RULE), "broken");
        assert_eq!(job(Some(40.1), Some(60.0)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(40.0), Some(40.0)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None, None).worst(&RULE), "cannot tell");
    }
}
