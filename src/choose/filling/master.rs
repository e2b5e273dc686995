//! The best combination of the fillings worth considering, as an integer programme.
//!
//! With values π from the relaxation, a filling that leaves more of its container's cost unused
//! than lies between the bound and the best answer so far can be in no better answer. When all
//! others are in the programme, its optimum is the optimum.

use super::candidate::Candidate;
use super::pattern;
use super::relaxation::Relaxation;
use super::work::{Work, float};
use super::{Container, Contents};
use crate::quantity::number::real;
use microlp::{
    ComparisonOp, OptimizationDirection, Problem, SolutionStatus, SolveOptions, Variable,
};
use num_traits::ToPrimitive;

/// Fillings looked at for it at most, for each thing and kind.
const LOOKED_AT: usize = 4_000;
/// Fillings held at a time before the best are chosen.
const HELD: usize = 20_000;
/// Nodes of its search.
const NODES: u64 = 3_000;

/// What the programme came to.
pub(super) struct Combined {
    /// Its answer, if it found one.
    pub containers: Option<Vec<Container>>,
    /// Whether nothing costs less than that answer, or than the best so far when it found none.
    pub proved: bool,
}

/// Combines fillings into an answer that costs at most `cost`.
pub(super) fn combine(
    work: &Work,
    relaxation: &Relaxation,
    cost: u64,
    most_fillings: usize,
) -> Combined {
    let gap = float(cost) - relaxation.bound + 1e-6;
    let (candidates, complete) = candidates(work, relaxation, gap, most_fillings);
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let most = work
        .counts()
        .iter()
        .sum::<usize>()
        .to_i32()
        .unwrap_or(i32::MAX);
    let variables: Vec<Variable> = candidates
        .iter()
        .map(|candidate| {
            let cost = work.kinds.get(candidate.kind).map_or(0, |kind| kind.cost);
            problem.add_integer_var(float(cost), (0, most))
        })
        .collect();
    let mut rows: Vec<Vec<(Variable, f64)>> = vec![Vec::new(); work.things.len()];
    for (candidate, variable) in candidates.iter().zip(&variables) {
        for (place, count) in candidate.contents.each() {
            if let Some(row) = rows.get_mut(place) {
                row.push((*variable, real(count)));
            }
        }
    }
    for (row, thing) in rows.iter().zip(&work.things) {
        problem.add_constraint(row.as_slice(), ComparisonOp::Ge, real(thing.count));
    }
    for (index, kind) in work
        .kinds
        .iter()
        .enumerate()
        .filter(|(_, kind)| kind.limited)
    {
        let row: Vec<(Variable, f64)> = candidates
            .iter()
            .zip(&variables)
            .filter(|(candidate, _)| candidate.kind == index)
            .map(|(_, variable)| (*variable, 1.0))
            .collect();
        problem.add_constraint(row.as_slice(), ComparisonOp::Le, real(kind.available));
    }
    let scale = float(cost);
    let budget: Vec<(Variable, f64)> = candidates
        .iter()
        .zip(&variables)
        .filter_map(|(candidate, variable)| {
            let kind = work.kinds.get(candidate.kind)?;
            Some((*variable, float(kind.cost) / scale))
        })
        .collect();
    problem.add_constraint(budget.as_slice(), ComparisonOp::Le, 1.0 + 1e-9);
    solved(work, &problem, &candidates, &variables, complete)
}

fn solved(
    work: &Work,
    problem: &Problem,
    candidates: &[Candidate],
    variables: &[Variable],
    complete: bool,
) -> Combined {
    let mut options = SolveOptions::default();
    options.node_limit = Some(NODES);
    let outcome = match problem.solve_with(options) {
        Ok(outcome) => outcome,
        Err(error) => {
            return Combined {
                containers: None,
                proved: complete && matches!(error, microlp::Error::Infeasible),
            };
        }
    };
    let Ok(solution) = outcome.into_solution() else {
        return Combined {
            containers: None,
            proved: false,
        };
    };
    let mut remains = work.counts();
    let mut containers = Vec::new();
    for (candidate, variable) in candidates.iter().zip(variables) {
        let times = solution
            .var_value(*variable)
            .round()
            .to_usize()
            .unwrap_or(0);
        for _ in 0..times {
            let there = |place: usize| remains.get(place).copied().unwrap_or(0);
            let contents: Contents = candidate
                .contents
                .each()
                .map(|(place, count)| (place, count.min(there(place))))
                .collect();
            contents.take_from(&mut remains);
            containers.push(Container {
                kind: candidate.kind,
                contents,
            });
        }
    }
    let whole = remains.iter().all(|&count| count == 0);
    Combined {
        containers: whole.then_some(containers),
        proved: complete && whole && solution.status() == SolutionStatus::Optimal,
    }
}

