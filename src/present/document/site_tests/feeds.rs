//! Tests of feed cables, driver outputs and strip.

use super::list::{Expected, Instrument, SiteTest, Stage};
use super::meter;
use crate::choose::sized::{FeedCable, Section, SizedDriver, SizedRun};
use crate::norms::iec_60364_6;
use crate::present::cable_size::cores;
use crate::present::job::Job;
use crate::present::measured::{amperes, metres, volts};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::{Length, Voltage};
use crate::solve::cable::conductor_resistance;
use crate::solve::expected::{Band, CABLE_LENGTH, Readings, Spread, readings};
use crate::solve::strip::Lit;
use crate::solve::tolerance::{STRIP_POWER, SUPPLY};
use uom::si::electrical_resistance::megaohm;

const NO_WORKING_POINT: &str =
    "within its tolerances the strip has no working point on these cables";
const NO_DRIVER: &str = "no driver in the catalogue can feed this section";
const NO_CONDUCTOR: &str = "no table has this cable's conductor";

/// What is tested in a run: the numbers and names by which a feed is called.
struct Feed<'a> {
    run: &'a SizedRun,
    section: usize,
    /// From 1 within its section.
    number: usize,
    at: Length,
    cable: Option<&'a FeedCable>,
}

impl Feed<'_> {
    fn id(&self, key: &str) -> String {
        format!(
            "{}/{}/{}/{key}",
            self.run.run.name, self.section, self.number
        )
    }

    fn subject(&self) -> String {
        self.cable
            .map_or_else(|| self.run.run.name.clone(), |cable| cable.number.clone())
    }
}

fn feeds_of<'a>(job: &'a Job, run: &'a SizedRun) -> Vec<Feed<'a>> {
    let mut feeds = Vec::new();
    for (section, sized) in (1..).zip(&run.sections) {
        for (number, feed) in (1..).zip(&sized.feeds) {
            feeds.push(Feed {
                run,
                section,
                number,
                at: feed.at,
                cable: job.sizing.cable_to(run, section, feed),
            });
        }
    }
    feeds
}

pub(super) fn dead(job: &Job) -> Vec<SiteTest> {
    let mut tests = Vec::new();
    for run in &job.sizing.runs {
        for feed in feeds_of(job, run) {
            if let Some(cable) = feed.cable {
                tests.extend(dead_of(job, &feed, cable));
            }
        }
    }
    tests
}

fn dead_of(job: &Job, feed: &Feed, cable: &FeedCable) -> Vec<SiteTest> {
    let test = |key: &str, what: String, instrument, expected| SiteTest {
        id: feed.id(key),
        stage: Stage::FeedsDead,
        run: Some(feed.run.run.name.clone()),
        place: feed.run.cupboard.title.clone(),
        subject: feed.subject(),
        what,
        instrument,
        expected,
    };
    let channels = feed.run.run.strip.channels.names();
    let returns = match channels {
        [_] => "plus with return".to_owned(),
        many => format!("plus with each return ({})", many.join(", ")),
    };
    let extra_low = iec_60364_6::extra_low(job.project.region);
    let insulation = match extra_low {
        Some(asked) => test(
            "insulation",
            format!(
                "each core to every other and to earth, {:.0} V d.c.",
                volts(asked.volts)
            ),
            Instrument::InsulationTester,
            Expected::at_least(asked.least.get::<megaohm>(), Unit::Megohm),
        ),
        None => test(
            "insulation",
            "each core to every other and to earth".to_owned(),
            Instrument::InsulationTester,
            Expected::Unknown(super::NO_INSULATION_FIGURE.to_owned()),
        ),
    };
    vec![
        test(
            "continuity",
            format!(
                "{returns}, linked at the strip's end of {}; marks agree",
                cores(&cable.item)
            ),
            Instrument::LowOhms,
            meter::loop_of(&cable.item, cable.length),
        ),
        insulation,
    ]
}

pub(super) fn live(job: &Job) -> Vec<SiteTest> {
    let drivers = job.sizing.drivers.iter();
    let mut tests: Vec<SiteTest> = drivers.flat_map(outputs).collect();
    for run in &job.sizing.runs {
        for (number, section) in (1..).zip(&run.sections) {
            tests.extend(section_live(job, run, number, section));
        }
    }
    tests
}

/// The voltage of each output in use.
fn outputs(driver: &SizedDriver) -> Vec<SiteTest> {
    let nominal = volts(driver.item.output.voltage);
    let test = |output: usize| SiteTest {
        id: format!("{}/{output}/volts", driver.number),
        stage: Stage::FeedsLive,
        run: None,
        place: driver.cupboard.title.clone(),
        subject: format!("{} output {output}", driver.number),
        what: "plus to the return that is on, at the driver's terminals".to_owned(),
        instrument: Instrument::Voltmeter,
        expected: meter::read(
            Band {
                expected: nominal,
                low: nominal * (1.0 - SUPPLY),
                high: nominal * (1.0 + SUPPLY),
            },
            meter::VOLTS,
            Unit::Volt,
        ),
    };
    driver.outputs.iter().map(|it| test(it.output)).collect()
}

