//! The figures by which jobs are chosen between: price, light, equipment, cable, what is open.

use crate::allocate::allocated::MemberKind;
use crate::choose::sized::SizedRun;
use crate::judge::Counts;
use crate::present::job::Job;
use crate::present::measured;
use crate::price::priced::LabourLine;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use crate::quantity::{Length, Power};
use num_traits::ToPrimitive;
use rust_decimal::Decimal;

/// A figure of a job.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Value {
    /// An amount of money.
    Money(Decimal),
    /// A quantity.
    Figure(Figure),
    /// Not known, and why.
    Unknown(&'static str),
}

impl Value {
    fn of(value: f64, unit: Unit) -> Value {
        if value.is_finite() {
            Value::Figure(Figure::new(value, unit))
        } else {
            Value::Unknown("the calculation gives no figure here")
        }
    }

    fn count(count: usize) -> Value {
        Value::of(real(count), Unit::Count)
    }

    /// This less an earlier one of the same kind.
    #[must_use]
    pub fn less(self, earlier: Value) -> Value {
        match (self, earlier) {
            (Value::Money(new), Value::Money(old)) => Value::Money(new - old),
            (Value::Figure(new), Value::Figure(old)) => Value::of(new.value - old.value, new.unit),
            (Value::Unknown(why), _) | (_, Value::Unknown(why)) => Value::Unknown(why),
            _ => Value::Unknown("the two are not of one kind"),
        }
    }
}

/// A named figure of one job.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    /// Stable key with the unit as suffix.
    pub key: &'static str,
    /// What people call it.
    pub label: &'static str,
    /// Its value.
    pub value: Value,
    /// Lines that have no price and are not in it, for an amount of money.
    pub lacks: usize,
}

/// The same figure of two jobs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pair {
    /// Stable key with the unit as suffix.
    pub key: &'static str,
    /// What people call it.
    pub label: &'static str,
    /// Of the old job.
    pub old: Value,
    /// Of the new job.
    pub new: Value,
    /// Lines without a price that the old one and the new one are without.
    pub lacks: [usize; 2],
}

/// The figures of two jobs, pair by pair.
pub(super) fn pairs(old: &Job, new: &Job) -> Vec<Pair> {
    of(old)
        .into_iter()
        .zip(of(new))
        .map(|(old, new)| Pair {
            key: new.key,
            label: new.label,
            old: old.value,
            new: new.value,
            lacks: [old.lacks, new.lacks],
        })
        .collect()
}

/// The figures of a job, always the same ones in the same order.
#[must_use]
pub fn of(job: &Job) -> Vec<Measure> {
    let mut all = money(job);
    all.extend(light(job));
    all.extend(equipment(job));
    all.extend(open(job));
    all
}

fn measure(key: &'static str, label: &'static str, value: Value) -> Measure {
    Measure {
        key,
        label,
        value,
        lacks: 0,
    }
}

fn money(job: &Job) -> Vec<Measure> {
    let totals = &job.quote.totals;
    let (materials, all_work) = (totals.lines_without_price, totals.work_without_price);
    let all = materials + all_work;
    let unpriced = |lines: &[LabourLine]| lines.iter().filter(|line| line.sell.is_none()).count();
    let labour = unpriced(&job.quote.labour);
    let commissioning = unpriced(&job.quote.commissioning);
    let amount = |key, label, amount, lacks| Measure {
        lacks,
        ..measure(key, label, Value::Money(amount))
    };
    let hours = totals.hours().to_f64().unwrap_or(f64::NAN);
    vec![
        amount("net", "Net price", totals.net, all),
        amount("gross", "Price with tax", totals.gross, all),
        amount("materials", "Materials", totals.materials, materials),
        amount("labour", "Labour", totals.labour, labour),
        amount(
            "commissioning",
            "Commissioning",
            totals.commissioning,
            commissioning,
        ),
        amount("provisional", "Provisional sums", totals.provisional, 0),
        measure("labour_h", "Time on site", Value::of(hours, Unit::Hour)),
        measure("lead_time_d", "Longest lead time", lead_time(job)),
    ]
}

