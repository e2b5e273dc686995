//! What `feedpoint along --format json` prints: one run, a figure for every segment.

use super::size::Run;
use super::{FORMAT, Number, Project, money, number};
use crate::choose::what_if::LimitRow;
use crate::present::along::{Along as Shown, SceneAlong};
use crate::present::cautions;
use crate::present::drawing::profile::{Place as ShownPlace, Profile};
use crate::present::measured::{kelvin, metres, percent};
use crate::solve::colour::White;
use crate::solve::tolerance::Within;
use schemars::JsonSchema;
use serde::Serialize;

/// One run in full.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Along {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// The run as the project has it.
    pub run: Run,
    /// The run in another arrangement, when one is tried; the lists below are then of it.
    pub tried: Option<Run>,
    /// What that costs more; `null` when nothing is tried or a price is missing.
    pub cost_difference: Option<String>,
    /// Feeds of it that no cable is said to reach.
    pub unreached_m: Vec<Number>,
    /// Middle of each segment, from the run's start; empty without a working point.
    pub at_m: Vec<Number>,
    /// Channels, a figure for each segment.
    pub channels: Vec<Channel>,
    /// White of both channels mixed at full, for each segment; empty for a single colour.
    pub white_k: Vec<Number>,
    /// Distance of that white from the Planckian locus, CIE 1960 uv.
    pub duv: Vec<Number>,
    /// Feeds, the darkest place and the end, in order along the run.
    pub places: Vec<Place>,
    /// The darkest place within tolerances; `null` without a working point.
    pub tolerance: Option<Tolerance>,
    /// What several limits on light drop cost.
    pub limits: Vec<Limit>,
    /// What the next tighter limit on light drop costs; `null` when the run has no light, or is as
    /// good as the tightest.
    pub tighter: Option<Limit>,
    /// The run in a scene.
    pub scene: Option<Scene>,
    /// Cautions.
    pub cautions: Vec<String>,
}

impl Along {
    /// All that is shown of a run.
    #[must_use]
    pub fn of(along: &Shown) -> Along {
        let profile = along.profile.as_ref();
        let tried = along.tried.as_ref();
        let unreached = tried.into_iter().flat_map(|it| &it.unreached);
        Along {
            format: FORMAT,
            project: Project::of(along.job),
            run: Run::of(along.present),
            tried: tried.map(|it| Run::of(&it.sized)),
            cost_difference: along.cost_difference().map(money),
            unreached_m: unreached.map(|at| number(metres(*at))).collect(),
            at_m: profile.map_or_else(Vec::new, |it| numbers(&it.at_m)),
            channels: profile.map_or_else(Vec::new, channels),
            white_k: profile.map_or_else(Vec::new, |it| numbers(&it.white)),
            duv: profile.map_or_else(Vec::new, |it| numbers(&it.duv)),
            places: profile.map_or_else(Vec::new, |it| it.places.iter().map(Place::of).collect()),
            tolerance: along.within.as_ref().map(Tolerance::of),
            limits: along.limits.iter().map(Limit::of).collect(),
            tighter: along.tighter.as_ref().map(Limit::of),
            scene: along.scene.as_ref().map(Scene::of),
            cautions: cautions::on_sheets(along.job),
        }
    }
}

fn numbers(values: &[f64]) -> Vec<Number> {
    values.iter().map(|value| number(*value)).collect()
}

/// A channel along the run.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Channel {
    /// `white`, `warm` or `cool`.
    pub channel: String,
    /// Light, of the strip's own.
    pub light_percent: Vec<Number>,
    /// Voltage across each segment.
    pub volts_v: Vec<Number>,
}

fn channels(profile: &Profile) -> Vec<Channel> {
    let tracks = profile.tracks.iter();
    tracks
        .map(|track| Channel {
            channel: track.name.to_owned(),
            light_percent: numbers(&track.light),
            volts_v: numbers(&track.volts),
        })
        .collect()
}

/// A place of interest.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Place {
    /// From the run's start.
    pub at_m: Number,
    /// `feed`, `darkest` or `end`.
    pub what: String,
    /// Section, from 1.
    pub section: usize,
    /// Light of the darker channel, of the strip's own.
    pub light_percent: Number,
    /// Voltage there: at a feed where its cable joins the strip, elsewhere across the segment.
    pub volts_v: Number,
    /// White of both channels mixed at full.
    pub white_k: Number,
    /// Distance of that white from the Planckian locus, CIE 1960 uv.
    pub duv: Number,
}

