//! Finds the working point of a strip: Newton's method on its ladder.
//!
//! Unknowns are the volts across each string and the current driven through it. They start at the
//! unloaded strip.
//!
//! *Current that never falls with voltage* (resistor, regulated): the working point is the only
//! minimum of a strictly convex function, the co-content
//! `Φ = Σ ½·i·(V_s − v) + Σ ∫ i(v) dv`, whose slope along a Newton step `Δv` is
//! `−Σ (i − i(v))·Δv`. Where a full step overshoots (positive slope at its end), the step is cut
//! to the minimum along it, so every step lowers Φ and the method ends from any start.
//!
//! *Converters* (i = p/v): volts lost are a rising, convex function of themselves. Newton's
//! method from the unloaded strip then rises step by step to the least loss, which is the working
//! point that switching on reaches, and never past it (monotone Newton theorem, Ortega and
//! Rheinboldt 1970, 13.3). So a string's voltage at or under zero, or a ladder that is not
//! positive definite, proves that there is none; near the limit the error still halves each step.

use super::block::{Block, Line, Rails, Step};
use super::law::Law;
use super::network::{Joins, Network};

/// The strings of one segment, per lit channel.
#[derive(Debug, Clone, Copy)]
pub(super) struct Load {
    pub(super) volts: [f64; 2],
    pub(super) amperes: [f64; 2],
}

/// Buffers that stay from one strip to the next. Those of a long strip are so large that the
/// system takes them back when they are freed: getting their pages anew for every state took longer
/// than solving it.
pub(super) struct Work<B: Block> {
    steps: Vec<B::Step>,
    lines: Vec<Line>,
    now: Vec<Load>,
    next: Vec<Load>,
    lost: Vec<Rails>,
}

impl<B: Block> Default for Work<B> {
    fn default() -> Self {
        Work {
            steps: Vec::new(),
            lines: Vec::new(),
            now: Vec::new(),
            next: Vec::new(),
            lost: Vec::new(),
        }
    }
}

/// A solved network.
#[derive(Debug)]
pub(super) struct Solved<'a> {
    /// Each segment.
    pub(super) loads: &'a [Load],
    /// Volts lost in each rail at each rung.
    pub(super) lost: &'a [Rails],
}

/// Newton steps after which the last full step stands. Reached only if rounding keeps the
/// residual over its tolerance; the strips in the tests need at most a few tens.
const MOST_STEPS: usize = 400;

/// A converter strip's step below this share of the supply ends the search.
const SETTLED: f64 = 1e-12;

/// A converter strip's step below this share of the supply which no longer shrinks is rounding.
const STALLED: f64 = 1e-8;

/// The present point, and the work to find the next.
struct Search<'a, B: Block> {
    network: &'a Network,
    steps: &'a mut Vec<B::Step>,
    lines: &'a mut Vec<Line>,
    now: &'a mut Vec<Load>,
    next: &'a mut Vec<Load>,
    lost: &'a mut Vec<Rails>,
}

/// The working point; `None` when a converter strip has none.
pub(super) fn working_point<'a, B: Block>(
    network: &Network,
    work: &'a mut Work<B>,
) -> Option<Solved<'a>> {
    let unloaded = Load {
        volts: [network.supply; 2],
        amperes: [0.0; 2],
    };
    for loads in [&mut work.now, &mut work.next] {
        loads.clear();
        loads.resize(network.segments, unloaded);
    }
    work.lines.clear();
    work.lines.resize(network.segments, Line::default());
    let mut search = Search::<'_, B> {
        network,
        steps: &mut work.steps,
        lines: &mut work.lines,
        now: &mut work.now,
        next: &mut work.next,
        lost: &mut work.lost,
    };
    if network.laws.iter().any(|law| law.is_converter()) {
        search.rise()?;
    } else {
        search.descend()?;
    }
    Some(Solved {
        loads: &work.next,
        lost: &work.lost,
    })
}

