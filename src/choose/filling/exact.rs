//! The best answer from every filling that could be in one, where these are few.
//!
//! With values π from the relaxation an answer costs the bound and what its containers leave unused
//! together, so that a filling which leaves more unused than lies between bound and target is in no
//! answer of the target. The others are listed and put together to hold every thing once (an exact
//! cover: Knuth, "Dancing links", 2000): the thing that the fewest fillings hold goes into each of
//! them in turn. A branch ends when what it must leave unused, by values raised one by one over what
//! remains (dual ascent: Erlenkotter, Operations Research 26, 1978), is more than it may.

use super::candidate::Candidate;
use super::pattern;
use super::relaxation::Relaxation;
use super::work::{Work, float, holds};
use super::{Container, Contents};
use crate::quantity::number::real;
use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};
use std::collections::HashMap;

/// Fillings listed at most.
const LISTED: usize = 6_000;
/// Steps of the search times the number of fillings: with many fillings fewer, so that it takes
/// about as long.
const EFFORT: usize = 400_000_000;
/// Steps of the search at most.
const STEPS: usize = 500_000;
/// What rounding may add to a sum, as a share of it.
const SLACK: f64 = 1e-9;
/// Values lie within this many times the dearest filling.
const AMPLE: f64 = 1_000.0;

/// What a search came to.
pub(super) enum Outcome {
    /// An answer that costs no more than the target.
    Found(Vec<Container>),
    /// There is none.
    Refuted,
    /// There are too many fillings to go through, or a kind can't be had as often as wanted.
    TooMany,
    /// The steps ran out first.
    Open,
}

/// Searches for an answer that costs at most `target`, where every kind can be had as often as
/// wanted.
pub(super) fn within(work: &Work, relaxation: &Relaxation, target: u64) -> Outcome {
    if work.is_deep() {
        return Outcome::TooMany;
    }
    if work.kinds.iter().any(|kind| kind.limited) {
        return Outcome::TooMany;
    }
    let rounding = 1e-9 * float(target) + 1e-6;
    let budget = float(target) - relaxation.bound + rounding;
    let Some(columns) = columns(work, relaxation, budget) else {
        return Outcome::TooMany;
    };
    let remains = work.counts();
    let Some((columns, budget)) = revalued(columns, &remains, budget) else {
        return Outcome::Refuted;
    };
    let mut search = Search::new(&columns, remains);
    if search.is_covered(budget) {
        let path = search.path.iter().filter_map(|index| columns.get(*index));
        Outcome::Found(path.map(Candidate::container).collect())
    } else if search.steps > 0 {
        Outcome::Refuted
    } else {
        Outcome::Open
    }
}

/// Every filling that leaves at most `budget` unused, in the cheapest kind that holds it; `None`
/// when there are too many.
fn columns(work: &Work, relaxation: &Relaxation, budget: f64) -> Option<Vec<Candidate>> {
    let values = &relaxation.values;
    let mut columns: Vec<Candidate> = Vec::new();
    for (index, kind) in work.kinds.iter().enumerate() {
        let cost = float(kind.cost);
        let limit = LISTED.saturating_sub(columns.len());
        let listed = pattern::worthwhile(work, kind.room, values, cost - budget, limit);
        if !listed.complete {
            return None;
        }
        let cheaper = |contents: &Contents| {
            let size = work.size_of(contents);
            let mut kinds = work.kinds.iter();
            kinds.any(|other| other.cost < kind.cost && holds(other.room, size))
        };
        let fillings = listed.fillings.into_iter();
        let columns_of = fillings.filter(|contents| !cheaper(contents));
        columns.extend(columns_of.map(|it| Candidate::new(relaxation, index, cost, it)));
    }
    columns.retain(|column| !column.contents.is_empty());
    Some(columns)
}

/// The columns by the values that are best for holding every thing exactly once, least unused
/// first, and what may then still be left unused; `None` when that is nothing, or no combination of
/// columns holds everything.
fn revalued(
    mut columns: Vec<Candidate>,
    remains: &[usize],
    budget: f64,
) -> Option<(Vec<Candidate>, f64)> {
    let scale = columns
        .iter()
        .map(|column| column.unused)
        .fold(1.0, f64::max);
    let mut problem = Problem::new(OptimizationDirection::Maximize);
    let variables: Vec<Variable> = remains
        .iter()
        .map(|&count| problem.add_var(real(count), (-AMPLE, AMPLE)))
        .collect();
    for column in &columns {
        let row: Vec<(Variable, f64)> = column
            .contents
            .each()
            .filter_map(|(place, count)| Some((*variables.get(place)?, real(count))))
            .collect();
        problem.add_constraint(row.as_slice(), ComparisonOp::Le, column.unused / scale);
    }
    let solved = problem.solve().ok().and_then(|it| it.into_solution().ok());
    let raised: Vec<f64> = variables
        .iter()
        .map(|variable| {
            solved
                .as_ref()
                .map_or(0.0, |it| it.var_value(*variable) * scale)
        })
        .collect();
    let worth =
        |place: usize, count: usize| raised.get(place).copied().unwrap_or(0.0) * real(count);
    let budget = budget
        - remains
            .iter()
            .enumerate()
            .map(|(place, count)| worth(place, *count))
            .sum::<f64>();
    for column in &mut columns {
        let more: f64 = column
            .contents
            .each()
            .map(|(place, count)| worth(place, count))
            .sum();
        column.unused -= more;
    }
    // Rounding may leave a column worth a little more than it costs: then everything is allowed as
    // much more.
    let over = columns
        .iter()
        .map(|column| -column.unused)
        .fold(0.0, f64::max);
    let most: usize = remains.iter().sum();
    let budget = budget + over * real(most);
    for column in &mut columns {
        column.unused = column.unused.max(0.0);
    }
    columns.retain(|column| column.unused <= budget);
    columns.sort_by(|a, b| {
        a.unused
            .total_cmp(&b.unused)
            .then_with(|| b.contents.each().cmp(a.contents.each()))
            .then(a.kind.cmp(&b.kind))
    });
    (budget >= 0.0).then_some((columns, budget))
}

