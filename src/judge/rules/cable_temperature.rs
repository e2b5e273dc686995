//! Cable insulation stands the air on its way.

use crate::choose::cable_place::hottest_air;
use crate::choose::sized::SizedRun;
use crate::judge::feeds::{self, Feeds};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::{Bound, Limit, Source};
use crate::quantity::figure::{Figure, Unit};
use crate::solve::cable::hottest;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Cable insulation stands the air on its way.
pub static RULE: Rule = Rule {
    id: "cable-temperature",
    subject: Subject::Cable,
    statement: "a feed cable’s insulation stands the hottest place on its way",
    formula: "hottest of the ambients of cupboard, room and run against the insulation’s temperature; the rise by its own load is in `cable-ampacity`",
    sources: &everywhere("IEC 60364-5-52 clause 522.1 and Table 52.1 (from memory); cable data"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "cable of 90 °C insulation; another way",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    feeds::by_item(evidence).iter().map(of_item).collect()
}

fn of_item(feeds: &Feeds<'_>) -> Finding {
    let subject = format!("cable {}", feeds.item.offer.id);
    let place = &feeds.item.offer.place;
    let air = |sized: &&SizedRun| hottest_air(&sized.run, &sized.cupboard);
    let known = feeds
        .runs
        .iter()
        .filter_map(|sized| Some((air(sized)?, sized)));
    let worst = known.max_by(|(a, _), (b, _)| a.value.total_cmp(&b.value));
    let untold: Vec<&str> = feeds
        .runs
        .iter()
        .filter(|sized| air(sized).is_none())
        .map(|sized| sized.cupboard.name.as_str())
        .collect();
    let Some((air, sized)) = worst.filter(|_| untold.is_empty()) else {
        let points = feeds::named(first_of_each(untold));
        let missing = format!("`ambient` of point {points} (a measurement, or the designer)");
        return Finding::cannot_tell(subject, missing);
    };
    let most = Limit {
        value: hottest(feeds.item.insulation).get::<degree_celsius>(),
        bound: Bound::AtMost,
        source: Source::Datasheet,
    };
    let found = Figure::new(air.get::<degree_celsius>(), Unit::Celsius);
    Finding::measured(subject, found, &most)
        .at(place)
        .remedy(|| {
            format!(
                "cable of higher insulation temperature for run `{}`, or another way for it",
                sized.run.name
            )
        })
}

fn first_of_each(mut names: Vec<&str>) -> Vec<&str> {
    names.sort_unstable();
    names.dedup();
    names
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::judge::verdict::Outcome;
    use crate::quantity::Temperature;
    use std::sync::Arc;

    /// The sample, whose cables are of 70 °C insulation, with that ambient at every run.
    fn job(celsius: Option<f64>) -> Sample {
        let mut job = Sample::new();
        for sized in &mut job.sizing.runs {
            let run = Arc::make_mut(&mut sized.run);
            run.ambient = celsius.map(Temperature::new::<degree_celsius>);
            Arc::make_mut(&mut sized.cupboard).ambient = None;
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(Some(70.1)).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(Some(70.0)).worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        assert_eq!(job(None).worst(&RULE), "cannot tell");
    }

    /// Of two runs from one cupboard on one cable, the cupboard is named once.
    #[test]
    fn names_each_place_whose_air_is_not_told_once() {
        let job = job(None);
        let untold: Vec<String> = check(&job.evidence())
            .into_iter()
            .filter_map(|finding| match finding.outcome {
                Outcome::CannotTell { missing } => Some(missing),
                _ => None,
            })
            .collect();
        assert!(!untold.is_empty());
        for missing in untold {
            assert_eq!(
                missing,
                "`ambient` of point cupboard-a (a measurement, or the designer)"
            );
        }
    }
}
