//! What every document that someone could wire from must say. None of it can be switched off.

use super::job::Job;
use crate::choose::sized::Sizing;
use crate::judge::{self, verdict::Verdict};
use crate::model::driver::SafetyClass;
use crate::model::project::Project;
use crate::norms::limit::Source;
use crate::norms::region::Region;
use uom::si::linear_power_density::watt_per_meter;
use uom::si::thermodynamic_temperature::degree_celsius;

/// Power per length above which strip is expected to be mounted on metal (common practice, no
/// source).
const WARM_WATTS_PER_METRE: f64 = 10.0;
/// Ambient at which most datasheet figures end to hold (common practice, no source).
const WARM_AMBIENT_CELSIUS: f64 = 35.0;

/// The cautions that a project calls for before it is sized: those for all jobs of its region,
/// those that its places call for, and those of the rules that have something to say about it.
#[must_use]
pub fn of(project: &Project, of_rules: Vec<String>) -> Vec<String> {
    let mut cautions = general(project.region);
    cautions.extend(loosened(project));
    cautions.extend(texts(BY_PROJECT, project));
    add_new(&mut cautions, of_rules);
    cautions
}

/// What stands in the frame on every sheet: the cautions for all jobs of the region, and those
/// that the places and drivers of this one call for.
#[must_use]
pub fn on_sheets(job: &Job) -> Vec<String> {
    let mut cautions = general(job.project.region);
    cautions.extend(loosened(&job.project));
    cautions.extend(texts(BY_PROJECT, &job.project));
    cautions.extend(texts(BY_SIZING, &job.sizing));
    cautions
}

/// Every caution of a job: those of the sheets, then those of the rules.
#[must_use]
pub fn all(job: &Job) -> Vec<String> {
    let mut cautions = on_sheets(job);
    add_new(&mut cautions, job.cautions.clone());
    cautions
}

/// The cautions of the sheets, then those of the rules that are open: broken, or not to be told.
#[must_use]
pub fn of_open(job: &Job) -> Vec<String> {
    let is_open = |verdict: &&Verdict| verdict.outcome.is_open();
    let open: Vec<Verdict> = job.verdicts.iter().filter(is_open).cloned().collect();
    let mut cautions = on_sheets(job);
    add_new(&mut cautions, judge::cautions(&open));
    cautions
}

/// The published limits that the project loosens. Every document says so.
#[must_use]
pub fn loosened(project: &Project) -> Vec<String> {
    let limits = [
        ("feed-voltage-drop", &project.limits.feed_drop.source),
        ("circuit-drop", &project.limits.circuit_drop.source),
    ];
    limits
        .into_iter()
        .filter_map(|(rule, source)| match source {
            Source::Loosened(said) => Some(as_sentence(&format!(
                "a published limit is loosened on this job, {rule}: {said}"
            ))),
            _ => None,
        })
        .collect()
}

fn add_new(cautions: &mut Vec<String>, more: Vec<String>) {
    for caution in more.iter().map(|caution| as_sentence(caution)) {
        if !cautions.contains(&caution) {
            cautions.push(caution);
        }
    }
}

/// With a capital and a full stop: rules state theirs as part of a message.
fn as_sentence(text: &str) -> String {
    let mut characters = text.chars();
    let first = characters.next().into_iter().flat_map(char::to_uppercase);
    let mut sentence: String = first.chain(characters).collect();
    if !sentence.ends_with('.') {
        sentence.push('.');
    }
    sentence
}

/// The cautions for all jobs of a region.
#[must_use]
pub fn general(region: Region) -> Vec<String> {
    let (rules, person) = match region {
        Region::Iec => (
            "The national wiring rules (those based on IEC 60364)",
            "a competent person, licensed where the law asks for it",
        ),
        Region::NorthAmerica => (
            "The electrical code as adopted where the job is (NEC or CE Code)",
            "a licensed electrician",
        ),
        Region::AusNz => (
            "AS/NZS 3000 and the rules of the state or country",
            "a licensed electrical worker",
        ),
    };
    let apart = match region {
        Region::NorthAmerica => {
            "Keep class 2, control and power wiring apart as the code requires; unless every unit \
             is listed for class 2, wire the control bus as power."
        }
        Region::Iec | Region::AusNz => {
            "Keep extra-low voltage, mains and control cables apart as the rules require; treat \
             the control bus as mains."
        }
    };
    [
        "This is a calculation aid. It does not replace design, inspection and test by a \
         competent person."
            .to_owned(),
        format!("{rules} and the makers' instructions take precedence over this document."),
        format!("Mains work is for {person}."),
        "Isolate, lock off and prove dead before you touch a terminal; a control bus can stay \
         live from another circuit."
            .to_owned(),
        apart.to_owned(),
        "Keep drivers where they can be reached and where air gets to them.".to_owned(),
    ]
    .into()
}

