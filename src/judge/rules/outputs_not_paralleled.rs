//! No uncut piece of strip hangs on two driver outputs.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// No uncut piece of strip hangs on two driver outputs.
pub static RULE: Rule = Rule {
    id: "outputs-not-paralleled",
    subject: Subject::Driver,
    statement: "every uncut section of strip is fed from exactly one driver output",
    formula: "outputs that feed the section, counted over all drivers",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "cut the strip between feeds of different drivers; feed both ends from one driver",
    caution: Some(
        "a both-ends feed comes from one driver output, or the strip is cut in the middle",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .sizing
        .runs
        .iter()
        .map(|sized| of_run(evidence, sized))
        .collect()
}

fn of_run(evidence: &Evidence<'_>, sized: &SizedRun) -> Finding {
    let outputs = || {
        evidence
            .sizing
            .drivers
            .iter()
            .flat_map(|driver| &driver.outputs)
    };
    let feeding = |number: usize| {
        let is_it =
            |(run, section): &&(String, usize)| *run == sized.run.name && *section == number;
        outputs()
            .flat_map(|output| &output.sections)
            .filter(is_it)
            .count()
    };
    let counts: Vec<usize> = (1..=sized.sections.len()).map(feeding).collect();
    let worst = counts
        .iter()
        .copied()
        .find(|count| *count != 1)
        .unwrap_or(1);
    let mut finding = Finding::plain(format!("run {}", sized.run.name), worst == 1);
    finding.found = Some(Figure::new(real(worst), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(1.0, Unit::Count)));
    finding.at(&sized.run.place).remedy(|| {
        if worst == 0 {
            "no driver in the catalogue can feed it: add one of its voltage, power and channels"
                .to_owned()
        } else {
            "feed each section from one driver output alone".to_owned()
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        let again = job.sizing.drivers[0].clone();
        job.sizing.drivers.push(again);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let job = Sample::new();
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn a_section_without_a_driver_breaks_it() {
        let mut job = Sample::new();
        job.sizing.drivers.clear();
        assert_eq!(job.worst(&RULE), "broken");
    }
}
