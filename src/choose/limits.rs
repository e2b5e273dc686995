//! Whether a figure keeps its limit: the one place where choosing and judging ask.
//!
//! Each function says what was found, what the limit is and whether it is kept; `None` where the
//! datasheet sets no limit, so that nothing can be told.

use super::derating::usable;
use crate::model::cable::Cable;
use crate::model::driver::Driver;
use crate::model::extra::{Accessory, Per};
use crate::model::house_rule::{HouseRule, Measure};
use crate::model::limits::Limits;
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::strip::Strip;
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::nec_ampacity::CONTINUOUS;
use crate::norms::nec_class_2;
use crate::norms::region::Region;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use crate::quantity::{Current, Length, Power, Ratio, Temperature, Voltage};
use uom::si::area::square_millimeter;
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::power::watt;
use uom::si::ratio::{percent, ratio};

/// A figure held against its limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Checked {
    /// What was looked at: "light drop".
    pub what: &'static str,
    /// What was found.
    pub found: Figure,
    /// The limit.
    pub limit: Figure,
    /// Which side of it is allowed.
    pub bound: Bound,
    /// Where it comes from.
    pub source: Source,
    /// Whether it is kept.
    pub keeps: bool,
}

impl Checked {
    pub(super) fn of(what: &'static str, found: f64, limit: &Limit<f64>, unit: Unit) -> Checked {
        Checked {
            what,
            found: Figure::new(found, unit),
            limit: Figure::new(limit.value, unit),
            bound: limit.bound,
            source: limit.source.clone(),
            keeps: limit.allows(found),
        }
    }

    fn share(what: &'static str, found: Ratio, limit: &Limit<Ratio>) -> Checked {
        let limit = Limit {
            value: limit.value.get::<percent>(),
            bound: limit.bound,
            source: limit.source.clone(),
        };
        Checked::of(what, found.get::<percent>(), &limit, Unit::Percent)
    }

    pub(super) fn datasheet(what: &'static str, found: f64, most: f64, unit: Unit) -> Checked {
        Checked::of(what, found, &at_most(most), unit)
    }

    /// Figure and limit in words: "12.4 % (limit 10.0 %)".
    #[must_use]
    pub fn by(&self) -> String {
        format!("{} (limit {})", self.found, self.limit)
    }

    /// How far the figure is on the wrong side of its limit, as a share of it; negative when there
    /// is room left. Infinite when nothing is allowed.
    #[must_use]
    pub fn excess(&self) -> f64 {
        let beyond = match self.bound {
            Bound::AtMost => self.found.value - self.limit.value,
            Bound::AtLeast => self.limit.value - self.found.value,
        };
        match (self.keeps, beyond / self.limit.value.abs()) {
            (_, excess) if excess.is_finite() => excess,
            (true, _) => 0.0,
            (false, _) => f64::INFINITY,
        }
    }
}

fn at_most(value: f64) -> Limit<f64> {
    Limit {
        value,
        bound: Bound::AtMost,
        source: Source::Datasheet,
    }
}

/// The limits that a run is sized to: the project's or its own, tightened by the rules of the
/// house.
#[must_use]
pub fn of_run(project: &Project, run: &Run) -> Limits {
    let mut limits = project.limits.of_run(&run.limits);
    let about = |rule: &&HouseRule| rule.loosens.is_none() && rule.only.takes(run);
    for rule in project.house_rules.iter().filter(about) {
        let share = Ratio::new::<percent>(rule.value);
        match (rule.measure, rule.bound) {
            (Measure::LightDrop, Bound::AtMost) => tighten(&mut limits.light_drop, share),
            (Measure::LightEvenness, Bound::AtLeast) => tighten(&mut limits.evenness, share),
            (Measure::FeedDrop, Bound::AtMost) => tighten(&mut limits.feed_drop, share),
            (Measure::DriverLoad, Bound::AtMost) => tighten(&mut limits.driver_load, share),
            (Measure::ColourShift, Bound::AtMost) if rule.value < limits.colour_shift.value => {
                limits.colour_shift.value = rule.value;
                limits.colour_shift.source = Source::Project;
            }
            _ => {}
        }
    }
    limits
}