/// What is left to be held, and the columns chosen so far.
struct Search<'a> {
    columns: &'a [Candidate],
    /// Columns that hold each thing, least unused first.
    holding: Vec<Vec<usize>>,
    steps: usize,
    remains: Vec<usize>,
    path: Vec<usize>,
    /// The most that could be left unused when what remained could not be held.
    failed: HashMap<Vec<usize>, f64>,
    /// What values raised in the present step take from what each column leaves unused; nothing
    /// between steps.
    taken: Vec<f64>,
}

impl<'a> Search<'a> {
    fn new(columns: &'a [Candidate], remains: Vec<usize>) -> Search<'a> {
        let mut holding = vec![Vec::new(); remains.len()];
        for (index, column) in columns.iter().enumerate() {
            for (place, _) in column.contents.each() {
                if let Some(list) = holding.get_mut(place) {
                    list.push(index);
                }
            }
        }
        Search {
            columns,
            holding,
            steps: (EFFORT / columns.len().max(1)).min(STEPS),
            remains,
            path: Vec::new(),
            failed: HashMap::new(),
            taken: vec![0.0; columns.len()],
        }
    }

    /// Whether what remains is held by columns that leave at most `budget` unused; they are then in
    /// the path.
    fn is_covered(&mut self, budget: f64) -> bool {
        if self.remains.iter().all(|&count| count == 0) {
            return true;
        }
        self.steps = self.steps.saturating_sub(1);
        if self.steps == 0 {
            return false;
        }
        let before = self.failed.get(&self.remains);
        if before.is_some_and(|refuted| budget <= *refuted) {
            return false;
        }
        if let Some(choices) = self.choices(budget) {
            for index in choices {
                if self.takes(index, budget) {
                    return true;
                }
                if self.steps == 0 {
                    return false;
                }
            }
        }
        self.failed.insert(self.remains.clone(), budget);
        false
    }

    fn takes(&mut self, index: usize, budget: f64) -> bool {
        let Some(column) = self.columns.get(index) else {
            return false;
        };
        column.contents.take_from(&mut self.remains);
        self.path.push(index);
        let covered = self.is_covered(budget - column.unused);
        if !covered {
            self.path.pop();
            column.contents.give_to(&mut self.remains);
        }
        covered
    }

    /// Columns that could hold the thing which the fewest could; `None` when some thing can't be
    /// held or too much would be left unused.
    fn choices(&mut self, budget: f64) -> Option<Vec<usize>> {
        let mut lists: Vec<(usize, usize, Vec<usize>)> = Vec::new();
        for (place, &count) in self.remains.iter().enumerate() {
            if count > 0 {
                let fitting = self.fitting(place, budget);
                if fitting.is_empty() {
                    return None;
                }
                lists.push((place, count, fitting));
            }
        }
        lists.sort_by_key(|(_, _, fitting)| fitting.len());
        let kept = self.unused(&lists, budget) <= budget + SLACK * budget.abs();
        let first = lists.into_iter().next();
        first.filter(|_| kept).map(|(.., fitting)| fitting)
    }

    /// The columns with a thing in them that can still be taken.
    fn fitting(&self, place: usize, budget: f64) -> Vec<usize> {
        let holding = self.holding.get(place).into_iter().flatten().copied();
        let known = holding.filter_map(|index| Some((index, self.columns.get(index)?)));
        known
            .take_while(|(_, column)| column.unused <= budget)
            .filter(|(_, column)| {
                column.contents.each().all(|(place, count)| {
                    let there = self.remains.get(place);
                    there.is_some_and(|there| *there >= count)
                })
            })
            .map(|(index, _)| index)
            .collect()
    }

    /// What is left unused at least, as far as it is needed to see that it is more than `budget`:
    /// the value of one thing after the other is raised as far as no column becomes worth more than
    /// it costs.
    fn unused(&mut self, lists: &[(usize, usize, Vec<usize>)], budget: f64) -> f64 {
        let mut sum = 0.0;
        let mut touched: Vec<usize> = Vec::new();
        for (place, count, fitting) in lists {
            let columns = self.columns;
            let held = |index: &usize| {
                let times = columns.get(*index)?.contents.at(*place);
                (times > 0).then(|| real(times))
            };
            // A column that holds the thing several times is worth as many times more.
            let left = |index: &usize| {
                let unused = columns.get(*index)?.unused;
                Some((unused - self.taken.get(*index)?) / held(index)?)
            };
            let raise = fitting
                .iter()
                .filter_map(left)
                .fold(f64::INFINITY, f64::min);
            if raise > 0.0 {
                sum += raise * real(*count);
                for index in fitting {
                    if let (Some(taken), Some(times)) = (self.taken.get_mut(*index), held(index)) {
                        *taken += raise * times;
                        touched.push(*index);
                    }
                }
            }
            if sum > budget + SLACK * budget.abs() {
                break;
            }
        }
        for index in touched {
            if let Some(taken) = self.taken.get_mut(index) {
                *taken = 0.0;
            }
        }
        sum
    }
}

#[cfg(test)]
mod tests;
