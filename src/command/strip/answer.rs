//! What there is to say of one strip: its states, other ways to feed it, how long it may be.

use crate::command::Failure;
use crate::command::tolerance::ToleranceFlags;
use crate::load::strip_case::{CaseCable, CaseCores, StripCase};
use crate::model::assumption::Assumption;
use crate::norms::defaults;
use crate::norms::limit::{Limit, Source};
use crate::quantity::conductor::ConductorSize;
use crate::quantity::{Area, Ratio};
use crate::solve::case::{self, Laid, lay};
use crate::solve::longest::{Arrangement, Cores, Longest, light_drop};
use crate::solve::strip::{Lit, State, solve};
use crate::solve::tolerance::{Tolerances, Within, within};
use crate::solve::tried::{Tried, Way, dropped, longest_runs, tried, ways};
use uom::si::area::square_millimeter;

/// A question about one strip.
#[derive(Debug)]
pub struct Asked {
    /// The strip, its length and its feeds.
    pub case: StripCase,
    /// What was taken for granted because no flag said it.
    pub stood_in: Vec<Assumption>,
    /// The light drop limit, if one was given.
    pub limit: Option<Ratio>,
    /// What may differ from its datasheet.
    pub tolerances: ToleranceFlags,
    /// Whether only the longest run is asked for.
    pub only_longest: bool,
}

/// The light drop of ways of feeding through one size of cable.
#[derive(Debug)]
pub struct ByCable {
    /// The size of its cores.
    pub size: ConductorSize,
    /// The drop of each of [`Answer::cable_ways`].
    pub drops: Vec<Ratio>,
}

/// All that there is to say.
#[derive(Debug)]
pub struct Answer {
    /// The strip as laid.
    pub laid: Laid,
    /// Every state of it.
    pub states: Vec<(Lit, Option<State>)>,
    /// Light lost at the darkest segment, over all states.
    pub drop: Ratio,
    /// The limit.
    pub limit: Limit<Ratio>,
    /// What may differ from its datasheet.
    pub tolerances: Tolerances,
    /// Light of the darkest segment within those; `None` without a working point, and when only
    /// the longest run is asked for.
    pub within: Option<Within>,
    /// Other ways to feed the same length, fewest feeds first.
    pub tried: Vec<Tried>,
    /// The ways tried with every cable.
    pub cable_ways: Vec<Way>,
    /// Those ways, cable by cable; empty when the feeds have no cable or are given by
    /// resistance.
    pub by_cable: Vec<ByCable>,
    /// The longest run of each arrangement.
    pub longest: Vec<(Arrangement, Longest)>,
    /// What was taken for granted of the strip.
    pub assumptions: Vec<Assumption>,
    /// What was taken for granted because no flag said it.
    pub stood_in: Vec<Assumption>,
    /// Whether only the longest run was asked for.
    pub only_longest: bool,
}

impl Answer {
    /// Answers a question.
    ///
    /// # Errors
    /// When the strip contradicts itself, or a feed can't be where or as it is asked for.
    pub fn of(asked: &Asked) -> Result<Answer, Failure> {
        let laid = lay(&asked.case).map_err(Failure::saying)?;
        let limit = limit(asked.limit);
        let supply = asked.case.supply;
        let segments = laid.ladder.segments;
        let cores = first_cores(asked)?;
        let model = &laid.model;
        let cable_ways: Vec<Way> = ways(segments)
            .into_iter()
            .filter(|way| CABLE_WAYS.contains(&way.name.as_str()))
            .collect();
        let by_cable = if asked.only_longest {
            Vec::new()
        } else {
            by_cable(asked, &laid, &cable_ways)
        };
        let tolerances = asked.tolerances.read(&laid.ladder)?;
        let states = states(&laid);
        Ok(Answer {
            within: darkest_within(asked, &laid, &states, &tolerances),
            tolerances,
            states,
            drop: light_drop(&laid.ladder),
            tried: tried(model, supply, segments, &cores, &limit),
            longest: longest_runs(model, supply, &cores, &limit),
            cable_ways,
            by_cable,
            limit,
            assumptions: laid.assumptions().to_vec(),
            stood_in: asked.stood_in.clone(),
            only_longest: asked.only_longest,
            laid,
        })
    }

    /// The way with the fewest feeds that keeps the limit, at the least loss among those.
    #[must_use]
    pub fn fewest(&self) -> Option<&Tried> {
        let keeping = self.tried.iter().filter(|tried| tried.keeps);
        keeping.min_by(|a, b| {
            let feeds = a.way.cuts.len().cmp(&b.way.cuts.len());
            feeds.then(a.drop.value.total_cmp(&b.drop.value))
        })
    }
}

/// Ways that are tried with every cable.
const CABLE_WAYS: [&str; 4] = ["start", "middle", "both ends", "3 points"];

/// Every state of a case.
#[must_use]
pub fn states(laid: &Laid) -> Vec<(Lit, Option<State>)> {
    Lit::states(laid.ladder.channels.len())
        .iter()
        .map(|lit| (*lit, solve(&laid.ladder, *lit)))
        .collect()
}

fn darkest_within(
    asked: &Asked,
    laid: &Laid,
    states: &[(Lit, Option<State>)],
    tolerances: &Tolerances,
) -> Option<Within> {
    let works = states.iter().all(|(_, state)| state.is_some());
    let lit = states.iter().map(|(lit, _)| *lit).collect();
    (works && !asked.only_longest).then(|| within(&[(&laid.ladder, lit)], tolerances))
}

fn limit(given: Option<Ratio>) -> Limit<Ratio> {
    let usual = defaults::light_drop();
    match given {
        Some(value) => Limit {
            value,
            source: Source::Project,
            ..usual
        },
        None => usual,
    }
}

/// Other ways to feed are tried through cables like the first feed's.
fn first_cores(asked: &Asked) -> Result<Cores, Failure> {
    let channels = asked.case.strip.channels.count();
    let first = asked.case.feeds.first();
    let given = first.ok_or_else(|| Failure::saying("the strip is fed nowhere"))?;
    case::cores(&given.cores, channels).map_err(Failure::saying)
}

/// Sizes in which feed cable is sold, mm².
const SIZES: [f64; 7] = [0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0];
/// Gauges in which feed cable is sold.
const GAUGES: [i32; 6] = [20, 18, 16, 14, 12, 10];

fn by_cable(asked: &Asked, laid: &Laid, ways: &[Way]) -> Vec<ByCable> {
    let Some(CaseCores::Cable(cable)) = asked.case.feeds.first().map(|feed| &feed.cores) else {
        return Vec::new();
    };
    if cable.length.value <= 0.0 {
        return Vec::new();
    }
    let sizes: Vec<ConductorSize> = match cable.size {
        ConductorSize::Metric(_) => SIZES
            .iter()
            .map(|mm2| ConductorSize::Metric(Area::new::<square_millimeter>(*mm2)))
            .collect(),
        ConductorSize::Awg(_) => GAUGES.map(ConductorSize::Awg).to_vec(),
    };
    let channels = laid.ladder.channels.len();
    sizes
        .into_iter()
        .filter_map(|size| {
            let cable = CaseCable {
                size,
                return_size: size,
                ..*cable
            };
            let cores = case::cores(&CaseCores::Cable(cable), channels).ok()?;
            let drop = |way: &Way| {
                let (supply, segments) = (asked.case.supply, laid.ladder.segments);
                dropped(&laid.model, supply, segments, &way.cuts, &cores)
            };
            Some(ByCable {
                size,
                drops: ways.iter().map(drop).collect(),
            })
        })
        .collect()
}