fn tighten(limit: &mut Limit<Ratio>, value: Ratio) {
    let tighter = match limit.bound {
        Bound::AtMost => value < limit.value,
        Bound::AtLeast => value > limit.value,
    };
    if tighter {
        limit.value = value;
        limit.source = Source::Project;
    }
}

/// Light lost at the darkest segment, of nominal light.
#[must_use]
pub fn light_drop(limits: &Limits, light_least: Ratio) -> Checked {
    let drop = Ratio::new::<ratio>(1.0) - light_least;
    Checked::share("light drop", drop, &limits.light_drop)
}

/// Darkest over brightest segment of a channel.
#[must_use]
pub fn evenness(limits: &Limits, found: Ratio) -> Checked {
    Checked::share("evenness", found, &limits.evenness)
}

/// Largest colour shift along a run, in steps.
#[must_use]
pub fn colour_shift(limits: &Limits, steps: f64) -> Checked {
    Checked::of("colour shift", steps, &limits.colour_shift, Unit::Steps)
}

/// Voltage lost from the driver to the furthest segment, of nominal voltage.
#[must_use]
pub fn feed_drop(limits: &Limits, share: Ratio) -> Checked {
    Checked::share("feed drop", share, &limits.feed_drop)
}

/// Segments that give no light: none are allowed.
#[must_use]
pub fn dark_segments(count: usize) -> Checked {
    let none = Limit {
        value: 0.0,
        bound: Bound::AtMost,
        source: Source::CommonPractice("every segment gives light"),
    };
    Checked::of("dark segments", real(count), &none, Unit::Count)
}

/// Voltage at the furthest segment against the least at which the strip works as specified.
#[must_use]
pub fn least_voltage(strip: &Strip, found: Voltage) -> Option<Checked> {
    let least = Limit {
        value: strip.least_voltage?.get::<volt>(),
        bound: Bound::AtLeast,
        source: Source::Datasheet,
    };
    let found = found.get::<volt>();
    Some(Checked::of("least voltage", found, &least, Unit::Volt))
}

/// Length of a section against the longest reel its strip is sold in; `None` where pieces may be
/// joined, or no reel is listed.
#[must_use]
pub fn in_one_piece(strip: &Strip, found: Length) -> Option<Checked> {
    if strip.joints {
        return None;
    }
    let reels = strip.reels.iter().map(|reel| reel.length);
    let longest = reels.reduce(Length::max)?.get::<meter>();
    let found = found.get::<meter>();
    Some(Checked::datasheet(
        "length in one piece",
        found,
        longest,
        Unit::Metre,
    ))
}

/// Current that enters a strip at one feed.
#[must_use]
pub fn feed_current(strip: &Strip, found: Current) -> Option<Checked> {
    let most = strip.most_feed_current?;
    Some(amperes("current into the strip at one feed", found, most))
}

fn amperes(what: &'static str, found: Current, most: Current) -> Checked {
    let (found, most) = (found.get::<ampere>(), most.get::<ampere>());
    Checked::datasheet(what, found, most, Unit::Ampere)
}

/// The accessories that a run needs by a rule.
pub fn accessories<'a>(
    all: impl IntoIterator<Item = &'a Accessory>,
    run: &Run,
    per: Per,
) -> impl Iterator<Item = &'a Accessory> {
    all.into_iter()
        .filter(move |accessory| accessory.per == per && accessory.suits(run))
}

/// Current of a feed through the connectors that the run's feeds get; the tightest counts.
#[must_use]
pub fn connector_current(project: &Project, run: &Run, found: Current) -> Option<Checked> {
    let all = project.catalogue.accessories.iter().map(AsRef::as_ref);
    accessories(all, run, Per::Feed)
        .filter_map(|accessory| accessory.most_current)
        .min_by(|a, b| a.value.total_cmp(&b.value))
        .map(|most| amperes("connector current", found, most))
}

/// A load current as it counts against what its cable may carry: in `north-america` 125 % of it,
/// because lighting is on for three hours or more (NEC 210.19(A)).
#[must_use]
pub fn counted_current(region: Region, load: Current) -> Current {
    match region {
        Region::NorthAmerica => load * CONTINUOUS,
        Region::Iec | Region::AusNz => load,
    }
}

