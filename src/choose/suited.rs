//! Whether strip, driver and cable suit each other by what only some datasheets say: the one place
//! where choosing and judging ask. `None` where a sheet is silent, so that nothing can be told.

use super::limits::{self, Checked};
use super::sized::Section;
use crate::model::cable::{Cable, WiringMethod};
use crate::model::driver::{Driver, Flicker, Polarity, SafetyClass};
use crate::model::project::Project;
use crate::model::run::Run;
use crate::model::scene::Group;
use crate::model::strip::Strip;
use crate::norms::defaults;
use crate::norms::light_modulation::{MOST_PST_LM, MOST_SVM, low_risk_depth};
use crate::norms::limit::{Bound, Limit, Source};
use crate::norms::region::Region;
use crate::quantity::figure::Unit;
use crate::quantity::{Length, Ratio, Voltage};
use uom::si::electric_potential::volt;
use uom::si::length::meter;
use uom::si::ratio::percent;

/// The longest stretch of strip that one feed serves: to an end from the feed next to it, or to
/// the middle between two feeds.
#[must_use]
pub fn stretch(section: &Section) -> Length {
    let end = section.start + section.length;
    let places: Vec<Length> = section.feeds.iter().map(|feed| feed.at).collect();
    let (Some(first), Some(last)) = (places.first(), places.last()) else {
        return section.length;
    };
    let between = places.windows(2).filter_map(|pair| match pair {
        [near, far] => Some((*far - *near) / 2.0),
        _ => None,
    });
    between.fold((*first - section.start).max(end - *last), Length::max)
}

/// The stretch that a feed serves against the longest section that may be fed at one end: a
/// section fed at both ends or in the middle may be twice as long.
#[must_use]
pub fn section_length(strip: &Strip, section: &Section) -> Option<Checked> {
    let most = strip.detail.longest_section?.get::<meter>();
    let found = stretch(section).get::<meter>();
    let what = "strip from one feed";
    Some(Checked::datasheet(what, found, most, Unit::Metre))
}

/// Length of a feed cable against the longest that a driver allows.
#[must_use]
pub fn feed_length(driver: &Driver, length: Length) -> Option<Checked> {
    let most = driver.detail.longest_feed?.get::<meter>();
    let found = length.get::<meter>();
    Some(Checked::datasheet("feed cable", found, most, Unit::Metre))
}

/// The highest voltage that strip stands, and where that is said.
#[must_use]
pub fn most_voltage(strip: &Strip) -> (Voltage, Source) {
    let usual = defaults::strip_overvoltage();
    match strip.detail.most_voltage {
        Some(most) => (most, Source::Datasheet),
        None => (strip.voltage + strip.voltage * usual.value, usual.source),
    }
}

/// The highest voltage that a driver gives, no load included, against what strip stands.
#[must_use]
pub fn overvoltage(driver: &Driver, strip: &Strip) -> Option<Checked> {
    let nominal = driver.output.voltage;
    let highest = nominal + nominal * driver.detail.tolerance?;
    let (most, source) = most_voltage(strip);
    let limit = Limit {
        value: most.get::<volt>(),
        bound: Bound::AtMost,
        source,
    };
    let found = highest.get::<volt>();
    Some(Checked::of("voltage at no load", found, &limit, Unit::Volt))
}

/// Whether a driver's channels have plus in common, as the channels of strip have; `None` where
/// the sheet is silent and there is more than one channel.
#[must_use]
pub fn common_plus(driver: &Driver, strip: &Strip) -> Option<bool> {
    if strip.channels.count() < 2 {
        return Some(true);
    }
    driver.detail.common.map(|pole| pole == Polarity::Plus)
}

