//! Strips seen together come from one bin.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::views::{View, of_several};
use crate::model::project::Severity;
use crate::model::strip::Strip;
use crate::norms::defaults;
use crate::quantity::figure::{Figure, Unit};

/// Strips seen together come from one bin.
pub static RULE: Rule = Rule {
    id: "bin-per-room",
    subject: Subject::Scene,
    statement: "strips that are seen together differ in colour by no more than 3 steps, or come from one bin",
    formula: "`bin` of the strip (most difference between its reels) against 3 steps; above that, or where the sheet is silent, the `bin` on the reels of the runs, which must be one",
    sources: &everywhere("common practice, no source: 3 steps; one bin and one delivery"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "order the strips of one view together, of one bin, with spare",
    caution: Some(
        "write the bin on the reel’s label into the record: a strip bought later will differ",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    of_several(evidence).iter().filter_map(of_view).collect()
}

/// The worst strip of a view.
fn of_view(view: &View<'_>) -> Option<Finding> {
    let findings = view
        .runs
        .iter()
        .map(|sized| of_strip(view, &sized.run.strip));
    findings.reduce(Finding::or_worse)
}

fn of_strip(view: &View<'_>, strip: &Strip) -> Finding {
    let subject = view.subject.clone();
    let limit = defaults::bin();
    let measured = strip.detail.bin.map(|steps| {
        Finding::measured(subject.clone(), Figure::new(steps, Unit::Steps), &limit).working(|| {
            format!(
                "reels of strip `{}` differ by at most {steps} steps",
                strip.offer.id
            )
        })
    });
    if let Some(finding) = measured
        && limit.allows(strip.detail.bin.unwrap_or(f64::INFINITY))
    {
        return finding.at(&strip.offer.place);
    }
    let of_strip = view
        .runs
        .iter()
        .filter(|sized| sized.run.strip.offer.id == strip.offer.id);
    let bins: Vec<(&str, Option<&str>)> = of_strip
        .map(|sized| (sized.run.name.as_str(), sized.run.detail.bin.as_deref()))
        .collect();
    if let Some((run, _)) = bins.iter().find(|(_, bin)| bin.is_none()) {
        let missing = format!(
            "`bin` in strip `{}` (the datasheet), or `bin` of run `{run}` (the label on its reel)",
            strip.offer.id
        );
        return Finding::cannot_tell(subject, missing).at(&strip.offer.place);
    }
    let first = bins.first().and_then(|(_, bin)| *bin);
    let other = bins.iter().find(|(_, bin)| *bin != first);
    let odd = other.and_then(|(name, _)| view.runs.iter().find(|sized| sized.run.name == *name));
    Finding::plain(subject, other.is_none())
        .working(|| format!("all of bin {}", first.unwrap_or_default()))
        .at_some(odd.or(view.runs.first()).map(|sized| &sized.run.place))
        .remedy(|| {
            let (name, bin) = other.copied().unwrap_or_default();
            format!(
                "run `{name}` is of bin {}, the others of bin {}: change its reel for one of theirs",
                bin.unwrap_or_default(),
                first.unwrap_or_default()
            )
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// Two runs of one strip in one view, whose reels differ by so many steps and are of these bins.
    fn job(steps: Option<f64>, bins: [Option<&str>; 2]) -> Sample {
        let mut job = Sample::with(
            "strip: white-pair-24-10, length: 4.2 m,",
            "strip: outdoor-24-10, length: 4 m,",
        );
        for (run, bin) in [0, 2].into_iter().zip(bins) {
            job.strip(run).detail.bin = steps;
            let run = std::sync::Arc::make_mut(&mut job.sizing.runs[run].run);
            run.detail.view = Some("all".to_owned());
            run.detail.bin = bin.map(str::to_owned);
        }
        job
    }

    #[test]
    fn breaks_with_two_bins() {
        assert_eq!(
            job(Some(3.1), [Some("27-A"), Some("27-B")]).worst(&RULE),
            "broken"
        );
    }

    #[test]
    fn holds_at_its_limit_or_with_one_bin() {
        assert_eq!(job(Some(3.0), [None, None]).worst(&RULE), "holds");
        assert_eq!(
            job(Some(3.1), [Some("27-A"), Some("27-A")]).worst(&RULE),
            "holds"
        );
    }

    #[test]
    fn the_run_whose_bin_differs_is_pointed_at() {
        let mut job = job(Some(3.1), [Some("27-A"), Some("27-B")]);
        for (run, line) in [(0, 12), (2, 14)] {
            std::sync::Arc::make_mut(&mut job.sizing.runs[run].run)
                .place
                .line = line;
        }
        let place = check(&job.evidence()).remove(0).place.expect("a place");
        assert_eq!(place.line, 14);
    }

    /// Another strip in the same view has bins of its own.
    #[test]
    fn bins_are_compared_within_a_strip() {
        let mut job = job(Some(3.1), [Some("27-A"), Some("27-A")]);
        job.strip(1).detail.bin = Some(3.1);
        let line = std::sync::Arc::make_mut(&mut job.sizing.runs[1].run);
        line.detail.view = Some("all".to_owned());
        line.detail.bin = Some("40-C".to_owned());
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None, [Some("27-A"), None]).worst(&RULE), "cannot tell");
        assert_eq!(job(Some(3.1), [None, None]).worst(&RULE), "cannot tell");
    }
}
