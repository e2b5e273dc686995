//! Lengths of cable hold rises, drops and slack.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::wiring::Slack;
use crate::norms::defaults::{slack_length, slack_share};
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::meter;
use uom::si::ratio::percent;

/// Lengths of cable hold rises, drops and slack.
pub static RULE: Rule = Rule {
    id: "cable-length-fits",
    subject: Subject::Cable,
    statement: "the lengths of cable that are used hold rises, drops and slack: 10 % or 1 m on what was measured, or included by whoever took them off",
    formula: "`wiring.slack`, which is added to each route, `to_start` and `to_end` unless it is `included`",
    sources: &everywhere("10 % or 1 m (common practice, no source)"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "set `wiring.slack`",
    caution: Some(
        "measure the way the cable takes, not the plan: a feed that is cut too short is pulled again",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let wiring = &evidence.project.wiring;
    let subject = "lengths of cable".to_owned();
    let place = wiring
        .place
        .as_ref()
        .or(evidence.project.heading.place.as_ref());
    let Some(slack) = wiring.slack else {
        let missing = "`wiring.slack` in the project file: `included`, or what is to be added, as in `10 %` (whoever took the lengths off)";
        let finding = Finding::cannot_tell(subject, missing.to_owned());
        return vec![match place {
            Some(place) => finding.at(place),
            None => finding,
        }];
    };
    let (least_share, least_length) = (slack_share(), slack_length());
    let mut finding = match slack {
        Slack::Included => Finding::plain(subject, true),
        Slack::Share(share) => {
            let mut finding = Finding::plain(subject, share >= least_share);
            finding.found = Some(Figure::new(share.get::<percent>(), Unit::Percent));
            let least = Figure::new(least_share.get::<percent>(), Unit::Percent);
            finding.limit = Some((Bound::AtLeast, least));
            finding
        }
        Slack::Each(length) => {
            let mut finding = Finding::plain(subject, length >= least_length);
            finding.found = Some(Figure::new(length.get::<meter>(), Unit::Metre));
            let least = Figure::new(least_length.get::<meter>(), Unit::Metre);
            finding.limit = Some((Bound::AtLeast, least));
            finding
        }
    };
    finding.place = place.cloned();
    vec![finding.remedy(|| "set `wiring: {slack: 10 %}` or `wiring: {slack: 1 m}`".to_owned())]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job(slack: &str) -> Sample {
        Sample::with("runs:\n", &format!("wiring: {{slack: {slack}}}\nruns:\n"))
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job("9.9 %").worst(&RULE), "broken");
        assert_eq!(job("0.99 m").worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job("10 %").worst(&RULE), "holds");
        assert_eq!(job("1 m").worst(&RULE), "holds");
        assert_eq!(job("included").worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_when_nothing_is_said() {
        assert_eq!(Sample::new().worst(&RULE), "cannot tell");
    }

    #[test]
    fn slack_lengthens_what_was_measured() {
        let metres = |job: &Sample| job.sizing.cables[0].length.get::<meter>();
        assert!((metres(&job("10 %")) - 1.1 * metres(&job("included"))).abs() < 1e-9);
        assert!((metres(&job("1 m")) - 1.0 - metres(&job("included"))).abs() < 1e-9);
    }
}
