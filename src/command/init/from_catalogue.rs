//! A first project for a catalogue that is there: the starter of its region, with the catalogue's own
//! items in it, sized before it is written.

use super::super::Failure;
use super::super::catalogue_path::named_from;
use super::super::input::complaints;
use super::files;
use crate::judge::Counts;
use crate::judge::catalogue::{drives, feed_cable, region_of, wants};
use crate::load::{self, alone};
use crate::model::catalogue::Catalogue;
use crate::model::driver::Driver;
use crate::model::extra::Profile;
use crate::model::strip::{Channels, Strip};
use crate::norms::region::Region;
use crate::pipeline;
use crate::present::counts::sentence;
use crate::quantity::white;
use crate::quantity::{PowerPerLength, Temperature, Voltage};
use std::path::Path;
use time::Date;
use uom::si::electric_potential::volt;
use uom::si::thermodynamic_temperature::kelvin;

/// A project, and what to tell of it.
pub(super) struct Made {
    pub text: String,
    pub remarks: Vec<String>,
}

/// Strips that are tried for the first run before the best so far is taken.
const TRIED: usize = 3;

/// A project that uses the catalogue's items.
///
/// # Errors
/// When the catalogue can't be used, or none of its strips can be fed with what it has.
pub(super) fn project(path: &str, region: Option<Region>, folder: &Path) -> Result<Made, Failure> {
    let source = load::opened(path).map_err(|fault| complaints(fault.into()))?;
    let (alone, _) = alone::read(source).map_err(complaints)?;
    let region = region.unwrap_or_else(|| region_of(&alone));
    let catalogue = &alone.catalogue;
    let base = Some(folder).filter(|folder| *folder != Path::new("."));
    let named = named_from(base, path);
    let mut best: Option<Tried> = None;
    for items in choices(catalogue) {
        let text = written(&items, catalogue, region, &named);
        let tried = tried(text, folder);
        let better = |one: &Tried, other: &Tried| one.rank() < other.rank();
        if best.as_ref().is_none_or(|best| better(&tried, best)) {
            best = Some(tried);
        }
        if best.as_ref().is_some_and(|best| best.rank() == (0, 0)) {
            break;
        }
    }
    let lacks: Vec<String> = wants(catalogue);
    let lacks: Vec<String> = lacks.iter().map(|want| format!("lacks {want}")).collect();
    match best {
        Some(Tried {
            text,
            ended: Ok(counts),
        }) => {
            let mut remarks = lacks;
            remarks.push(format!("sized with {path}: {}", sentence(counts)));
            Ok(Made { text, remarks })
        }
        Some(Tried {
            ended: Err(why), ..
        }) => Err(Failure::saying(format!(
            "{path} allows no project that can be laid out, and nothing was written: {why}"
        ))),
        None => Err(Failure::saying(format!(
            "nothing can be fed with {path} alone, and nothing was written: it {}",
            lacks.join("; it ")
        ))),
    }
}

/// A project that was tried, and how its check ended.
struct Tried {
    text: String,
    ended: Result<Counts, String>,
}

impl Tried {
    /// Less is better: broken, then not told.
    fn rank(&self) -> (usize, usize) {
        match self.ended {
            Ok(counts) => (counts.broken(), counts.cannot_tell),
            Err(_) => (usize::MAX, usize::MAX),
        }
    }
}

fn tried(text: String, folder: &Path) -> Tried {
    let worked_out = load::project_from_text(super::PROJECT, &text, folder).and_then(pipeline::run);
    let ended = match worked_out {
        Ok((job, _)) => Ok(Counts::of(&job.verdicts)),
        Err(faults) => Err(faults.to_string()),
    };
    Tried { text, ended }
}

/// What the runs of the starter are made of.
struct Items<'a> {
    hall: &'a Strip,
    stacks: &'a Strip,
    profile: Option<&'a Profile>,
    short: bool,
}

/// Ways of filling in the starter, the fullest first.
fn choices(catalogue: &Catalogue) -> Vec<Items<'_>> {
    let strips = catalogue.strips.iter().map(AsRef::as_ref);
    let fed = strips.filter(|strip| drivers(catalogue, strip).next().is_some());
    let mut fed: Vec<&Strip> = fed
        .filter(|strip| feed_cable(catalogue, strip.channels.count() + 1))
        .collect();
    let single = fed
        .iter()
        .copied()
        .find(|strip| strip.channels.count() == 1);
    fed.sort_by_key(|strip| std::cmp::Reverse(strip.channels.count()));
    let mut choices = Vec::new();
    for hall in fed.into_iter().take(TRIED) {
        let stacks = single.unwrap_or(hall);
        let profiles = catalogue.profiles.iter().map(AsRef::as_ref);
        let profile = profiles
            .filter(|profile| [hall, stacks].iter().all(|strip| sheds(profile, strip)))
            .max_by(|a, b| {
                a.depth
                    .partial_cmp(&b.depth)
                    .unwrap_or(std::cmp::Ordering::Equal)
            });
        for short in [false, true] {
            for profile in [profile, None] {
                choices.push(Items {
                    hall,
                    stacks,
                    profile,
                    short,
                });
            }
        }
    }
    choices
}

fn drivers<'a>(catalogue: &'a Catalogue, strip: &'a Strip) -> impl Iterator<Item = &'a Driver> {
    let all = catalogue.drivers.iter().map(AsRef::as_ref);
    all.filter(move |driver| drives(driver, strip))
}

/// Whether a profile can hold a strip, as far as its sheet says.
fn sheds(profile: &Profile, strip: &Strip) -> bool {
    let channels = strip.channels.list();
    let power: PowerPerLength = channels.iter().map(|channel| channel.power).sum();
    profile.most_power.is_some_and(|most| most >= power)
}

