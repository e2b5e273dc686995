//! Every limit is the region's own, and so is the supply.

use crate::choose::limits;
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::limits::Limits;
use crate::model::project::{Project, Severity};
use crate::norms::limit::Source;
use crate::norms::region::Region;
use crate::norms::{defaults, usual};
use crate::quantity::voltage;
use uom::si::frequency::hertz;

/// Every limit is the region's own, and so is the supply.
pub static RULE: Rule = Rule {
    id: "region-mixed",
    subject: Subject::Price,
    statement: "no published limit of one region is used in another, and the mains supply is one that the region has",
    formula: "limits in force whose published source is another region’s; `supply` against the region’s public networks",
    sources: &everywhere(
        "IEC 60038 (230 V, 50 Hz); ANSI C84.1 and CSA C235 (60 Hz systems, from memory)",
    ),
    severity: Severity::Fault,
    severities: &[],
    remedy: "set `region` to where the job is; give the supply as it is there",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let project = evidence.project;
    let place = project.heading.place.as_ref();
    let region = project.region.name();
    let supply = &project.supply;
    let strange = strange(evidence);
    let limits = Finding::plain("limits".to_owned(), strange.is_empty()).remedy(|| {
        format!(
            "in region `{region}` these limits are another region’s: {}",
            strange.join(", ")
        )
    });
    let usual = usual::mains(project.region, supply.voltage, supply.frequency);
    let supply = Finding::plain("supply".to_owned(), usual).remedy(|| {
        let volts = voltage::write(supply.voltage);
        let cycles = supply.frequency.get::<hertz>();
        format!(
            "{}, or `supply` to what is there: {volts} {cycles} Hz is not {} of region `{region}`",
            fitting(project),
            usual::mains_words(project.region),
        )
    });
    [limits, supply]
        .into_iter()
        .map(|finding| match place {
            Some(place) => finding.at(place),
            None => finding,
        })
        .collect()
}

/// To set the region to one that does have the supply.
fn fitting(project: &Project) -> String {
    let supply = &project.supply;
    let fits = |region: &&Region| usual::mains(**region, supply.voltage, supply.frequency);
    let edits: Vec<String> = Region::ALL
        .iter()
        .filter(fits)
        .map(|region| format!("`region: {}`", region.name()))
        .collect();
    if edits.is_empty() {
        return "set `region` to where the job is".to_owned();
    }
    format!("set {}", edits.join(" or "))
}

/// The limits in force whose published source is not the region's.
fn strange(evidence: &Evidence<'_>) -> Vec<String> {
    let project = evidence.project;
    let own = [
        defaults::feed_drop(project.region).source,
        defaults::circuit_drop(project.region).source,
    ];
    let runs = project.runs.iter();
    let of_runs = runs.flat_map(|run| published(&limits::of_run(project, run)));
    let mut strange: Vec<String> = published(&project.limits)
        .into_iter()
        .chain(of_runs)
        .filter(|(_, source)| !own.contains(source))
        .map(|(what, source)| format!("{what} by {source}"))
        .collect();
    strange.sort_unstable();
    strange.dedup();
    strange
}

/// The limits that differ by region and are published.
fn published(limits: &Limits) -> Vec<(&'static str, Source)> {
    [
        ("feed_drop", &limits.feed_drop.source),
        ("circuit_drop", &limits.circuit_drop.source),
    ]
    .into_iter()
    .filter(|(_, source)| matches!(source, Source::Published(_)))
    .map(|(what, source)| (what, source.clone()))
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::quantity::Voltage;
    use uom::si::electric_potential::volt;

    #[test]
    fn breaks_with_another_regions_limit() {
        let mut job = Sample::new();
        job.project.limits.circuit_drop = defaults::circuit_drop(Region::AusNz);
        assert_eq!(job.worst(&RULE), "broken");
    }

    // IEC 60038: 230 V + 10 % is 253 V.
    #[test]
    fn breaks_with_a_supply_that_the_region_has_not() {
        let mut job = Sample::new();
        job.project.supply.voltage = Voltage::new::<volt>(253.1);
        assert_eq!(job.worst(&RULE), "broken");
        let mut job = Sample::new();
        job.project.region = Region::NorthAmerica;
        assert_eq!(job.worst(&RULE), "broken", "50 Hz");
    }

    #[test]
    fn holds_at_its_limit() {
        for volts in [253.0, 207.0] {
            let mut job = Sample::new();
            job.project.supply.voltage = Voltage::new::<volt>(volts);
            assert_eq!(job.worst(&RULE), "holds");
        }
    }
}
