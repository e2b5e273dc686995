//! What each thing is worth in the pattern relaxation, and the lower bound that follows.
//!
//! The dual of the relaxation: values π ≥ 0 of the things and rents μ ≥ 0 of the limited kinds,
//! largest Σ count·π − Σ available·μ, such that no filling of a container is worth more than the
//! container costs. Fillings that are worth more are found by [`super::pattern::best`] and added
//! as constraints until none is.

use super::Contents;
use super::pattern;
use super::work::{Work, float};
use crate::quantity::number::real;
use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

/// Rounds of adding fillings.
const ROUNDS: usize = 1_000;
/// A filling worth this much more than its container, as a share of its cost, is added.
const EXCESS: f64 = 1e-7;

/// Values, rents and bound.
#[derive(Debug, Clone)]
pub(super) struct Relaxation {
    /// π of each thing, in units of cost.
    pub values: Vec<f64>,
    /// μ of each kind; 0 for an unlimited one.
    pub rents: Vec<f64>,
    /// No answer costs less.
    pub bound: f64,
}

impl Relaxation {
    /// What things and kinds that are left are bound to cost.
    pub fn least(&self, remains: &[usize], left: &[usize]) -> f64 {
        let held = remains.iter().zip(&self.values);
        let worth: f64 = held.map(|(&count, value)| real(count) * value).sum();
        let rent: f64 = left
            .iter()
            .zip(&self.rents)
            .map(|(&count, rent)| real(count) * rent)
            .sum();
        worth - rent
    }

    /// What things that are held together are worth.
    pub fn worth(&self, counts: &Contents) -> f64 {
        let each = counts.each();
        each.filter_map(|(place, count)| Some(real(count) * self.values.get(place)?))
            .sum()
    }

    /// Values and rents of nothing: a bound of 0.
    fn nothing(work: &Work) -> Relaxation {
        Relaxation {
            values: vec![0.0; work.things.len()],
            rents: vec![0.0; work.kinds.len()],
            bound: 0.0,
        }
    }
}

/// Solves the relaxation of a problem. Fillings in `pool` are constraints from the start, those
/// that are found are added to it: related problems then share them.
pub(super) fn relax(work: &Work, pool: &mut Vec<Filled>) -> Relaxation {
    let remains = &work.counts();
    let left = &work.available();
    let mut best = Relaxation::nothing(work);
    let Some((mut solution, dual)) = Dual::start(work, remains, left, pool) else {
        return best;
    };
    for _ in 0..ROUNDS {
        let found = dual.read(&solution);
        let (feasible, violated) = dual.check(&found, remains);
        let bound = feasible.least(remains, left) * dual.scale;
        if bound > best.bound {
            best = feasible.scaled(dual.scale, bound);
        }
        if violated.is_empty() {
            break;
        }
        pool.extend(violated.iter().cloned());
        match dual.tighten(solution, violated) {
            Some(next) => solution = next,
            None => break,
        }
    }
    best
}

struct Dual<'a> {
    work: &'a Work,
    /// Costs are divided by this, so that they are near 1.
    scale: f64,
    values: Vec<Variable>,
    rents: Vec<Option<Variable>>,
}

/// A kind and a filling of it.
pub(super) type Filled = (usize, Contents);

impl<'a> Dual<'a> {
    /// The dual with one constraint for each thing alone in each kind that holds it.
    fn start(
        work: &'a Work,
        remains: &[usize],
        left: &[usize],
        pool: &[Filled],
    ) -> Option<(Solution, Self)> {
        let scale = float(work.kinds.iter().map(|kind| kind.cost).max()?);
        let ample = real(work.things.len()) + 1.0;
        let mut problem = Problem::new(OptimizationDirection::Maximize);
        let values = remains
            .iter()
            .map(|&count| problem.add_var(real(count), (0.0, ample)))
            .collect::<Vec<_>>();
        let rents = work
            .kinds
            .iter()
            .zip(left)
            .map(|(kind, &left)| {
                kind.limited
                    .then(|| problem.add_var(-real(left), (0.0, ample * ample)))
            })
            .collect::<Vec<_>>();
        let dual = Dual {
            work,
            scale,
            values,
            rents,
        };
        for (index, kind) in work.kinds.iter().enumerate() {
            for (place, thing) in work.things.iter().enumerate() {
                let most = thing.count.min(remains.get(place).copied().unwrap_or(0));
                let count = super::work::fitting(kind.room, thing.size, most);
                if count > 0 {
                    let (row, limit) = dual.constraint(&(index, Contents::of(place, count)));
                    problem.add_constraint(row.as_slice(), ComparisonOp::Le, limit);
                }
            }
        }
        for filled in pool {
            let (row, limit) = dual.constraint(filled);
            problem.add_constraint(row.as_slice(), ComparisonOp::Le, limit);
        }
        let solution = problem.solve().ok()?.into_solution().ok()?;
        Some((solution, dual))
    }

    fn constraint(&self, (kind, counts): &Filled) -> (Vec<(Variable, f64)>, f64) {
        let mut row: Vec<(Variable, f64)> = counts
            .each()
            .filter_map(|(place, count)| Some((*self.values.get(place)?, real(count))))
            .collect();
        if let Some(rent) = self.rents.get(*kind).copied().flatten() {
            row.push((rent, -1.0));
        }
        (row, self.cost(*kind))
    }

    fn cost(&self, kind: usize) -> f64 {
        self.work
            .kinds
            .get(kind)
            .map_or(0.0, |kind| float(kind.cost) / self.scale)
    }

    fn read(&self, solution: &Solution) -> Relaxation {
        let value = |variable: &Variable| solution.var_value(*variable).max(0.0);
        Relaxation {
            values: self.values.iter().map(value).collect(),
            rents: self
                .rents
                .iter()
                .map(|rent| rent.as_ref().map_or(0.0, value))
                .collect(),
            bound: 0.0,
        }
    }

    /// The values brought down until no filling is worth more than its container (Farley,
    /// Operations Research 38, 1990), and the fillings that were.
    fn check(&self, found: &Relaxation, remains: &[usize]) -> (Relaxation, Vec<Filled>) {
        let mut factor = 1.0_f64;
        let mut violated = Vec::new();
        for (index, kind) in self.work.kinds.iter().enumerate() {
            let best = pattern::best(self.work, kind.room, remains, &found.values);
            let rent = found.rents.get(index).copied().unwrap_or(0.0);
            let limit = self.cost(index) + rent;
            if best.ceiling > limit {
                factor = factor.min(limit / best.ceiling);
            }
            if best.value > limit + EXCESS * self.cost(index) {
                violated.push((index, best.contents));
            }
        }
        let mut feasible = found.clone();
        for value in &mut feasible.values {
            *value *= factor;
        }
        (feasible, violated)
    }

    fn tighten(&self, mut solution: Solution, violated: Vec<Filled>) -> Option<Solution> {
        for filled in violated {
            let (row, limit) = self.constraint(&filled);
            solution = solution
                .add_constraint(row.as_slice(), ComparisonOp::Le, limit)
                .ok()?
                .into_solution()
                .ok()?;
        }
        Some(solution)
    }
}

impl Relaxation {
    fn scaled(mut self, scale: f64, bound: f64) -> Relaxation {
        for worth in self.values.iter_mut().chain(&mut self.rents) {
            *worth *= scale;
        }
        self.bound = bound;
        self
    }
}
