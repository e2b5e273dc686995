//! The figures of a run from the solved states of its sections.

use super::feeding::Feeding;
use super::sharing::Sharing;
use super::sized::{RunFigures, Section, StateFigures};
use crate::quantity::number::real;
use crate::quantity::{Length, Ratio, Voltage};
use crate::solve::strip::{ChannelState, Lit, State};
use uom::si::electric_potential::volt;
use uom::si::ratio::ratio;

/// Figures by state over all sections, in the order of [`Lit`]; none when a section has no working
/// point.
#[must_use]
pub fn by_state(sections: &[Section], states: &[Lit]) -> Vec<StateFigures> {
    let mut ordered = states.to_vec();
    ordered.sort_unstable();
    ordered
        .into_iter()
        .filter_map(|lit| of_state(sections, lit))
        .collect()
}

fn of_state(sections: &[Section], lit: Lit) -> Option<StateFigures> {
    let mut figures: Option<StateFigures> = None;
    for section in sections {
        let state = section.states.iter().find(|state| state.lit == lit)?;
        let own = of_section(section, state);
        figures = Some(match figures {
            None => own,
            Some(so_far) => joined(so_far, own),
        });
    }
    figures
}

fn of_section(section: &Section, state: &State) -> StateFigures {
    let (volts, segment) = lowest(state);
    let volts_least = Voltage::new::<volt>(volts);
    let middle = section.ladder.segment * (real(segment) + 0.5);
    let light = |of: fn(&ChannelState) -> f64, pick: fn(f64, f64) -> f64, from: f64| {
        Ratio::new::<ratio>(state.channels.iter().map(of).fold(from, pick))
    };
    StateFigures {
        lit: state.lit,
        volts_least,
        darkest_at: section.start + middle,
        feed_drop: section.ladder.supply - volts_least,
        light_least: light(ChannelState::least_light, f64::min, f64::INFINITY),
        light_most: light(ChannelState::most_light, f64::max, 0.0),
        dark_segments: state.channels.iter().map(ChannelState::dark_segments).sum(),
        current: state.source_current,
    }
}

/// Least volts across a string of any lit channel, and the segment where that is.
fn lowest(state: &State) -> (f64, usize) {
    state
        .channels
        .iter()
        .flat_map(|channel| channel.volts.iter().copied().zip(0..))
        .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
        .unwrap_or((0.0, 0))
}

fn joined(a: StateFigures, b: StateFigures) -> StateFigures {
    let darker = if b.volts_least < a.volts_least {
        &b
    } else {
        &a
    };
    StateFigures {
        lit: a.lit,
        volts_least: darker.volts_least,
        darkest_at: darker.darkest_at,
        feed_drop: if b.feed_drop > a.feed_drop {
            b.feed_drop
        } else {
            a.feed_drop
        },
        light_least: if b.light_least < a.light_least {
            b.light_least
        } else {
            a.light_least
        },
        light_most: if b.light_most > a.light_most {
            b.light_most
        } else {
            a.light_most
        },
        dark_segments: a.dark_segments + b.dark_segments,
        current: a.current + b.current,
    }
}

/// The worst figures over sections and their states by [`by_state`]. A run with a section that has no
/// working point counts as dark from end to end.
#[must_use]
pub fn worst(
    feeding: &Feeding,
    sections: &[Section],
    (sharing, states): (Sharing, &[StateFigures]),
) -> RunFigures {
    let works = sections.iter().all(|section| !section.states.is_empty());
    let lowest = states
        .iter()
        .min_by(|a, b| a.volts_least.value.total_cmp(&b.volts_least.value));
    let Some(lowest) = lowest.filter(|_| works) else {
        return dark(feeding, sections);
    };
    let (evenness, light_most) = least_even(sections, sharing.states());
    let least_light = states.iter().map(|state| state.light_least).fold(
        Ratio::new::<ratio>(f64::INFINITY),
        |a, b| {
            if b < a { b } else { a }
        },
    );
    RunFigures {
        volts_least: lowest.volts_least,
        feed_drop: lowest.feed_drop,
        feed_drop_share: lowest.feed_drop / feeding.run.strip.voltage,
        light_least: least_light,
        light_most,
        evenness,
        darkest_at: lowest.darkest_at,
        colour_shift: feeding
            .whites
            .and_then(|whites| whites.largest_shift(sections)),
        dark_segments: states
            .iter()
            .map(|state| state.dark_segments)
            .max()
            .unwrap_or(0),
        works,
    }
}

fn dark(feeding: &Feeding, sections: &[Section]) -> RunFigures {
    let failed = sections.iter().find(|section| section.states.is_empty());
    RunFigures {
        volts_least: Voltage::default(),
        feed_drop: feeding.run.strip.voltage,
        feed_drop_share: Ratio::new::<ratio>(1.0),
        light_least: Ratio::default(),
        light_most: Ratio::default(),
        evenness: Ratio::default(),
        darkest_at: failed.map_or(Length::default(), |section| section.start + section.length),
        colour_shift: None,
        dark_segments: feeding.segments,
        works: false,
    }
}

/// Darkest over brightest segment of a channel over all sections, in the state and channel where
/// that is least, and the brightest light there.
fn least_even(sections: &[Section], states: &[Lit]) -> (Ratio, Ratio) {
    let mut least = (f64::INFINITY, 0.0);
    for lit in states {
        for place in 0..lit.channels().len() {
            let lights: Vec<(f64, f64)> = sections
                .iter()
                .filter_map(|section| section.states.iter().find(|state| state.lit == *lit))
                .filter_map(|state| state.channels.get(place))
                .map(|channel| (channel.least_light(), channel.most_light()))
                .collect();
            let darkest = lights.iter().map(|l| l.0).fold(f64::INFINITY, f64::min);
            let brightest = lights.iter().map(|l| l.1).fold(0.0, f64::max);
            let even = if brightest > 0.0 {
                darkest / brightest
            } else {
                0.0
            };
            if even < least.0 {
                least = (even, brightest);
            }
        }
    }
    (Ratio::new::<ratio>(least.0), Ratio::new::<ratio>(least.1))
}
