//! No uncut piece of strip hangs on two driver outputs.

use crate::choose::sized::{SizedDriver, SizedRun, Sizing};
use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use std::collections::BTreeMap;

/// No uncut piece of strip hangs on two driver outputs.
pub static RULE: Rule = Rule {
    id: "outputs-not-paralleled",
    subject: Subject::Driver,
    statement: "every uncut section of strip is fed from exactly one driver output, or from two units that each feed one white and whose plus outputs may be joined",
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
    let sizing = evidence.sizing;
    let outputs = outputs(evidence);
    let runs = sizing.runs.iter();
    runs.map(|sized| of_run(sizing, sized, &outputs)).collect()
}

fn of_run(sizing: &Sizing, sized: &SizedRun, outputs: &Outputs) -> Finding {
    let subject = format!("run {}", sized.run.name);
    let worst = (1..=sized.sections.len())
        .map(|number| {
            outputs
                .get(&(sized.run.name.as_str(), number))
                .map_or(0, Fed::outputs)
        })
        .find(|count| *count != 1)
        .unwrap_or(1);
    let unsaid = || {
        let drivers = sizing.feeding(sized);
        let mut halves = drivers.filter(|driver| driver.half.is_some());
        halves.find(|driver| driver.item.output.joins_plus != Some(true))
    };
    if let Some(driver) = unsaid().filter(|_| worst == 1) {
        return joined(subject, driver).at(&sized.run.place);
    }
    let mut finding = Finding::plain(subject, worst == 1);
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

/// What feeds each section, by run and number.
type Outputs<'a> = BTreeMap<(&'a str, usize), Fed>;

/// Outputs on a section: of drivers that feed all its channels, and of units that feed one.
#[derive(Default)]
struct Fed {
    whole: usize,
    halves: [usize; 2],
}

impl Fed {
    /// Two units of which each feeds one white count as one.
    fn outputs(&self) -> usize {
        let [warm, cool] = self.halves;
        self.whole + warm.max(cool)
    }
}

fn outputs<'a>(evidence: &Evidence<'a>) -> Outputs<'a> {
    let mut all = Outputs::new();
    for driver in &evidence.sizing.drivers {
        let channel = driver.half.as_ref().map(|half| half.channel);
        let sections = driver.outputs.iter().flat_map(|output| &output.sections);
        for (run, number) in sections {
            let fed = all.entry((run.as_str(), *number)).or_default();
            match channel {
                None => fed.whole += 1,
                Some(0) => fed.halves[0] += 1,
                Some(_) => fed.halves[1] += 1,
            }
        }
    }
    all
}

/// Two units whose pluses meet in one strip, of which the sheet does not say that they may.
fn joined(subject: String, driver: &SizedDriver) -> Finding {
    let id = &driver.item.offer.id;
    if driver.item.output.joins_plus == Some(false) {
        return Finding::plain(subject, false).remedy(|| {
            "a two-channel driver, or single-channel units whose plus outputs may be joined"
                .to_owned()
        });
    }
    let missing = format!("`joins_plus` in `output` of driver `{id}` (the datasheet)");
    Finding::cannot_tell(subject, missing)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::choose::sized::Half;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        let again = job.sizing.drivers[0].clone();
        job.sizing.drivers.push(again);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn two_units_of_one_white_each_are_one_output_if_their_pluses_may_be_joined() {
        let with = |joins_plus: Option<bool>| {
            let mut job = Sample::new();
            let mut cool = job.sizing.drivers[0].clone();
            for (channel, driver) in [(0, &mut job.sizing.drivers[0]), (1, &mut cool)] {
                std::sync::Arc::make_mut(&mut driver.item).output.joins_plus = joins_plus;
                driver.half = Some(Half {
                    channel,
                    other: String::new(),
                });
            }
            job.sizing.drivers.push(cool);
            job.worst(&RULE)
        };
        assert_eq!(with(Some(true)), "holds");
        assert_eq!(with(Some(false)), "broken");
        assert_eq!(with(None), "cannot tell");
    }

    #[test]
    fn two_units_of_the_same_white_break_it() {
        for channel in [0, 1] {
            let mut job = Sample::new();
            let driver = &mut job.sizing.drivers[0];
            std::sync::Arc::make_mut(&mut driver.item).output.joins_plus = Some(true);
            driver.half = Some(Half {
                channel,
                other: String::new(),
            });
            assert_eq!(job.worst(&RULE), "holds");
            let again = job.sizing.drivers[0].clone();
            job.sizing.drivers.push(again);
            assert_eq!(job.worst(&RULE), "broken");
        }
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