/// What comes before any measuring.
#[must_use]
pub fn before_measuring(region: Region) -> Vec<String> {
    let (rules, person) = match region {
        Region::Iec => (
            "The national rules for work on or near live parts (EN 50110 and those beside it)",
            "a competent person, licensed where the law asks for it",
        ),
        Region::NorthAmerica => (
            "The electrical code and the rules for electrical safety at work (NFPA 70E or CSA Z462)",
            "a qualified person",
        ),
        Region::AusNz => (
            "AS/NZS 4836 and the rules of the state or country",
            "a licensed electrical worker",
        ),
    };
    [
        format!(
            "{rules} say whether anything may be measured live, and by whom: {person}. They and \
             the site's own rules come before this sheet."
        ),
        "Whatever can be measured dead is measured dead: isolate, lock off, prove dead with an \
         instrument that is itself proved before and after."
            .to_owned(),
        "Live: an instrument and leads for the measurement category of the place (IEC 61010), one \
         hand, covered probes, nobody alone. Mains terminals stand beside the outputs of a driver."
            .to_owned(),
        "No joint, core or strip is opened, moved or joined while it is live; the control bus is \
         treated as mains."
            .to_owned(),
        "A reading outside its band on a mains circuit or of insulation stops the work: nothing is \
         made live until it is put right and tested again."
            .to_owned(),
    ]
    .into()
}

/// A caution that some jobs call for.
struct Conditional<T> {
    /// Whether what is asked about calls for it.
    applies: fn(&T) -> bool,
    /// What it says.
    text: &'static str,
}

const BY_PROJECT: &[Conditional<Project>] = &[
    Conditional {
        applies: |project| project.runs.iter().any(|run| run.wet),
        text: "Wet places: use strip, joints and end caps of the ingress class asked for, seal cut \
               ends again, and keep drivers out of the zones where mains is not allowed.",
    },
    Conditional {
        applies: is_warm,
        text: "Heat: mount strip on metal or as its maker says, not on bare timber or plaster; \
               leave no strip lit on the reel.",
    },
    Conditional {
        applies: |project| !project.runs.is_empty(),
        text: "Working at height: use safe access, and have a second person where strip or cable \
               is out of reach from the floor.",
    },
];

const BY_SIZING: &[Conditional<Sizing>] = &[
    Conditional {
        applies: |sizing| {
            let mut marks = sizing
                .drivers
                .iter()
                .filter_map(|it| it.item.safety.as_ref());
            marks.any(|marks| !marks.contains(&SafetyClass::ProtectiveClassTwo))
        },
        text: "Drivers that are not double insulated (protective class II) need their protective \
               conductor connected and tested.",
    },
    Conditional {
        applies: |sizing| sizing.drivers.iter().any(|it| it.item.safety.is_none()),
        text: "At least one driver's sheet does not say how its output is separated from mains: \
               until it does, treat its output as mains.",
    },
    Conditional {
        applies: |sizing| sizing.drivers.iter().any(|it| it.item.bus.is_some()),
        text: "Dimmed light can flicker. Where people may be photosensitive, or cameras are used, \
               ask for the drivers' flicker figures before ordering.",
    },
];

fn texts<T>(list: &[Conditional<T>], about: &T) -> Vec<String> {
    list.iter()
        .filter(|caution| (caution.applies)(about))
        .map(|caution| caution.text.to_owned())
        .collect()
}

fn is_warm(project: &Project) -> bool {
    let strong = project.runs.iter().any(|run| {
        let channels = run.strip.channels.list();
        let power = channels.iter().map(|channel| channel.power);
        power.fold(0.0, |sum, each| sum + each.get::<watt_per_meter>()) > WARM_WATTS_PER_METRE
    });
    let warm = |ambient: Option<crate::quantity::Temperature>| {
        ambient.is_some_and(|at| at.get::<degree_celsius>() >= WARM_AMBIENT_CELSIUS)
    };
    let points = project.site.points.iter().any(|point| warm(point.ambient));
    strong || points || project.runs.iter().any(|run| warm(run.ambient))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_region_has_the_whole_list() {
        for region in Region::ALL {
            let text = general(region).join(" ");
            for word in [
                "calculation aid",
                "take precedence",
                "Mains work is for",
                "prove dead",
                "apart",
                "reached",
            ] {
                assert!(text.contains(word), "{}: {word}", region.name());
            }
        }
    }
}
