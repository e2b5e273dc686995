//! Strip that can be touched in the wet has a low enough voltage.

use crate::choose::sized::SizedRun;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_60364_4_41;
use crate::norms::limit::{Bound, Limit, Source};

use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;

/// Strip that can be touched in the wet has a low enough voltage.
pub static RULE: Rule = Rule {
    id: "driver-wet-place",
    subject: Subject::Driver,
    statement: "strip in a wet place is fed with at most 30 V d.c.",
    formula: "output voltage against 30 V where `wet: yes`",
    sources: &everywhere("IEC 60364-4-41 clause 414.4.5 (from memory)"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a strip of 24 V or less in the wet place; the driver outside its zone",
    caution: Some(
        "wet places, baths, pools, saunas and the outdoors have zones with rules of their own: the driver stands outside them",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .sizing
        .runs
        .iter()
        .filter(|sized| sized.run.wet)
        .map(of_run)
        .collect()
}

fn of_run(sized: &SizedRun) -> Finding {
    let limit = Limit {
        value: iec_60364_4_41::touchable_wet_dc().get::<volt>(),
        bound: Bound::AtMost,
        source: Source::Published("IEC 60364-4-41 clause 414.4.5 (from memory)"),
    };
    let found = Figure::new(sized.run.strip.voltage.get::<volt>(), Unit::Volt);
    Finding::measured(format!("run {}", sized.run.name), found, &limit)
        .working(|| format!("{found} in a wet place"))
        .at(&sized.run.place)
        .remedy(|| "a strip of 24 V or less".to_owned())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Voltage;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.strip(2).voltage = Voltage::new::<volt>(30.1);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.strip(2).voltage = Voltage::new::<volt>(30.0);
        assert_eq!(job.worst(&RULE), "holds");
    }
}
