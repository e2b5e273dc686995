//! One arrangement with one cable, solved and held against every limit.

use super::arrangement::{Arrangement, Piece};
use super::demand::longest_feed;
use super::feeding::Feeding;
use super::figures;
use super::limits::{self, Checked};
use super::sharing::Sharing;
use super::sized::{RunFigures, Section, SizedFeed, StateFigures};
use super::suited;
use super::unit::Unit;
use crate::model::cable::Cable;
use crate::norms::limit::Source;
use crate::quantity::number::real;
use crate::quantity::{Current, Length, Power, Resistance, Voltage};
use crate::solve::cable::{core_resistance, hottest};
use crate::solve::extremes::Extremes;
use crate::solve::strip::{Ladder, LadderFeed, Lit, State, solve, solve_if};
use std::sync::Arc;
use uom::si::electric_potential::volt;

/// What is tried.
#[derive(Debug, Clone, Copy)]
pub struct Attempt<'a> {
    /// Feeds and sections.
    pub way: &'a Arrangement,
    /// Feed cable.
    pub cable: &'a Arc<Cable>,
    /// What the driver has on at once.
    pub sharing: Sharing,
}

/// What came of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Trial {
    /// The sections, without driver numbers.
    pub sections: Vec<Section>,
    /// Figures by state.
    pub states: Vec<StateFigures>,
    /// The worst of them.
    pub figures: RunFigures,
    /// Every figure that has a limit.
    pub checks: Vec<Checked>,
}

impl Trial {
    /// The limit that is missed by most; `None` when all are kept.
    #[must_use]
    pub fn broken(&self) -> Option<&Checked> {
        self.each_broken().into_iter().next()
    }

    /// Every limit that is broken, where it is broken most, worst first.
    #[must_use]
    pub fn each_broken(&self) -> Vec<&Checked> {
        let broken = self.checks.iter().filter(|checked| !checked.keeps);
        let mut broken: Vec<&Checked> = broken.collect();
        broken.sort_by(|a, b| b.excess().total_cmp(&a.excess()));
        let mut known: Vec<&str> = Vec::new();
        broken.retain(|checked| {
            let new = !known.contains(&checked.what);
            known.push(checked.what);
            new
        });
        broken
    }
}

/// Solves and checks everything.
#[must_use]
pub fn whole(feeding: &Feeding, attempt: Attempt) -> Trial {
    let pieces = attempt.way.pieces.iter();
    let solved = pieces.map(|piece| {
        let ladder = ladder(feeding, attempt, piece);
        let states = attempt.sharing.states().iter();
        let states: Option<Vec<State>> = states.map(|lit| solve(&ladder, *lit)).collect();
        section(feeding, attempt, piece, (ladder, states))
    });
    let sections: Vec<Section> = solved.collect();
    let checks = sections.iter();
    let checks = checks.flat_map(|section| section_checks(feeding, attempt, section));
    let checks = checks.collect();
    finished(feeding, attempt, sections, checks)
}

/// Solves and checks until the first limit is broken. `Err`: that limit.
///
/// # Errors
/// The first broken limit.
pub fn feasible(feeding: &Feeding, attempt: Attempt) -> Result<Trial, Checked> {
    let mut sections = Vec::with_capacity(attempt.way.pieces.len());
    let mut checked = Vec::new();
    for piece in &attempt.way.pieces {
        let ladder = ladder(feeding, attempt, piece);
        let light = |state: Option<Extremes>| {
            let darkest = state.map_or(0.0, |state| state.darkest);
            limits::light_drop(&feeding.limits, darkest.into())
        };
        // The first strains the strip most: where that is too dark, nothing else need be known.
        let mut states = attempt.sharing.states().iter();
        let first = states.next();
        let first = first.map(|lit| solve_if(&ladder, *lit, |state| light(Some(state)).keeps));
        if let Some(Err(dark)) = first
            && !light(dark).keeps
        {
            return Err(light(dark));
        }
        let others = states.map(|lit| solve(&ladder, *lit));
        let states = first.map(Result::ok).into_iter().chain(others).collect();
        let section = section(feeding, attempt, piece, (ladder, states));
        let checks = section_checks(feeding, attempt, &section);
        if let Some(broken) = checks.iter().find(|checked| !checked.keeps) {
            return Err(broken.clone());
        }
        checked.extend(checks);
        sections.push(section);
    }
    let trial = finished(feeding, attempt, sections, checked);
    match trial.broken() {
        Some(broken) => Err(broken.clone()),
        None => Ok(trial),
    }
}