/// The starter of the region with these items in it.
fn written(items: &Items, catalogue: &Catalogue, region: Region, path: &str) -> String {
    let starter = files(region).into_iter().next();
    let mut text = starter.map(|(_, text)| text).unwrap_or_default();
    let mut put = |old: &str, new: &str| text = text.replace(old, new);
    put(
        "strip: pair-24-12 ",
        &format!("strip: {} ", quoted(&items.hall.offer.id)),
    );
    put(
        "strip: white-24-6,",
        &format!("strip: {},", quoted(&items.stacks.offer.id)),
    );
    put("[catalogue.yaml]", &format!("[{}]", quoted(path)));
    match items.profile {
        Some(profile) => put("slim-12", &quoted(&profile.offer.id)),
        None => {
            put("    profile: slim-12\n", "");
            put(" profile: slim-12,", "");
        }
    }
    if items.short {
        put("length: 7.6 m\n", "length: 2 m\n");
        put("length: 25 ft\n", "length: 6 ft\n");
        put("length: 3.2 m,", "length: 2 m,");
        put("length: 10 ft 6 in,", "length: 6 ft,");
    }
    let title = format!("First project with {}", catalogue.titles.join(", "));
    put("Millrace Library, north wing", &quoted(&title));
    put("reference: ML-001", "reference: P-001");
    if let Some(volts) = mains(items, catalogue, region) {
        put("voltage: 120 V", &format!("voltage: {volts} V"));
    }
    let lines = text.lines().filter(|line| !line.starts_with("  for: "));
    let mut text: String = lines.flat_map(|line| [line, "\n"]).collect();
    dated(&mut text, catalogue);
    match catalogue.control_devices.first() {
        Some(device) => {
            text = text.replace(
                "item: presence-sensor",
                &format!("item: {}", quoted(&device.offer.id)),
            );
        }
        None => without(
            &mut text,
            "# Everything else on the control bus.\n",
            "\ngroups:",
        ),
    }
    match whites(items, catalogue) {
        Some([day, evening]) => {
            text = text.replace("white: 4000 K", &format!("white: {}", white::write(day)));
            text = text.replace(
                "white: 2900 K",
                &format!("white: {}", white::write(evening)),
            );
        }
        None => {
            text = text
                .replace(", white: 4000 K", "")
                .replace(", white: 2900 K", "")
        }
    }
    let steered = |strip: &Strip| drivers(catalogue, strip).any(|driver| driver.bus.is_some());
    if !steered(items.hall) || !steered(items.stacks) {
        without(&mut text, "scenes:\n", "\nloops:");
    }
    text
}

/// Takes out what stands from one text up to another.
fn without(text: &mut String, from: &str, to: &str) {
    let span = text.find(from).and_then(|start| {
        let rest = text.get(start..)?;
        Some(start..start + rest.find(to)?)
    });
    if let Some(span) = span {
        text.replace_range(span, "");
    }
}

/// The day from the catalogue where its prices don't hold on the starter's.
fn dated(text: &mut String, catalogue: &Catalogue) {
    let until: Option<Date> = catalogue
        .offers()
        .filter_map(|offer| offer.price_valid_until)
        .min();
    let own = text.lines().find_map(|line| line.strip_prefix("  date: "));
    let Some((until, own)) = until.zip(own.map(str::to_owned)) else {
        return;
    };
    // Dates after ISO 8601 sort as their days do.
    if until.to_string() < own {
        let dated =
            format!("  date: {until}        # the last day of the catalogue's earliest prices");
        *text = text.replace(&format!("  date: {own}"), &dated);
    }
}

/// The mains voltage where the starter's is none that the drivers of the runs take.
fn mains(items: &Items, catalogue: &Catalogue, region: Region) -> Option<f64> {
    let takes = |strip: &Strip, volts: f64| {
        let volts = Voltage::new::<volt>(volts);
        drivers(catalogue, strip).any(|driver| {
            let range = driver.mains.voltage;
            range.is_none_or(|(least, most)| (least..=most).contains(&volts))
        })
    };
    let fits = |volts: &f64| takes(items.hall, *volts) && takes(items.stacks, *volts);
    let other = [277.0, 347.0].into_iter().find(fits);
    other.filter(|_| region == Region::NorthAmerica && !fits(&120.0))
}

/// Two whites for the scenes, a third and two thirds of the way from the warm to the cool one, as
/// far as a controller can be told them; `None` for strip of one white.
fn whites(items: &Items, catalogue: &Catalogue) -> Option<[Temperature; 2]> {
    let Channels::TunableWhite { warm, cool } = &items.hall.channels else {
        return None;
    };
    let (mut warm, mut cool) = (warm.white?, cool.white?);
    let told = catalogue.controllers.iter().find_map(|one| one.whites);
    if let Some((least, most)) = told {
        warm = if warm < least { least } else { warm };
        cool = if cool > most { most } else { cool };
    }
    let mirek = |of: Temperature| 1.0e6 / of.get::<kelvin>();
    let between = |share: f64| {
        let mirek = mirek(warm) + share * (mirek(cool) - mirek(warm));
        // As whites are asked for: in hundreds of kelvin.
        Temperature::new::<kelvin>((1.0e4 / mirek).round() * 100.0)
    };
    (warm < cool).then(|| [between(0.6), between(0.2)])
}

/// A plain value, in the quotes that YAML shares with JSON where it needs them.
fn quoted(text: &str) -> String {
    let plain = text
        .chars()
        .all(|c| c.is_ascii_alphanumeric() || "-_./".contains(c));
    if plain && text.starts_with(|c: char| c.is_ascii_alphabetic()) {
        text.to_owned()
    } else {
        serde_json::Value::from(text).to_string()
    }
}
