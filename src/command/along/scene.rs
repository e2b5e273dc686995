//! A run in a scene: its level, and the white along it.

use crate::choose::shift::light;
use crate::choose::sized::SizedRun;
use crate::command::Failure;
use crate::load::nearest::hint;
use crate::model::scene::SceneSetting;
use crate::present::along::{SceneAlong, SceneSet};
use crate::present::job::Job;
use crate::present::printable::printable;
use crate::quantity::Temperature;
use crate::quantity::figure::{Figure, Unit};
use crate::solve::mix::{self, MixAlong, Pair, PlaceMix};
use crate::solve::strip::Lit;
use crate::solve::{case, dimming};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;

/// A run in the scene of a name.
///
/// # Errors
/// When there is no such scene.
pub fn along(job: &Job, sized: &SizedRun, name: &str) -> Result<SceneAlong, Failure> {
    let scenes = &job.project.scenes;
    let scene = scenes.iter().find(|scene| scene.name == name);
    let scene = scene.ok_or_else(|| {
        let known: Vec<&str> = scenes.iter().map(|scene| scene.name.as_str()).collect();
        let hint = hint(name, &known);
        let (name, hint) = (printable(name), printable(&hint));
        Failure::saying(format!("the project has no scene `{name}`{hint}"))
    })?;
    let group = &sized.run.group.name;
    let setting = scene.settings.iter().find(|it| it.group.name == *group);
    Ok(SceneAlong {
        scene: scene.name.clone(),
        set: setting.map(|setting| set(sized, setting)),
    })
}

fn set(sized: &SizedRun, setting: &SceneSetting) -> SceneSet {
    let white = setting.white.map(|wanted| white(sized, wanted));
    let (mixed, why_not) = match white {
        None => (None, None),
        Some(Ok(mixed)) => (Some(mixed), None),
        Some(Err(why)) => (None, Some(why)),
    };
    let (mixed, places) = mixed.unzip();
    let light = setting.light.get::<ratio>();
    let white = |place: &PlaceMix| place.white.map(|white| white.temperature.get::<kelvin>());
    SceneSet {
        light: setting.light,
        level: dimming::level(setting.light),
        white: setting.white,
        mixed,
        light_along: match &places {
            Some(places) => places.iter().map(|place| light * place.light).collect(),
            None => darker(sized).into_iter().map(|own| light * own).collect(),
        },
        white_along: places.iter().flatten().map(white).collect(),
        why_not,
    }
}

/// Light of each segment with all channels on, of two channels the darker one's.
fn darker(sized: &SizedRun) -> Vec<f64> {
    let of = |channel| light(&sized.sections, channel);
    let alone = || of((Lit::Warm, 0)).zip(of((Lit::Cool, 0)));
    let pair = of((Lit::Both, 0)).zip(of((Lit::Both, 1))).or_else(alone);
    match pair {
        Some((warm, cool)) => warm.iter().zip(&cool).map(|(a, b)| a.min(*b)).collect(),
        None => of((Lit::On, 0)).unwrap_or_default(),
    }
}

/// The white along the run when a white is asked for, or why there is none to show.
fn white(sized: &SizedRun, wanted: Temperature) -> Result<(MixAlong, Vec<PlaceMix>), String> {
    let (strip, sections) = (&sized.run.strip, &sized.sections);
    if strip.channels.count() == 1 {
        return Err("The strip has one white: a scene can't set it.".to_owned());
    }
    let pair = case::pair(strip).filter(|pair| pair.whites.is_some());
    let pair = pair.ok_or("The strip's whites or light are not in the catalogue.")?;
    let duty = mix::duty_for(&pair, wanted).ok_or_else(|| outside(&pair, wanted))?;
    let overlapping = [(Lit::Both, 0), (Lit::Both, 1)];
    let apart = [(Lit::Warm, 0), (Lit::Cool, 0)];
    // Of two that shift alike the later one: the channels on at once, where light is least.
    [apart, overlapping]
        .into_iter()
        .filter_map(|[warm, cool]| {
            let (warm, cool) = (light(sections, warm)?, light(sections, cool)?);
            let mixed = mix::along(&pair, &warm, &cool, duty)?;
            Some((mixed, mix::places(&pair, &warm, &cool, duty)))
        })
        .max_by(|(a, _), (b, _)| steps(a).total_cmp(&steps(b)))
        .ok_or_else(|| "No segment gives light.".to_owned())
}

/// Shifts that differ by less, in steps, are rounding.
const TELLING: f64 = 1e-6;

fn steps(mixed: &MixAlong) -> f64 {
    let steps = mixed.whites.map_or(0.0, |whites| whites.most_steps);
    (steps / TELLING).round()
}

fn outside(pair: &Pair, wanted: Temperature) -> String {
    let shown = |white: Temperature| Figure::new(white.get::<kelvin>(), Unit::Kelvin);
    let range = pair
        .whites
        .map(|[warm, cool]| format!(" ({} to {})", shown(warm), shown(cool)));
    let range = range.unwrap_or_default();
    format!("The strip can't give {}{range}.", shown(wanted))
}