/// What came of sections with their checks.
fn finished(
    feeding: &Feeding,
    attempt: Attempt,
    sections: Vec<Section>,
    of_sections: Vec<Checked>,
) -> Trial {
    let states = figures::by_state(&sections, attempt.sharing.states());
    let figures = figures::worst(feeding, &sections, (attempt.sharing, &states));
    let mut checks = run_checks(feeding, &figures);
    checks.extend(of_sections);
    Trial {
        sections,
        states,
        figures,
        checks,
    }
}

/// Limits of the run as a whole.
fn run_checks(feeding: &Feeding, figures: &RunFigures) -> Vec<Checked> {
    let limits = &feeding.limits;
    let mut checks = vec![
        limits::light_drop(limits, figures.light_least),
        limits::feed_drop(limits, figures.feed_drop_share),
        limits::evenness(limits, figures.evenness),
        limits::dark_segments(figures.dark_segments),
    ];
    checks.extend(limits::least_voltage(
        &feeding.run.strip,
        figures.volts_least,
    ));
    checks.extend(
        figures
            .colour_shift
            .map(|steps| limits::colour_shift(limits, steps)),
    );
    checks
}

/// Limits of one section: its feeds, cables and driver output.
fn section_checks(feeding: &Feeding, attempt: Attempt, section: &Section) -> Vec<Checked> {
    let nominal = feeding.run.strip.voltage;
    let lowest = section.states.iter().map(State::least_volts);
    let lowest = Voltage::new::<volt>(lowest.fold(f64::INFINITY, f64::min));
    let mut checks = Vec::new();
    if section.states.is_empty() {
        checks.push(limits::dark_segments(section.segments));
        return checks;
    }
    let drop = (section.ladder.supply - lowest) / nominal;
    checks.push(limits::feed_drop(&feeding.limits, drop));
    let ampacity = feeding.ampacity(attempt.cable, attempt.way.feeds());
    checks.extend(limits::in_one_piece(&feeding.run.strip, section.length));
    checks.extend(suited::section_length(&feeding.run.strip, section));
    for feed in &section.feeds {
        checks.extend(limits::feed_current(&feeding.run.strip, feed.current));
        checks.extend(limits::connector_current(
            feeding.project,
            feeding.run,
            feed.current,
        ));
        checks.extend(
            ampacity.clone().map(|ampacity| {
                limits::cable_current(feeding.project.region, feed.current, ampacity)
            }),
        );
    }
    checks.extend(driver_checks(feeding, attempt, section, ampacity));
    checks
}

/// Whether any driver can take the section over a cable that may carry so much: the misses of the
/// one that comes nearest.
fn driver_checks(
    feeding: &Feeding,
    attempt: Attempt,
    section: &Section,
    ampacity: Option<(Current, Source)>,
) -> Vec<Checked> {
    let most = section.most_current();
    let longest = longest_feed(section);
    let misses = |unit: &Unit| -> Vec<Checked> {
        let ambient = feeding.cupboard.ambient;
        let load = limits::driver_load(&feeding.limits, &unit.item, ambient, unit.load(section));
        let overload = |ampacity| limits::cable_overload(&unit.item, unit.pieces, ampacity);
        [
            Some(load),
            ampacity.clone().map(overload),
            limits::output_current(&unit.item, most),
            limits::terminal(&unit.item, attempt.cable),
            suited::wiring(&unit.item, attempt.cable, unit.region),
            suited::feed_length(&unit.item, longest),
        ]
        .into_iter()
        .flatten()
        .collect()
    };
    let worst = |checks: &[Checked]| checks.iter().map(Checked::excess).fold(-1.0, f64::max);
    feeding
        .units
        .iter()
        .filter(|unit| unit.sharing == attempt.sharing)
        .map(misses)
        .min_by(|a, b| worst(a).total_cmp(&worst(b)))
        .unwrap_or_default()
}

