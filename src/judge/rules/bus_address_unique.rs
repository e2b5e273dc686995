//! No two units of a loop answer to one address.

use crate::allocate::allocated::{Loop, MemberKind};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::iec_62386;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeSet;

/// No two units of a loop answer to one address.
pub static RULE: Rule = Rule {
    id: "bus-address-unique",
    subject: Subject::Loop,
    statement: "each unit of a loop has short addresses from 0 to 63 of its own, gear and control devices counted apart",
    formula: "units without an address, and addresses past 63 or used twice within gear or within control devices",
    sources: &everywhere("IEC 62386-102, -103; numbering: common practice, no source"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "give the unit another address; another loop when none is left",
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
    let mut wrong = wrong(bus, MemberKind::Gear, iec_62386::GEAR);
    let devices = iec_62386::CONTROL_DEVICES;
    wrong.extend(self::wrong(bus, MemberKind::ControlDevice, devices));
    let mut finding = Finding::plain(format!("loop {}", bus.name), wrong.is_empty());
    finding.found = Some(Figure::new(real(wrong.len()), Unit::Count));
    finding.limit = Some((Bound::AtMost, Figure::new(0.0, Unit::Count)));
    finding.at(&evidence.project.loops.place).remedy(|| {
        let named = wrong.iter().take(NAMED).cloned().collect::<Vec<_>>();
        let more = wrong.len().saturating_sub(NAMED);
        let more = if more > 0 {
            format!(" and {more} more")
        } else {
            String::new()
        };
        format!(
            "another address for {}{more}; another loop when none is left",
            named.join(", ")
        )
    })
}

/// Most units that a remedy names.
const NAMED: usize = 6;

/// Units of a kind whose address is missing, out of range, or another's.
fn wrong(bus: &Loop, kind: MemberKind, most: usize) -> Vec<String> {
    let mut used = BTreeSet::new();
    let members = bus.members.iter().filter(|member| member.kind == kind);
    members
        .filter(|member| {
            // Every address is noted, also after one that does not fit.
            let misfits = |address: &&usize| **address >= most || !used.insert(**address);
            let wrong = member.addresses.iter().filter(misfits).count();
            member.addresses.is_empty() || wrong > 0
        })
        .map(|member| member.device.clone())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn devices(job: &mut Sample) -> Vec<&mut crate::allocate::allocated::Member> {
        let members = job.allocation.loops[0].members.iter_mut();
        members
            .filter(|member| member.kind == MemberKind::ControlDevice)
            .collect()
    }

    #[test]
    fn breaks_when_an_address_is_used_twice_or_there_is_none() {
        let mut job = Sample::new();
        devices(&mut job)[1].addresses = vec![0];
        assert_eq!(job.worst(&RULE), "broken");
        let mut job = Sample::new();
        devices(&mut job)[0].addresses.clear();
        assert_eq!(job.worst(&RULE), "broken");
        let mut job = Sample::new();
        devices(&mut job)[2].addresses = vec![64];
        assert_eq!(job.worst(&RULE), "broken");
    }

    // Gear 0 and control device 0 are two addresses, and 63 is the last.
    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        devices(&mut job)[2].addresses = vec![63];
        assert_eq!(job.worst(&RULE), "holds");
    }
}