/// How far the figures of a run's sections may differ on site.
pub(in crate::present) fn spread(run: &SizedRun, section: &Section) -> Option<Spread> {
    let cable = &section.cable;
    let at = |temperature| conductor_resistance(cable.conductor, cable.size, temperature);
    let colder = at(meter::cold())? / at(run.cable_temperature)?;
    Some(Spread {
        power: STRIP_POWER,
        supply: SUPPLY,
        cable: [
            colder.value.min(1.0) * (1.0 - CABLE_LENGTH),
            1.0 + CABLE_LENGTH,
        ],
    })
}

fn section_live(job: &Job, run: &SizedRun, number: usize, section: &Section) -> Vec<SiteTest> {
    let lit: &[Lit] = match run.run.strip.channels.count() {
        1 => &[Lit::On],
        _ => &[Lit::Warm, Lit::Cool],
    };
    let spread = spread(run, section);
    let mut feeds = feeds_of(job, run);
    feeds.retain(|feed| feed.section == number);
    let mut tests = Vec::new();
    for lit in lit {
        let found = match &spread {
            _ if section.driver.is_empty() => Err(NO_DRIVER),
            None => Err(NO_CONDUCTOR),
            Some(spread) => readings(&section.ladder, *lit, spread).ok_or(NO_WORKING_POINT),
        };
        tests.extend(in_state(run, number, section, &feeds, *lit, &found));
    }
    tests
}

fn in_state(
    run: &SizedRun,
    number: usize,
    section: &Section,
    feeds: &[Feed],
    lit: Lit,
    found: &Result<Readings, &'static str>,
) -> Vec<SiteTest> {
    let (suffix, back, alone) = match lit {
        Lit::Warm => ("-warm", "warm return", ", warm alone"),
        Lit::Cool => ("-cool", "cool return", ", cool alone"),
        Lit::On | Lit::Both => ("", "return", ""),
    };
    let test = |id: String, subject: String, what: String, instrument, expected| SiteTest {
        id,
        stage: Stage::FeedsLive,
        run: Some(run.run.name.clone()),
        place: run.run.room.title.clone(),
        subject,
        what,
        instrument,
        expected,
    };
    let mut tests = Vec::new();
    for (index, feed) in feeds.iter().enumerate() {
        let here = found.as_ref().ok().and_then(|it| it.feeds.get(index));
        let at = Figure::new(metres(feed.at), Unit::Metre);
        let volts = told(found, here.map(|it| it.volts), |band| {
            meter::read(in_volts(band), meter::VOLTS, Unit::Volt)
        });
        let current = told(found, here.map(|it| it.current), |band| {
            let band = Band {
                expected: amperes(band.expected),
                low: amperes(band.low),
                high: amperes(band.high),
            };
            meter::read(band, meter::CLAMP, Unit::Ampere)
        });
        tests.push(test(
            feed.id(&format!("volts{suffix}")),
            feed.subject(),
            format!("plus to {back}, on the strip at the feed, {at}{alone}"),
            Instrument::Voltmeter,
            volts,
        ));
        tests.push(test(
            feed.id(&format!("current{suffix}")),
            feed.subject(),
            format!("plus core of the feed cable{alone}"),
            Instrument::Clamp,
            current,
        ));
    }
    let darkest = found.as_ref().ok().map(|it| it.darkest_volts);
    let mark = found.as_ref().ok().map(|it| mark_near(section, it.darkest));
    tests.push(test(
        format!("{}/{number}/dimmest{suffix}", run.run.name),
        run.run.name.clone(),
        match mark {
            Some(at) => format!(
                "plus to {back}, on the cut mark at the dimmest place, {}{alone}",
                Figure::new(metres(at), Unit::Metre)
            ),
            None => format!("plus to {back}, on the cut mark at the dimmest place{alone}"),
        },
        Instrument::Voltmeter,
        told(found, darkest, |band| {
            meter::read(in_volts(band), meter::VOLTS, Unit::Volt)
        }),
    ));
    tests
}

/// The cut mark beside the middle of a segment: the one on the side away from the section's start.
fn mark_near(section: &Section, segment: usize) -> Length {
    let marks = crate::quantity::number::real(segment + 1);
    section.start + section.ladder.segment * marks
}

pub(in crate::present) fn in_volts(band: Band<Voltage>) -> Band<f64> {
    Band {
        expected: volts(band.expected),
        low: volts(band.low),
        high: volts(band.high),
    }
}

fn told<Q>(
    found: &Result<Readings, &'static str>,
    band: Option<Band<Q>>,
    shown: impl Fn(Band<Q>) -> Expected,
) -> Expected {
    match (found, band) {
        (Ok(_), Some(band)) => shown(band),
        (Err(why), _) => Expected::Unknown((*why).to_owned()),
        (Ok(_), None) => Expected::Unknown(NO_WORKING_POINT.to_owned()),
    }
}
