//! What is seen together is one strip.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::judge::views::{View, of_several};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// What is seen together is one strip.
pub static RULE: Rule = Rule {
    id: "mixed-strip-in-view",
    subject: Subject::Strip,
    statement: "runs that are seen together are of one strip",
    formula: "different strips among the runs of a `view`, or of a group in a room, against 1",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Note,
    severities: &[],
    remedy: "one strip for all of them; or a `view` of its own for what is not seen with the rest",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    of_several(evidence)
        .into_iter()
        .map(|view| of_view(&view))
        .collect()
}

fn of_view(view: &View<'_>) -> Finding {
    let mut strips: Vec<&str> = Vec::new();
    for sized in &view.runs {
        let id = sized.run.strip.offer.id.as_str();
        if !strips.contains(&id) {
            strips.push(id);
        }
    }
    let one = Limit {
        value: 1.0,
        bound: Bound::AtMost,
        source: Source::CommonPractice("one strip in view"),
    };
    let odd = view
        .runs
        .iter()
        .find(|sized| Some(&sized.run.strip.offer.id.as_str()) != strips.first());
    let found = Figure::new(real(strips.len()), Unit::Count);
    Finding::measured(view.subject.clone(), found, &one)
        .working(|| format!("{} runs of {}", view.runs.len(), strips.join(" and ")))
        .at_some(odd.or(view.runs.first()).map(|sized| &sized.run.place))
        .remedy(|| {
            let name = odd.map_or("", |sized| sized.run.name.as_str());
            let first = strips.first().copied().unwrap_or_default();
            format!("set `strip: {first}` in run `{name}`, or give it a `view` of its own")
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    /// The sample with its cove, on that strip, and its façade in one view.
    fn job(strip: &str) -> Sample {
        let old = "strip: white-pair-24-10, length: 4.2 m,";
        let new = format!("strip: {strip}, length: 4 m, view: all,");
        let mut job = Sample::with(old, &new);
        let facade = std::sync::Arc::make_mut(&mut job.sizing.runs[2].run);
        facade.detail.view = Some("all".to_owned());
        job
    }

    #[test]
    fn breaks_with_two_strips_in_one_view() {
        assert_eq!(job("shelf-24-7").worst(&RULE), "broken");
    }

    #[test]
    fn holds_with_one_strip_in_view() {
        assert_eq!(job("outdoor-24-10").worst(&RULE), "holds");
    }

    #[test]
    fn a_view_of_its_own_is_not_held_against_a_run() {
        assert_eq!(Sample::new().worst(&RULE), "nothing to judge");
    }
}