impl<B: Block> Search<'_, B> {
    /// The two monotone laws.
    fn descend(&mut self) -> Option<()> {
        for _ in 0..MOST_STEPS {
            self.full_step()?;
            if self.is_solved() {
                return Some(());
            }
            let share = if self.slope(1.0) > 0.0 {
                self.lowest()
            } else {
                1.0
            };
            self.take(share);
        }
        self.full_step()
    }

    /// Converters.
    fn rise(&mut self) -> Option<()> {
        let mut last = f64::INFINITY;
        loop {
            self.full_step()?;
            let least = self.least_volts();
            if least.is_nan() || least <= 0.0 {
                return None;
            }
            let moved = self.furthest() / self.network.supply;
            let is_rounding = moved < STALLED && moved > 0.9 * last;
            if moved < SETTLED || is_rounding {
                return Some(());
            }
            last = moved;
            self.take(1.0);
        }
    }

    /// Solves the ladder with each string's law straightened at the present point, into `next`.
    fn full_step(&mut self) -> Option<()> {
        self.straighten();
        let root = self.eliminate()?;
        self.substitute(root);
        Some(())
    }

    fn straighten(&mut self) {
        let Network { supply, laws, .. } = *self.network;
        for (line, load) in self.lines.iter_mut().zip(self.now.iter()) {
            let [(i, g), (j, h)] = [laws[0].at(load.volts[0]), laws[1].at(load.volts[1])];
            line.slope = [g, h];
            line.constant = [
                i + g * (supply - load.volts[0]),
                j + h * (supply - load.volts[1]),
            ];
        }
    }

    /// From the right end to the left; returns the volts lost at the first rung.
    fn eliminate(&mut self) -> Option<Rails> {
        self.steps.clear();
        let mut right = B::open_end();
        let mut lines = self.lines.iter().rev();
        let mut rungs = self.network.rungs.iter();
        let first = rungs.next()?;
        for rung in rungs.rev().chain([first]) {
            let mut held = self.network.held;
            match &rung.joins {
                Joins::Feed(ground) => {
                    right.join_feed(ground.conductance);
                    let [a, b, c] = ground.held;
                    held = [held[0] || a, held[1] || b, held[2] || c];
                }
                Joins::Load => right.join_load(lines.next()?),
                Joins::Short(slope) => right.join_load(&Line {
                    slope: *slope,
                    constant: slope.map(|siemens| siemens * self.network.supply),
                }),
            }
            if std::ptr::eq(rung, first) {
                return right.settle(held);
            }
            let (left, step) = right.cross(rung.ohms, held)?;
            self.steps.push(step);
            right = left;
        }
        None
    }

    /// From the left end to the right, given the volts lost at the first rung.
    fn substitute(&mut self, root: Rails) {
        let supply = self.network.supply;
        self.lost.clear();
        let mut lost = root;
        let mut steps = self.steps.iter().rev();
        let mut loads = self.next.iter_mut().zip(self.lines.iter());
        for rung in &self.network.rungs {
            self.lost.push(lost);
            if matches!(rung.joins, Joins::Load)
                && let Some((load, line)) = loads.next()
            {
                let [plus, first, second] = lost;
                let gone = [plus + first, plus + second];
                load.volts = [supply - gone[0], supply - gone[1]];
                load.amperes = [
                    line.constant[0] - line.slope[0] * gone[0],
                    line.constant[1] - line.slope[1] * gone[1],
                ];
            }
            if let Some(step) = steps.next() {
                lost = step.apply(lost);
            }
        }
    }

    /// Whether `next` obeys every string's own law as closely as rounding lets it.
    fn is_solved(&self) -> bool {
        let laws = self.network.laws;
        let rounding = laws.map(|law| law.rounding(self.network.supply));
        self.next.iter().all(|load| {
            let off = |law: Law, volts: f64, amperes: f64| (amperes - law.at(volts).0).abs();
            off(laws[0], load.volts[0], load.amperes[0]) <= rounding[0]
                && off(laws[1], load.volts[1], load.amperes[1]) <= rounding[1]
        })
    }

    /// Slope of the co-content along the step, at `share` of it.
    fn slope(&self, share: f64) -> f64 {
        let laws = self.network.laws;
        let mut slope = 0.0;
        for (now, next) in self.now.iter().zip(self.next.iter()) {
            let (by, at) = (between(now, next, share), laws);
            let residual = [
                by.amperes[0] - at[0].at(by.volts[0]).0,
                by.amperes[1] - at[1].at(by.volts[1]).0,
            ];
            slope -= residual[0] * (next.volts[0] - now.volts[0])
                + residual[1] * (next.volts[1] - now.volts[1]);
        }
        slope
    }

    /// The share of the step, below 1, at which the co-content along it is lowest: the slope
    /// rises along the step, so by halving.
    fn lowest(&self) -> f64 {
        let start = self.slope(0.0);
        let (mut falling, mut rising) = (0.0, 1.0);
        for _ in 0..60 {
            let middle = 0.5 * (falling + rising);
            let slope = self.slope(middle);
            if slope > 0.0 {
                rising = middle;
            } else {
                falling = middle;
                if slope > 0.01 * start {
                    break;
                }
            }
        }
        falling
    }

    fn take(&mut self, share: f64) {
        for (now, next) in self.now.iter_mut().zip(self.next.iter()) {
            *now = if share < 1.0 {
                between(now, next, share)
            } else {
                *next
            };
        }
    }

    fn least_volts(&self) -> f64 {
        let least = |load: &Load| match self.network.laws[1] {
            Law::Off => load.volts[0],
            _ => load.volts[0].min(load.volts[1]),
        };
        self.next.iter().map(least).fold(f64::INFINITY, f64::min)
    }

    /// The largest change of voltage in the step.
    fn furthest(&self) -> f64 {
        self.now
            .iter()
            .zip(self.next.iter())
            .map(|(now, next)| {
                let [a, b] = [next.volts[0] - now.volts[0], next.volts[1] - now.volts[1]];
                a.abs().max(b.abs())
            })
            .fold(0.0, f64::max)
    }
}

fn between(now: &Load, next: &Load, share: f64) -> Load {
    let mix = |from: f64, to: f64| from + share * (to - from);
    Load {
        volts: [
            mix(now.volts[0], next.volts[0]),
            mix(now.volts[1], next.volts[1]),
        ],
        amperes: [
            mix(now.amperes[0], next.amperes[0]),
            mix(now.amperes[1], next.amperes[1]),
        ],
    }
}