impl Place {
    fn of(place: &ShownPlace) -> Place {
        Place {
            at_m: number(place.at_m),
            what: place.kind.name().to_owned(),
            section: place.section,
            light_percent: number(place.light),
            volts_v: number(place.volts),
            white_k: place.white.and_then(number),
            duv: place.duv.and_then(number),
        }
    }
}

/// Light of the darkest place within tolerances.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Tolerance {
    /// As sized.
    pub nominal_percent: Number,
    /// At the darkest combination of ends.
    pub together_percent: Number,
    /// The figure that takes most light by itself.
    pub matters_most: Option<String>,
    /// Each figure alone.
    pub figures: Vec<ToleranceFigure>,
}

/// What one figure does by itself.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ToleranceFigure {
    /// `strip power` or `driver voltage`, whose ends are shares of nominal, or `light starts at`,
    /// whose ends are in V.
    pub figure: String,
    /// Low end.
    pub low: Number,
    /// Light there.
    pub light_low_percent: Number,
    /// High end.
    pub high: Number,
    /// Light there.
    pub light_high_percent: Number,
}

impl Tolerance {
    /// What was found.
    #[must_use]
    pub fn of(within: &Within) -> Tolerance {
        let light = |share: f64| number(100.0 * share);
        Tolerance {
            nominal_percent: light(within.nominal),
            together_percent: light(within.together),
            matters_most: within.most().map(|it| it.figure.name().to_owned()),
            figures: within
                .effects
                .iter()
                .map(|effect| ToleranceFigure {
                    figure: effect.figure.name().to_owned(),
                    low: number(effect.low.value),
                    light_low_percent: light(effect.low.light),
                    high: number(effect.high.value),
                    light_high_percent: light(effect.high.light),
                })
                .collect(),
        }
    }
}

/// What a limit on light drop costs.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Limit {
    /// The limit.
    pub limit_percent: Number,
    /// The cheapest arrangement that keeps it.
    pub arrangement: String,
    /// Its cable.
    pub cable: String,
    /// Its light drop.
    pub light_drop_percent: Number,
    /// Its cost; `null` when a price is missing.
    pub cost: Option<String>,
    /// Which limit nothing keeps, where that is so.
    pub unmet: Option<String>,
}

impl Limit {
    fn of(row: &LimitRow) -> Limit {
        Limit {
            limit_percent: number(percent(row.limit)),
            arrangement: row.arrangement.clone(),
            cable: row.cable.clone(),
            light_drop_percent: number(percent(row.light_drop)),
            cost: row.cost.map(money),
            unmet: row.unmet.as_ref().map(|it| it.limit.clone()),
        }
    }
}

/// The run in a scene; all figures are `null` when the scene leaves its group as it is.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Scene {
    /// The scene.
    pub scene: String,
    /// Whether it sets the run's group.
    pub sets: bool,
    /// Light, of full.
    pub light_percent: Number,
    /// The level that gives it.
    pub level: Option<u8>,
    /// White asked for.
    pub white_asked_k: Number,
    /// Warm share of the light, where nothing is lost.
    pub warm_share_percent: Number,
    /// Warmest white along the run.
    pub white_least_k: Number,
    /// Coolest white along the run.
    pub white_most_k: Number,
    /// Shift between them, in steps of 0.0011 in u′v′.
    pub colour_shift_steps: Number,
    /// Light of each segment, of the strip's full light.
    pub light_along_percent: Vec<Number>,
    /// White of each segment; empty where none is known.
    pub white_along_k: Vec<Number>,
}

impl Scene {
    fn of(along: &SceneAlong) -> Scene {
        let set = along.set.as_ref();
        let mixed = set.and_then(|it| it.mixed);
        let whites = mixed.and_then(|it| it.whites);
        let white = |white: Option<White>| white.and_then(|it| number(kelvin(it.temperature)));
        Scene {
            scene: along.scene.clone(),
            sets: set.is_some(),
            light_percent: set.and_then(|it| number(percent(it.light))),
            level: set.and_then(|it| it.level),
            white_asked_k: set
                .and_then(|it| it.white)
                .and_then(|it| number(kelvin(it))),
            warm_share_percent: mixed.and_then(|it| number(100.0 * it.warm_nominal)),
            white_least_k: white(whites.and_then(|it| it.warmest)),
            white_most_k: white(whites.and_then(|it| it.coolest)),
            colour_shift_steps: whites.and_then(|it| number(it.most_steps)),
            light_along_percent: set.map_or_else(Vec::new, |it| {
                it.light_along
                    .iter()
                    .map(|own| number(100.0 * own))
                    .collect()
            }),
            white_along_k: set.map_or_else(Vec::new, |it| {
                it.white_along
                    .iter()
                    .map(|own| own.and_then(number))
                    .collect()
            }),
        }
    }
}
