//! Whites are sent as whole mirek.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::settings;
use crate::model::project::Severity;
use crate::norms::iec_62386::MIREK;
use crate::norms::limit::Bound;
use crate::quantity::Temperature;
use crate::quantity::figure::{Figure, Unit};
use crate::solve::dimming;
use uom::si::thermodynamic_temperature::kelvin;

/// Whites are sent as whole mirek.
pub static RULE: Rule = Rule {
    id: "mirek-rounding",
    subject: Subject::Scene,
    statement: "a white is sent as a whole number of mirek, which gives a white a little beside it",
    formula: "10⁶ / colour temperature, rounded and not cut off; 1 to 65 534",
    sources: &everywhere("IEC 62386-209"),
    severity: Severity::Note,
    severities: &[],
    remedy: "print both, kelvin and mirek; a white between 16 K and 1 000 000 K",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    settings::all(evidence)
        .into_iter()
        .filter_map(|(subject, setting)| Some(of_white(subject, setting.white?).at(&setting.place)))
        .collect()
}

fn of_white(subject: String, white: Temperature) -> Finding {
    let asked = white.get::<kelvin>();
    let figure = |mirek: f64| Figure::new(mirek, Unit::Mirek);
    let sent = dimming::mirek(white);
    let mut finding = Finding::plain(subject, sent.is_some());
    finding.found = Some(figure(sent.map_or(1e6 / asked, f64::from)));
    finding.limit = Some((Bound::AtMost, figure(f64::from(MIREK.1))));
    finding
        .working(|| {
            let gives = sent
                .and_then(dimming::of_mirek)
                .map_or(asked, |t| t.get::<kelvin>());
            format!(
                "10⁶ / {asked:.0} K = {:.2}, sent as {}: {gives:.0} K",
                1e6 / asked,
                sent.map_or_else(|| "nothing".to_owned(), |mirek| mirek.to_string())
            )
        })
        .remedy(|| "ask for a white that can be sent: 16 K to 1 000 000 K".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job(white: f64) -> Sample {
        let mut job = Sample::new();
        job.project.scenes[0].settings[0].white = Some(Temperature::new::<kelvin>(white));
        job
    }

    #[test]
    fn breaks_beyond_what_can_be_sent() {
        assert_eq!(job(15.2).worst(&RULE), "broken");
        assert_eq!(job(2_100_000.0).worst(&RULE), "broken");
    }

    #[test]
    fn holds_and_rounds() {
        let job = job(4100.0);
        assert_eq!(job.worst(&RULE), "holds");
        let finding = check(&job.evidence()).remove(0);
        assert_eq!(finding.found.expect("a figure").number(), "244");
        assert_eq!(
            finding.working.as_deref(),
            Some("10⁶ / 4100 K = 243.90, sent as 244: 4098 K")
        );
    }
}