/// The network of a piece.
#[must_use]
pub fn ladder(feeding: &Feeding, attempt: Attempt, piece: &Piece) -> Ladder {
    let hot = hottest(attempt.cable.insulation);
    let core = |feed: usize| {
        let length = feeding.reach.to_asked(feed).unwrap_or_default();
        core_resistance(attempt.cable, length, hot).unwrap_or_default()
    };
    network(feeding, piece, core)
}

/// The network of a piece with cables that lose nothing.
#[must_use]
pub fn ideal(feeding: &Feeding, piece: &Piece) -> Ladder {
    network(feeding, piece, |_| Resistance::default())
}

/// The network of a piece with cores of a resistance for each feed.
pub(super) fn network(
    feeding: &Feeding,
    piece: &Piece,
    core: impl Fn(usize) -> Resistance,
) -> Ladder {
    let channels = feeding.run.strip.channels.count();
    let feeds = piece
        .feeds
        .iter()
        .map(|&feed| {
            let core = core(feed);
            LadderFeed {
                cut: feed.saturating_sub(piece.start),
                plus: core,
                returns: vec![core; channels],
            }
        })
        .collect();
    feeding.strip.ladder(supply(feeding), piece.segments, feeds)
}

/// What the driver gives: the one that was asked for, or the strip's own voltage.
pub(super) fn supply(feeding: &Feeding) -> Voltage {
    let given = feeding.run.driver.given();
    given.map_or(feeding.run.strip.voltage, |driver| driver.output.voltage)
}

/// A piece with its network and the states of that; no states where one has no working point.
fn section(
    feeding: &Feeding,
    attempt: Attempt,
    piece: &Piece,
    (ladder, states): (Ladder, Option<Vec<State>>),
) -> Section {
    let mut states = states.unwrap_or_default();
    states.sort_by_key(|state| state.lit);
    let place = |cut: usize| -> Length { feeding.run.strip.cut * real(cut) };
    let feeds = piece
        .feeds
        .iter()
        .zip(&ladder.feeds)
        .enumerate()
        .map(|(index, (&cut, feed))| sized_feed(feeding, &ladder, &states, index, cut, feed))
        .collect();
    Section {
        start: place(piece.start),
        segments: piece.segments,
        length: place(piece.segments),
        feeds,
        cable: Arc::clone(attempt.cable),
        power: power(attempt.sharing, &states),
        channel_currents: channel_currents(&states, ladder.channels.len()),
        ladder: Arc::new(ladder),
        states: states.into(),
        driver: String::new(),
        beside: None,
        output: 0,
        joints: 0,
    }
}

fn sized_feed(
    feeding: &Feeding,
    ladder: &Ladder,
    states: &[State],
    index: usize,
    cut: usize,
    feed: &LadderFeed,
) -> SizedFeed {
    let mut current = Current::default();
    let mut volts = ladder.supply;
    for state in states {
        let Some(currents) = state.feeds.get(index) else {
            continue;
        };
        if currents.plus > current {
            current = currents.plus;
        }
        let lit = state.lit.channels();
        for (channel, back) in lit.iter().zip(&currents.returns) {
            let core = feed.returns.get(*channel).copied().unwrap_or_default();
            let there = ladder.supply - currents.plus * feed.plus - *back * core;
            if there < volts {
                volts = there;
            }
        }
    }
    SizedFeed {
        at: feeding.run.strip.cut * real(cut),
        cable_length: feeding.reach.to_asked(cut).unwrap_or_default(),
        core: feed.plus,
        current,
        volts,
    }
}

/// What a section takes from its driver at the worst mix: the larger white where they share full
/// power (warm share and cool share make 1), both together where they don't.
fn power(sharing: Sharing, states: &[State]) -> Power {
    let counted = |state: &&State| (state.lit == Lit::Both) == sharing.adds_up();
    let single = sharing == Sharing::Single;
    states
        .iter()
        .filter(|state| single || counted(state))
        .map(|state| state.source_power)
        .fold(Power::default(), Power::max)
}

/// Most current of each channel over the states.
fn channel_currents(states: &[State], channels: usize) -> Vec<Current> {
    let mut most = vec![Current::default(); channels];
    for channel in states.iter().flat_map(|state| &state.channels) {
        if let Some(slot) = most.get_mut(channel.channel)
            && channel.current > *slot
        {
            *slot = channel.current;
        }
    }
    most
}