/// Fillings that leave at most `gap` unused, the least first, and whether these are all.
fn candidates(
    work: &Work,
    relaxation: &Relaxation,
    gap: f64,
    most_fillings: usize,
) -> (Vec<Candidate>, bool) {
    let mut complete = true;
    let mut candidates = Vec::new();
    let mut remains = work.counts();
    for place in 0..work.things.len() {
        for (index, (kind, rent)) in work.kinds.iter().zip(&relaxation.rents).enumerate() {
            let cost = float(kind.cost) + rent;
            let values = &relaxation.values;
            let found =
                pattern::completions(work, kind.room, &remains, values, cost - gap, LOOKED_AT);
            complete &= found.complete;
            if candidates.len() > HELD {
                return (least_unused(candidates, most_fillings), false);
            }
            let fillings = found.fillings.into_iter();
            candidates.extend(fillings.map(|it| Candidate::new(relaxation, index, cost, it)));
        }
        // Fillings with this thing in them are all listed: go on without it.
        if let Some(count) = remains.get_mut(place) {
            *count = 0;
        }
    }
    complete &= candidates.len() <= most_fillings;
    (least_unused(candidates, most_fillings), complete)
}

/// The fillings that leave least unused.
fn least_unused(mut candidates: Vec<Candidate>, most_fillings: usize) -> Vec<Candidate> {
    candidates.sort_by(|a, b| {
        a.unused
            .total_cmp(&b.unused)
            .then(a.kind.cmp(&b.kind))
            .then_with(|| b.contents.cmp(&a.contents))
    });
    candidates.truncate(most_fillings);
    candidates
}

#[cfg(test)]
mod tests {
    use super::super::relaxation::relax;
    use super::super::tests::{least_cost, one_of_each, unlimited};
    use super::super::{Kind, Thing};
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #![proptest_config(crate::cases::cases(100))]
        #[test]
        fn fillings_are_combined_at_the_least_cost_of_all_and_not_below_it(
            kinds in prop::collection::vec((20_u64..60, 2_u64..5, 5_u64..40), 1..4),
            sizes in prop::collection::vec([3_u64..20, 1_u64..3], 1..8),
        ) {
            let kinds = unlimited(&kinds);
            let work = Work::new(&kinds, &one_of_each(&sizes)).expect("each fits each kind");
            let least = least_cost(&work, &kinds, &sizes);
            let relaxation = relax(&work, &mut Vec::new());
            let found = combine(&work, &relaxation, least, 1_000);
            let cost = found.containers.map(|containers| work.cost(&containers));
            prop_assert_eq!((cost, found.proved), (Some(least), true));
            let below = combine(&work, &relaxation, least - 1, 1_000);
            prop_assert!(below.containers.is_none() && below.proved);
        }
    }

    /// By hand: one container at 5, the other at 8. The cheap one is worth 3 more than it costs, which is
    /// its rent.
    #[test]
    fn of_what_can_be_had_once_one_is_taken() {
        let kind = |price: u64, available: Option<usize>| Kind {
            room: [10, 4],
            price,
            available,
        };
        let things = [Thing {
            size: [5, 1],
            count: 4,
        }];
        let work = Work::new(&[kind(5, Some(1)), kind(8, None)], &things).expect("it fits");
        let relaxation = relax(&work, &mut Vec::new());
        let rent = relaxation.rents.iter().copied().fold(0.0, f64::max);
        assert!((rent - 3.0 * float(work.weight)).abs() < 1e-3, "{rent}");
        let least = 13 * work.weight + 2;
        let found = combine(&work, &relaxation, least, 1_000);
        let cost = found.containers.map(|containers| work.cost(&containers));
        assert_eq!((cost, found.proved), (Some(least), true));
        let few = combine(&work, &relaxation, least, 1);
        assert!(!few.proved, "not all fillings were looked at");
    }
}
