//! Loops keep addresses and current free.

use crate::allocate::allocated::Loop;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::Ratio;
use crate::quantity::number::real;
use uom::ConstZero;
use uom::si::ratio::ratio;

/// Loops keep addresses and current free.
pub static RULE: Rule = Rule {
    id: "bus-spare",
    subject: Subject::Loop,
    statement: "each loop keeps the spare share of its addresses and of its supply’s current free",
    formula: "the largest of gear addresses / 64, control device addresses / 64 and current / guaranteed current, against 1 − `loops.spare`",
    sources: &everywhere("15 % (common practice, no source: 10 % to 20 %)"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "one loop more; a larger supply; a smaller `loops.spare`",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    evidence
        .allocation
        .loops
        .iter()
        .map(|bus| of_loop(evidence, bus))
        .collect()
}

fn of_loop(evidence: &Evidence<'_>, bus: &Loop) -> Finding {
    let settings = &evidence.project.loops;
    let most = Limit {
        value: Ratio::new::<ratio>(1.0) - settings.spare,
        bound: Bound::AtMost,
        source: Source::CommonPractice("10 % to 20 % kept free"),
    };
    let (fullest, share) = fullest(bus);
    Finding::share(format!("loop {}", bus.name), share, &most)
        .at(&settings.place)
        .remedy(|| {
            let fixed = settings.count.map_or(String::new(), |count| {
                format!(": `loops.count` holds it to {count}")
            });
            format!("one loop more for {fullest}{fixed}, or a smaller `loops.spare`")
        })
}

/// What is fullest on a loop, and how full.
fn fullest(bus: &Loop) -> (&'static str, Ratio) {
    let addresses = |used: usize, most: usize| Ratio::new::<ratio>(real(used) / real(most));
    let current = if bus.supply_guaranteed.value > 0.0 {
        bus.current / bus.supply_guaranteed
    } else {
        Ratio::ZERO
    };
    let mut fullest = ("gear addresses", addresses(bus.gear, iec_62386::GEAR));
    for (what, share) in [
        (
            "control device addresses",
            addresses(bus.control_devices, iec_62386::CONTROL_DEVICES),
        ),
        ("current", current),
    ] {
        if share > fullest.1 {
            fullest = (what, share);
        }
    }
    fullest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    // The sample keeps 15 %: 64 × 0.85 = 54.4 addresses.
    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.allocation.loops[0].control_devices = 55;
        assert_eq!(job.worst(&RULE), "broken");
        let mut job = Sample::new();
        let bus = &mut job.allocation.loops[0];
        bus.current = 0.851 * bus.supply_guaranteed;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let bus = &mut job.allocation.loops[0];
        bus.gear = 54;
        bus.control_devices = 54;
        bus.current = 0.85 * bus.supply_guaranteed;
        assert_eq!(job.worst(&RULE), "holds");
    }
}