fn lead_time(job: &Job) -> Value {
    job.quote
        .longest_lead_time
        .as_ref()
        .map_or(Value::Unknown("no item gives a lead time"), |(days, _)| {
            Value::of(f64::from(*days), Unit::Day)
        })
}

fn light(job: &Job) -> Vec<Measure> {
    let runs = &job.sizing.runs;
    let worst = |of: &dyn Fn(&SizedRun) -> f64| {
        let all = runs.iter().map(|sized| {
            if sized.figures.works {
                of(sized)
            } else {
                f64::NAN
            }
        });
        // A run without a working point makes the whole unknown.
        let least = all.fold(f64::INFINITY, |least, one| {
            if one.is_nan() || least.is_nan() {
                f64::NAN
            } else {
                least.min(one)
            }
        });
        if least.is_nan() {
            Value::Unknown("a run has no working point")
        } else {
            Value::of(least, Unit::Percent)
        }
    };
    let shift = runs
        .iter()
        .filter_map(|sized| sized.figures.colour_shift)
        .fold(None, |most: Option<f64>, one| {
            Some(most.map_or(one, |most| most.max(one)))
        });
    vec![
        measure(
            "light_least_percent",
            "Worst light",
            worst(&|sized| measured::percent(sized.figures.light_least)),
        ),
        measure(
            "light_evenness_percent",
            "Least even",
            worst(&|sized| measured::percent(sized.figures.evenness)),
        ),
        measure(
            "colour_shift_steps",
            "Most colour shift",
            shift.map_or(Value::Unknown("no run has a colour that can shift"), |it| {
                Value::of(it, Unit::Steps)
            }),
        ),
    ]
}

fn equipment(job: &Job) -> Vec<Measure> {
    let (sizing, allocation) = (&job.sizing, &job.allocation);
    let metres = |length: Length| Value::of(measured::metres(length), Unit::Metre);
    let strip: Length = sizing.runs.iter().map(|sized| sized.length).sum();
    let feeds: usize = sizing
        .runs
        .iter()
        .flat_map(|sized| &sized.sections)
        .map(|section| section.feeds.len())
        .sum();
    let load: Power = sizing.drivers.iter().map(|driver| driver.load).sum();
    let devices = allocation
        .loops
        .iter()
        .flat_map(|one| &one.members)
        .filter(|member| member.kind == MemberKind::ControlDevice)
        .count();
    let feed_cable: Length = sizing.cables.iter().map(|cable| cable.length).sum();
    let bus_cable: Length = allocation.loops.iter().map(|one| one.cable_length).sum();
    let mains: Option<Length> = allocation.circuits.iter().map(|one| one.length).sum();
    vec![
        measure("runs", "Runs", Value::count(sizing.runs.len())),
        measure("strip_m", "Strip", metres(strip)),
        measure("feeds", "Feeds", Value::count(feeds)),
        measure("drivers", "Drivers", Value::count(sizing.drivers.len())),
        measure(
            "load_w",
            "Load on the drivers",
            Value::of(measured::watts(load), Unit::Watt),
        ),
        measure("loops", "Loops", Value::count(allocation.loops.len())),
        measure("control_devices", "Control devices", Value::count(devices)),
        measure(
            "circuits",
            "Mains circuits",
            Value::count(allocation.circuits.len()),
        ),
        measure("feed_cable_m", "Feed cable", metres(feed_cable)),
        measure("bus_cable_m", "Bus cable", metres(bus_cable)),
        measure(
            "mains_cable_m",
            "Mains cable",
            mains.map_or(
                Value::Unknown("a circuit has no route from a panel"),
                metres,
            ),
        ),
    ]
}

fn open(job: &Job) -> Vec<Measure> {
    let counts = Counts::of(&job.verdicts);
    let quote = &job.quote;
    vec![
        measure(
            "broken_faults",
            "Faults",
            Value::count(counts.broken_faults),
        ),
        measure(
            "cannot_tell",
            "Cannot tell",
            Value::count(counts.cannot_tell),
        ),
        measure(
            "assumptions",
            "Assumptions",
            Value::count(quote.assumptions.len()),
        ),
        measure(
            "lines_without_price",
            "Lines without a price",
            Value::count(quote.totals.lines_without_price + quote.totals.work_without_price),
        ),
    ]
}
