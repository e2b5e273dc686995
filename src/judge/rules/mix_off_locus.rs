//! Mixed whites stay near the black body.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::strip::{Channels, Strip};
use crate::norms::limit::Limit;
use crate::quantity::Temperature;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use crate::solve::colour::{Chromaticity, White, mix};
use uom::si::thermodynamic_temperature::kelvin;

/// Mixed whites stay near the black body.
pub static RULE: Rule = Rule {
    id: "mix-off-locus",
    subject: Subject::Scene,
    statement: "no mix of a strip’s two whites is further from the black body than allowed",
    formula: "distance Duv (CIE 1960 uv) of mixes from warm to cool, each white on the black body itself: the mixes lie on the chord below the curve",
    sources: &everywhere("Duv within ±0.006 (common practice, no source)"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "whites that are nearer to each other; a strip of three channels",
    caution: Some("whites far apart mix to pink in the middle of their range"),
    check,
};

/// Mixes tried between warm and cool.
const MIXES: usize = 50;

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let mut seen: Vec<&str> = Vec::new();
    let mut findings = Vec::new();
    for sized in &evidence.sizing.runs {
        let id = sized.run.strip.offer.id.as_str();
        if !seen.contains(&id) {
            seen.push(id);
            findings.extend(of_strip(sized, &evidence.project.limits.off_locus));
        }
    }
    findings
}

/// `None` for a single colour.
fn of_strip(sized: &SizedRun, most: &Limit<f64>) -> Option<Finding> {
    let strip: &Strip = &sized.run.strip;
    let Channels::TunableWhite { warm, cool } = &strip.channels else {
        return None;
    };
    let subject = format!("strip {}", strip.offer.id);
    let place = &strip.offer.place;
    let (Some(warm), Some(cool)) = (warm.white, cool.white) else {
        let missing = format!("`white` in strip `{}` (the datasheet)", strip.offer.id);
        return Some(Finding::cannot_tell(subject, missing).at(place));
    };
    let worst = furthest(warm, cool)?;
    let found = Figure::new(worst.duv.abs(), Unit::Chromaticity);
    let finding = Finding::measured(subject, found, most)
        .working(|| {
            format!(
                "{:.0} K and {:.0} K mixed: Duv {} at {:.0} K",
                warm.get::<kelvin>(),
                cool.get::<kelvin>(),
                format!("{:.4}", worst.duv).replace('-', "−"),
                worst.temperature.get::<kelvin>()
            )
        })
        .at(place)
        .remedy(|| "choose a strip whose warm and cool white are nearer to each other".to_owned());
    Some(finding)
}

/// The mix that is furthest from the black body.
fn furthest(warm: Temperature, cool: Temperature) -> Option<White> {
    let (warm, cool) = (
        Chromaticity::black_body(warm),
        Chromaticity::black_body(cool),
    );
    let shares = (1..MIXES).map(|place| real(place) / real(MIXES));
    let whites = shares.filter_map(|share| mix(warm, cool, share).white());
    whites.max_by(|a, b| a.duv.abs().total_cmp(&b.duv.abs()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// The sample with a limit on Duv just above or below what 2700 K and 5000 K mix to.
    fn job(share: f64) -> Sample {
        let mut job = Sample::new();
        let kelvins = Temperature::new::<kelvin>;
        let worst = furthest(kelvins(2700.0), kelvins(5000.0)).expect("a mix");
        job.project.limits.off_locus.value = worst.duv.abs() * share;
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(0.999).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(1.0).worst(&RULE), "holds");
    }

    #[test]
    fn whites_far_apart_mix_to_about_six_thousandths_below_the_black_body() {
        // Trade figure, common practice without a source: 2700 K with 6500 K, Duv about −0.006.
        let kelvins = Temperature::new::<kelvin>;
        let worst = furthest(kelvins(2700.0), kelvins(6500.0)).expect("a mix");
        assert!((worst.duv + 0.006).abs() < 0.0006, "{}", worst.duv);
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = job(1.0);
        if let Channels::TunableWhite { warm, .. } = &mut job.strip(0).channels {
            warm.white = None;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
