//! How long one run takes to arrange: growth with its length, beside trying every evenly spaced
//! option of the same run, one by one, in the same run of the bench.
//!
//! Run with `cargo bench --bench chooser`.

#[path = "../invented/mod.rs"]
mod invented;

use divan::{Bencher, black_box};
use feedpoint::choose::feeding::Feeding;
use feedpoint::choose::field::Field;
use feedpoint::choose::shift::Whites;
use feedpoint::choose::{size, trial};
use feedpoint::model::project::Project;
use feedpoint::solve::strip_model::StripModel;
use invented::{Wanted, project, strip};
use rust_decimal::Decimal;
use std::sync::Arc;

/// Lengths in m: a shelf, a cove, a long cove, a façade.
const LENGTHS: [u32; 5] = [3, 6, 12, 24, 48];

fn main() {
    for metres in LENGTHS {
        let job = job(metres);
        let (chosen, listed) = (chosen(&job), every_option(&job));
        let dear = chosen
            .zip(listed)
            .is_some_and(|(chosen, listed)| chosen > listed);
        assert!(!dear, "{metres} m: {chosen:?} chosen, {listed:?} among all");
        println!("{metres:>3} m: chosen for {chosen:?}, best of the evenly spaced {listed:?}");
    }
    divan::main();
}

fn job(metres: u32) -> Project {
    let pair = strip("pair-19", 24.0, &[9.6, 9.6]);
    project(&[Wanted {
        to_start: Some(6.0),
        to_end: Some(9.0),
        along: true,
        ..Wanted::new("run", &pair, f64::from(metres))
    }])
}

/// What the chosen arrangement costs.
fn chosen(project: &Project) -> Option<Decimal> {
    let sized = size(project).expect("the run can be laid out");
    sized.runs.first().and_then(|run| run.reasons.cost)
}

/// The least that any evenly spaced option costs that keeps every limit, each tried.
fn every_option(project: &Project) -> Option<Decimal> {
    let sized = size(project).expect("the run can be laid out");
    let run = &project.runs[0];
    let model = Arc::new(StripModel::of(&run.strip).expect("a consistent strip"));
    let strip = (model, Whites::of(&run.strip), Arc::default());
    let cupboard = Arc::clone(&sized.runs[0].cupboard);
    let feeding = Feeding::new(project, run, cupboard, (true, true), strip).expect("laid out");
    let field = Field::new(&feeding);
    let costs = field.candidates().into_iter().filter_map(|option| {
        let trial = trial::feasible(&feeding, field.attempt(&option)?).ok()?;
        field.cost(&option, &trial.sections)
    });
    costs.min()
}

#[divan::bench(args = LENGTHS)]
fn arranging(bencher: Bencher, metres: u32) {
    let job = job(metres);
    bencher.bench_local(|| black_box(chosen(black_box(&job))));
}

#[divan::bench(args = LENGTHS, sample_count = 10)]
fn arranging_and_every_option(bencher: Bencher, metres: u32) {
    let job = job(metres);
    bencher.bench_local(|| black_box(every_option(black_box(&job))));
}