/// The lowest light that is asked of a group when dimmed: the project's, or the lowest that a scene
/// asks for; `None` when nothing asks.
#[must_use]
pub fn dimmed_to(project: &Project, group: &Group) -> Option<Ratio> {
    let settings = project.scenes.iter().flat_map(|scene| &scene.settings);
    let asked = settings
        .filter(|setting| setting.group.name == group.name)
        .map(|setting| setting.light)
        .filter(|light| light.get::<percent>() > 0.0);
    let lowest = asked.reduce(Ratio::min);
    project.limits.dim_to.or(lowest)
}

/// The lowest light that a driver holds steadily against the lowest that is asked of it.
#[must_use]
pub fn dim_range(driver: &Driver, asked: Ratio) -> Option<Checked> {
    let limit = Limit {
        value: asked.get::<percent>(),
        bound: Bound::AtMost,
        source: Source::Project,
    };
    let found = driver.least_level?.get::<percent>();
    Some(Checked::of("lowest light", found, &limit, Unit::Percent))
}

/// A driver's modulation against the limits of a region, as far as its sheet says it: flicker and
/// stroboscopic visibility at full load where ecodesign rules hold, depth at the dimming frequency
/// everywhere. Empty where it says nothing.
#[must_use]
pub fn modulation(flicker: &Flicker, region: Region) -> Vec<Checked> {
    let by_law = region == Region::Iec;
    let law = |value: f64| Limit {
        value,
        bound: Bound::AtMost,
        source: Source::Published("Regulation (EU) 2019/2020 Annex II (from memory)"),
    };
    let number = |what, found: Option<f64>, most| {
        let found = found.filter(|_| by_law)?;
        Some(Checked::of(what, found, &law(most), Unit::Plain))
    };
    let depth = flicker.frequency.map(|frequency| {
        let limit = Limit {
            value: low_risk_depth(frequency).get::<percent>(),
            bound: Bound::AtMost,
            source: Source::Published("IEEE 1789-2015, low risk (from memory)"),
        };
        let found = flicker.depth.map_or(100.0, |depth| depth.get::<percent>());
        Checked::of("depth of modulation", found, &limit, Unit::Percent)
    });
    [
        number("flicker Pst LM", flicker.pst_lm, MOST_PST_LM),
        number("stroboscopic visibility SVM", flicker.svm, MOST_SVM),
        depth,
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Whether a region asks for wiring methods of power behind a driver: in `north-america`, where its
/// outputs are not marked Class 2 or give more than Class 2 allows. `None` where its sheet does not
/// say how it is marked.
#[must_use]
pub fn wired_as_power(driver: &Driver, region: Region) -> Option<bool> {
    if region != Region::NorthAmerica {
        return Some(false);
    }
    if !limits::class_2_power(driver).keeps {
        return Some(true);
    }
    let marks = driver.safety.as_ref()?;
    Some(!marks.contains(&SafetyClass::Class2))
}

/// A feed cable against the wiring method that a driver asks for in a region; `None` where it asks
/// for none, or where one of the sheets is silent.
#[must_use]
pub fn wiring(driver: &Driver, cable: &Cable, region: Region) -> Option<Checked> {
    if !wired_as_power(driver, region)? {
        return None;
    }
    let limit = Limit {
        value: 0.0,
        bound: Bound::AtMost,
        source: Source::Published("NEC Chapter 3, Article 411"),
    };
    let other = cable.detail.wiring? == WiringMethod::ClassTwo;
    let what = "cables of a wiring method other than chapter 3";
    Some(Checked::of(what, f64::from(other), &limit, Unit::Count))
}

/// Whether a driver is known not to suit a run: what a sheet does not say is not held against it.
#[must_use]
pub fn known_unfit(project: &Project, run: &Run, driver: &Driver) -> bool {
    let dims = dimmed_to(project, &run.group).and_then(|asked| dim_range(driver, asked));
    let checks = [overvoltage(driver, &run.strip), dims];
    let modulation = modulation(&driver.detail.flicker, project.region);
    common_plus(driver, &run.strip) == Some(false)
        || checks
            .into_iter()
            .flatten()
            .chain(modulation)
            .any(|checked| !checked.keeps)
}