/// Current of a cable, as it counts in the region, against what it may carry there.
#[must_use]
pub fn cable_current(
    region: Region,
    found: Current,
    (ampacity, source): (Current, Source),
) -> Checked {
    let limit = Limit {
        value: ampacity.get::<ampere>(),
        bound: Bound::AtMost,
        source,
    };
    let counted = counted_current(region, found).get::<ampere>();
    Checked::of("cable current", counted, &limit, Unit::Ampere)
}

/// The most that a driver gives before it folds back, or two units whose pluses are joined give
/// together, against what one of its feed cables may carry: a short circuit at the strip must not
/// overload the cable.
#[must_use]
pub fn cable_overload(
    driver: &Driver,
    pieces: usize,
    (ampacity, source): (Current, Source),
) -> Checked {
    let limit = Limit {
        value: ampacity.get::<ampere>(),
        bound: Bound::AtMost,
        source,
    };
    let found = real(pieces) * most_current(driver).get::<ampere>();
    let what = "driver current on one feed cable";
    Checked::of(what, found, &limit, Unit::Ampere)
}

/// The most that a driver gives: its rated power at its voltage, or the sum of its channels' limits
/// where that is less.
#[must_use]
pub fn most_current(driver: &Driver) -> Current {
    let output = &driver.output;
    let by_power: Current = output.power / output.voltage;
    let each = output.current_per_channel;
    let by_channels = each.map(|each| each * real(output.channels));
    by_channels
        .filter(|sum| *sum < by_power)
        .unwrap_or(by_power)
}

/// Current of one channel of an output.
#[must_use]
pub fn output_current(driver: &Driver, found: Current) -> Option<Checked> {
    let most = driver.output.current_per_channel?;
    Some(amperes("driver output current", found, most))
}

/// Voltage of the supply against what a driver's mains side works at: against the bound that it
/// passes, or else the upper one.
#[must_use]
pub fn mains_voltage(driver: &Driver, supply: Voltage) -> Option<Checked> {
    let (least, most) = driver.mains.voltage?;
    let (bound, value) = if supply < least {
        (Bound::AtLeast, least)
    } else {
        (Bound::AtMost, most)
    };
    let limit = Limit {
        value: value.get::<volt>(),
        bound,
        source: Source::Datasheet,
    };
    let found = supply.get::<volt>();
    Some(Checked::of("mains voltage", found, &limit, Unit::Volt))
}

/// Power of each output of a driver that is marked Class 2, each being a supply by itself, against
/// the most that Class 2 allows at its voltage.
#[must_use]
pub fn class_2_power(driver: &Driver) -> Checked {
    let output = &driver.output;
    let of_channel = output.current_per_channel.map(|most| output.voltage * most);
    let each = of_channel
        .filter(|each| output.channels > 1 && *each < output.power)
        .unwrap_or(output.power);
    let most = nec_class_2::most_power(output.voltage).unwrap_or_default();
    let limit = Limit {
        value: most.get::<watt>(),
        bound: Bound::AtMost,
        source: Source::Published("NEC Chapter 9 Table 11(B)"),
    };
    let found = each.get::<watt>();
    Checked::of("power of an output", found, &limit, Unit::VoltAmpere)
}

/// Load of a driver as a share of what it can give at the cupboard's ambient.
#[must_use]
pub fn driver_load(
    limits: &Limits,
    driver: &Driver,
    ambient: Option<Temperature>,
    load: Power,
) -> Checked {
    let usable = usable(driver, ambient).get::<watt>();
    let share = Ratio::new::<ratio>(load.get::<watt>() / usable);
    Checked::share("driver load", share, &limits.driver_load)
}

/// Size of a feed cable against what the driver's terminals take.
#[must_use]
pub fn terminal(driver: &Driver, cable: &Cable) -> Option<Checked> {
    let most = driver.largest_terminal?.area().get::<square_millimeter>();
    let found = cable.size.area().get::<square_millimeter>();
    let unit = Unit::SquareMillimetre;
    Some(Checked::datasheet(
        "conductor size at the driver",
        found,
        most,
        unit,
    ))
}
