//! Gear that the bus relies on is not switched off behind it.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::model::protection::MainsFeed;

/// Gear that the bus relies on is not switched off behind it.
pub static RULE: Rule = Rule {
    id: "circuit-control-standby",
    subject: Subject::Circuit,
    statement: "drivers on the control bus have a permanent mains feed",
    formula: "`circuits.feed` where a circuit has drivers that are on a loop",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "a permanent feed; switch by the bus",
    caution: Some("gear that is switched off reads as a lamp failure on the bus"),
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let drivers = evidence.sizing.drivers.iter();
    let on_bus = drivers.filter(|driver| driver.item.bus.is_some()).count();
    if on_bus == 0 || evidence.allocation.circuits.is_empty() {
        return Vec::new();
    }
    let circuits = &evidence.project.circuits;
    let subject = "circuits of drivers".to_owned();
    let finding = match circuits.protection.feed {
        None => {
            let missing =
                "`circuits.feed` in the project file: `permanent` or `switched` (the designer)";
            Finding::cannot_tell(subject, missing.to_owned())
        }
        Some(feed) => Finding::plain(subject, feed == MainsFeed::Permanent),
    };
    vec![finding.at(&circuits.place).remedy(|| {
        format!(
            "give the {on_bus} drivers on the bus a permanent feed (`circuits: {{feed: permanent}}`) and switch by the bus"
        )
    })]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job(feed: &str) -> Sample {
        Sample::with("pricing:", &format!("circuits: {{{feed}}}\npricing:"))
    }

    #[test]
    fn breaks_behind_a_switch() {
        assert_eq!(job("feed: switched").worst(&RULE), "broken");
    }

    #[test]
    fn holds_with_a_permanent_feed() {
        assert_eq!(job("feed: permanent").worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_when_nothing_is_said() {
        assert_eq!(Sample::new().worst(&RULE), "cannot tell");
    }
}
