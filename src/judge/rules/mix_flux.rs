//! A scene gives the light that is asked of it.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::settings;
use crate::model::driver::Mixing;
use crate::model::project::Severity;
use crate::model::scene::SceneSetting;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use crate::solve::case::pair;
use crate::solve::mix::duty_for;
use uom::si::ratio::ratio;

/// A scene gives the light that is asked of it.
pub static RULE: Rule = Rule {
    id: "mix-flux",
    subject: Subject::Scene,
    statement: "at a scene’s level and white each metre of strip gives at least the light that the scene asks for",
    formula: "level × Σ duty of each channel × its `flux`, × light of the darkest place; duties give the white, sum to 1 where the driver’s whites share, and the greater is 1 where both may be full on; against `at_least`",
    sources: &everywhere("sum of the channels’ lumens; project file"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a stronger strip; a higher level; a driver that has both whites full on",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    settings::all(evidence)
        .into_iter()
        .filter(|(_, setting)| setting.at_least.is_some())
        .filter_map(|(subject, setting)| of_setting(evidence, &subject, setting))
        .collect()
}

/// The worst run of the group.
fn of_setting(evidence: &Evidence<'_>, subject: &str, setting: &SceneSetting) -> Option<Finding> {
    let of_group = |sized: &&SizedRun| sized.run.group.name == setting.group.name;
    let runs = evidence.sizing.runs.iter().filter(of_group);
    let findings = runs.filter_map(|sized| of_run(evidence, subject, setting, sized));
    findings.reduce(Finding::or_worse)
}

fn of_run(
    evidence: &Evidence<'_>,
    subject: &str,
    setting: &SceneSetting,
    sized: &SizedRun,
) -> Option<Finding> {
    let asked = setting.at_least?.value;
    let subject = format!("{subject}, run {}", sized.run.name);
    let strip = &sized.run.strip;
    let untold = |key: &str| {
        let missing = format!("`{key}` in strip `{}` (the datasheet)", strip.offer.id);
        Finding::cannot_tell(subject.clone(), missing).at(&strip.offer.place)
    };
    let channels = strip.channels.list();
    let fluxes: Option<Vec<f64>> = channels
        .iter()
        .map(|c| c.flux.map(|flux| flux.value))
        .collect();
    let Some(fluxes) = fluxes else {
        return Some(untold("flux"));
    };
    let duties = match (fluxes.len(), setting.white) {
        (1, _) => vec![1.0],
        // Left as it is: whichever white gives less.
        (_, None) => least_of(&fluxes),
        (_, Some(white)) => {
            let pair = pair(strip)?;
            if pair.whites.is_none() {
                return Some(untold("white"));
            }
            // A white that the strip can't give is another rule's.
            let duty = duty_for(&pair, white)?;
            shared(duty, mixing(evidence, sized)).to_vec()
        }
    };
    let full: f64 = duties
        .iter()
        .zip(&fluxes)
        .map(|(duty, flux)| duty * flux)
        .sum();
    let level = setting.light.get::<ratio>();
    let darkest = sized.figures.light_least.get::<ratio>();
    let found = Figure::new(level * full * darkest, Unit::LumenPerMetre);
    let limit = Limit {
        value: asked,
        bound: Bound::AtLeast,
        source: Source::Project,
    };
    let needed = 100.0 * asked / (full * darkest);
    let finding = Finding::measured(subject, found, &limit)
        .resting_on(sized.light_assumed.as_ref())
        .working(|| {
            let terms = duties.iter().zip(&fluxes);
            let terms: Vec<String> = terms
                .map(|(duty, flux)| format!("{duty:.3} × {flux:.0}"))
                .collect();
            format!(
                "{level:.2} × ({}) × {darkest:.3} = {found}",
                terms.join(" + ")
            )
        })
        .at(&setting.place)
        .remedy(|| {
            if needed <= 100.0 {
                format!("set `light: {} %` or more", needed.ceil())
            } else {
                let most = Figure::new(full * darkest, Unit::LumenPerMetre);
                format!("a stronger strip: this one gives {most} at that white, full on")
            }
        });
    Some(finding)
}

/// The weaker channel alone, one of them where they are as strong.
fn least_of(fluxes: &[f64]) -> Vec<f64> {
    let channels = fluxes.iter().enumerate();
    let weaker = channels.min_by(|(_, a), (_, b)| a.total_cmp(b));
    let weaker = weaker.map(|(channel, _)| channel);
    (0..fluxes.len())
        .map(|channel| f64::from(u8::from(Some(channel) == weaker)))
        .collect()
}

fn mixing(evidence: &Evidence<'_>, sized: &SizedRun) -> Option<Mixing> {
    let number = &sized.sections.first()?.driver;
    let driver = evidence
        .sizing
        .drivers
        .iter()
        .find(|driver| driver.number == *number)?;
    driver.item.output.mixing
}

/// Duties whose greater is 1, made to sum to 1 where the driver's whites share; unknown counts as
/// sharing, which gives less.
fn shared([warm, cool]: [f64; 2], mixing: Option<Mixing>) -> [f64; 2] {
    match mixing {
        Some(Mixing::BothFull) => [warm, cool],
        Some(Mixing::Shared | Mixing::Interleaved) | None => {
            [warm / (warm + cool), cool / (warm + cool)]
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::strip::Channels;
    use crate::quantity::Ratio;
    use crate::quantity::flux_per_length::lumens_per_metre;
    use uom::si::ratio::percent;

    /// The line of 720 lm/m at 80 %, nothing lost along it, of which so much is asked.
    fn job(asked: f64) -> Sample {
        let mut job = Sample::new();
        job.sizing.runs[1].figures.light_least = Ratio::new::<percent>(100.0);
        let setting = job.project.scenes[0]
            .settings
            .iter_mut()
            .find(|s| s.group.name == "line");
        setting.expect("a setting").at_least = Some(lumens_per_metre(asked));
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(576.1).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(576.0).worst(&RULE), "holds");
    }

    /// Half of the 720 lm/m is left at the darkest place: 288.1 of 360 are a little over 80 %, 324 are
    /// 90 %, and 400 are more than there are.
    #[test]
    fn says_what_would_do() {
        let told = |asked: f64| {
            let mut job = job(asked);
            job.sizing.runs[1].figures.light_least = Ratio::new::<percent>(50.0);
            let findings = check(&job.evidence());
            let broken = findings.into_iter().find_map(|finding| finding.remedy);
            broken.expect("what to do")
        };
        assert!(told(288.1).contains("`light: 81 %`"), "{}", told(288.1));
        assert!(told(324.0).contains("`light: 90 %`"), "{}", told(324.0));
        assert!(
            told(400.0).contains("this one gives 360"),
            "{}",
            told(400.0)
        );
    }

    #[test]
    fn whites_that_share_give_what_lies_between_their_own() {
        let mut job = Sample::new();
        job.project.scenes[0].settings[0].at_least = Some(lumens_per_metre(1.0));
        job.sizing.runs[0].figures.light_least = Ratio::new::<percent>(100.0);
        let found = check(&job.evidence())[0].found.expect("a figure").value;
        assert!(found > 0.9 * 430.0 && found < 0.9 * 480.0, "{found}");
    }

    /// 90 % of the weaker white, whichever that is: the scene leaves the white as it is.
    #[test]
    fn a_white_that_is_left_as_it_is_may_be_the_weaker_one_and_is_never_both() {
        for (warm, cool, expected) in [
            (430.0, 480.0, 387.0),
            (480.0, 430.0, 387.0),
            (450.0, 450.0, 405.0),
        ] {
            let mut job = Sample::new();
            let setting = &mut job.project.scenes[0].settings[0];
            setting.white = None;
            setting.at_least = Some(lumens_per_metre(1.0));
            job.sizing.runs[0].figures.light_least = Ratio::new::<percent>(100.0);
            if let Channels::TunableWhite {
                warm: one,
                cool: other,
            } = &mut job.strip(0).channels
            {
                one.flux = Some(lumens_per_metre(warm));
                other.flux = Some(lumens_per_metre(cool));
            }
            let found = check(&job.evidence())[0].found.expect("a figure").value;
            assert!((found - expected).abs() < 1e-9, "{warm}, {cool}: {found}");
        }
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = job(576.0);
        if let Channels::SingleColour(channel) = &mut job.strip(1).channels {
            channel.flux = None;
        }
        assert_eq!(job.worst(&RULE), "cannot tell");
    }

    #[test]
    fn nothing_is_judged_where_nothing_is_asked() {
        assert_eq!(Sample::new().worst(&RULE), "nothing to judge");
    }
}
