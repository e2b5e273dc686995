//! Driver and strip have the same nominal voltage.

use crate::choose::sized::{SizedRun, Sizing};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Voltage;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;

/// Driver and strip have the same nominal voltage.
pub static RULE: Rule = Rule {
    id: "driver-voltage-match",
    subject: Subject::Driver,
    statement: "a driver’s output voltage equals the nominal voltage of every strip on it",
    formula: "output voltage against nominal voltage",
    sources: &everywhere("datasheet"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "a driver of the strip’s voltage",
    caution: Some(
        "24 V on 12 V strip destroys it in seconds: check driver and strip labels before energising",
    ),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let sizing = evidence.sizing;
    let runs = sizing.runs.iter();
    runs.filter_map(|sized| of_run(sizing, sized)).collect()
}

fn of_run(sizing: &Sizing, sized: &SizedRun) -> Option<Finding> {
    let nominal = sized.run.strip.voltage;
    let apart = Limit {
        value: nominal * TOLERANCE,
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let matches = |volts: Voltage| apart.allows((volts - nominal).abs());
    let mut drivers = sizing.feeding(sized).peekable();
    let first = *drivers.peek()?;
    let other = drivers.find(|driver| !matches(driver.item.output.voltage));
    let shown = other.unwrap_or(first).item.output.voltage;
    let mut finding = Finding::plain(format!("run {}", sized.run.name), other.is_none());
    finding.found = Some(Figure::new(shown.get::<volt>(), Unit::Volt));
    finding.limit = Some((
        Bound::AtMost,
        Figure::new(nominal.get::<volt>(), Unit::Volt),
    ));
    let finding = finding
        .at(&sized.run.place)
        .remedy(|| format!("a driver of {:.0} V output", nominal.get::<volt>()));
    Some(finding)
}

/// A driver trimmed within this share of nominal still matches.
const TOLERANCE: f64 = 0.05;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.driver().output.voltage = Voltage::new::<volt>(12.0);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        job.driver().output.voltage *= 1.05;
        assert_eq!(job.worst(&RULE), "holds");
    }
}
