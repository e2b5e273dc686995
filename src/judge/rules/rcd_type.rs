//! Residual current devices answer to what electronic loads leak.

use crate::choose::sized::SizedDriver;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject};
use crate::model::project::Severity;
use crate::model::protection::ResidualType;
use crate::norms::region::Region;

/// Residual current devices answer to what electronic loads leak.
pub static RULE: Rule = Rule {
    id: "rcd-type",
    subject: Subject::Circuit,
    statement: "the residual current device of driver circuits is of type A or better, and of the type that the drivers’ sheets ask for",
    formula: "`circuits.residual_type` against type A and each `mains.residual_type`, in the order AC, A, F, B",
    sources: &[
        (
            Region::Iec,
            "IEC 60364-5-53; BS 7671 531.3.3; driver datasheet",
        ),
        (
            Region::AusNz,
            "IEC 60364-5-53; AS/NZS 3000 clause 2.6.2.2 (from memory); driver datasheet",
        ),
    ],
    severity: Severity::Fault,
    severities: &[],
    remedy: "a device of type A, or of the type that the driver’s sheet asks for",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let circuits = &evidence.project.circuits;
    if circuits.residual.is_none() || evidence.allocation.circuits.is_empty() {
        return Vec::new();
    }
    let subject = "residual current devices".to_owned();
    let Some(kind) = circuits.protection.residual_type else {
        let missing = "`circuits.residual_type` in the project file (the panel’s schedule)";
        return vec![Finding::cannot_tell(subject, missing.to_owned()).at(&circuits.place)];
    };
    let (needed, by) = needed(&evidence.sizing.drivers);
    let finding = Finding::plain(subject, kind >= needed)
        .at(&circuits.place)
        .remedy(|| {
            let by = by.map_or_else(
                || "electronic loads ask".to_owned(),
                |by| format!("driver `{by}` asks"),
            );
            format!(
                "set `circuits: {{residual_type: {}}}`: {by} for it",
                needed.name()
            )
        });
    vec![finding]
}

/// What electronic loads leak has a pulsating direct part: BS 7671 531.3.3, IEC 60364-5-53.
const LEAST: ResidualType = ResidualType::A;

/// The type that is needed, and the driver whose sheet asks for it.
fn needed(drivers: &[SizedDriver]) -> (ResidualType, Option<&str>) {
    let asked = drivers.iter().filter_map(|driver| {
        let asked = driver.item.mains.needs.residual_type?;
        Some((asked, Some(driver.item.offer.id.as_str())))
    });
    let strictest = asked.max_by_key(|(kind, _)| *kind);
    strictest
        .filter(|(kind, _)| *kind > LEAST)
        .unwrap_or((LEAST, None))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn job(kind: Option<ResidualType>, asked: Option<ResidualType>) -> Sample {
        let mut job = Sample::new();
        job.project.circuits.protection.residual_type = kind;
        job.driver().mains.needs.residual_type = asked;
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(ResidualType::Ac), None).worst(&RULE), "broken");
        let asks = Some(ResidualType::F);
        assert_eq!(job(Some(ResidualType::A), asks).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(ResidualType::A), None).worst(&RULE), "holds");
        let asks = Some(ResidualType::F);
        assert_eq!(job(Some(ResidualType::F), asks).worst(&RULE), "holds");
    }

    #[test]
    fn a_driver_is_named_where_it_asks_for_more_than_electronic_loads_do() {
        let told = |kind, asked| {
            let job = job(Some(kind), Some(asked));
            check(&job.evidence()).remove(0).remedy.expect("what to do")
        };
        let plain = told(ResidualType::Ac, ResidualType::A);
        assert!(plain.contains("type: A}`: electronic loads ask"), "{plain}");
        let named = told(ResidualType::A, ResidualType::F);
        assert!(named.contains("type: F}`: driver `"), "{named}");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None, None).worst(&RULE), "cannot tell");
    }
}
