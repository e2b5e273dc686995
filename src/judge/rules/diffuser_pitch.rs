//! LEDs stand close enough to make one line of light.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::extra::{Lid, Profile};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use uom::si::length::millimeter;

/// LEDs stand close enough to make one line of light.
pub static RULE: Rule = Rule {
    id: "diffuser-pitch",
    subject: Subject::Strip,
    statement: "behind an opal lid LEDs are no further apart than the lid is from them",
    formula: "`led_pitch` of the strip against `depth` of the profile",
    sources: &everywhere("depth at least the pitch of the LEDs (common practice, no source)"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a strip with more LEDs to the metre; a deeper profile",
    caution: Some("a clear lid always shows dots"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let runs = evidence.sizing.runs.iter();
    runs.filter_map(|sized| Some(of_run(sized, sized.run.profile.as_ref()?)))
        .collect()
}

fn of_run(sized: &SizedRun, profile: &Profile) -> Finding {
    let subject = format!("run {}", sized.run.name);
    if profile.lid == Some(Lid::Clear) {
        return Finding::not_here(
            subject,
            "a clear lid shows the LEDs whatever their pitch".to_owned(),
        );
    }
    let Some(depth) = profile.depth else {
        let missing = format!("`depth` in profile `{}` (the datasheet)", profile.offer.id);
        return Finding::cannot_tell(subject, missing).at(&profile.offer.place);
    };
    let strip = &sized.run.strip;
    let Some(pitch) = strip.detail.led_pitch else {
        let missing = format!("`led_pitch` in strip `{}` (the datasheet)", strip.offer.id);
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    };
    let limit = Limit {
        value: depth.get::<millimeter>(),
        bound: Bound::AtMost,
        source: Source::CommonPractice("depth at least the pitch of the LEDs"),
    };
    let found = Figure::new(pitch.get::<millimeter>(), Unit::Millimetre);
    Finding::measured(subject, found, &limit)
        .working(|| {
            format!(
                "LEDs {found} apart, lid {} from them",
                Figure::new(limit.value, Unit::Millimetre)
            )
        })
        .at(&sized.run.place)
        .remedy(|| {
            format!(
                "choose a `profile` at least {found} deep, or a strip with more LEDs to the metre"
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Length;
    use std::sync::Arc;

    /// The cove 9 mm behind a lid, with LEDs so far apart.
    fn job(pitch: Option<f64>, lid: Lid) -> Sample {
        let old = "group: cove, cupboard: cupboard-a";
        let mut job = Sample::with(old, &format!("{old}, profile: shelf-9"));
        let run = Arc::make_mut(&mut job.sizing.runs[0].run);
        let profile = Arc::make_mut(run.profile.as_mut().expect("a profile"));
        profile.depth = Some(Length::new::<millimeter>(9.0));
        profile.lid = Some(lid);
        job.strip(0).detail.led_pitch = pitch.map(Length::new::<millimeter>);
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(9.01), Lid::Opal).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(9.0), Lid::Opal).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None, Lid::Opal).worst(&RULE), "cannot tell");
    }

    #[test]
    fn a_clear_lid_has_no_such_limit() {
        assert_eq!(job(Some(9.01), Lid::Clear).worst(&RULE), "not here");
    }
}
