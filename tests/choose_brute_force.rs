//! Ten runs like those of a library, each against brute force: every arrangement of up to three
//! feeds, and of two or three sections, on a grid of places, with every cable. None of them keeps
//! the limits for less than what was chosen, but for the least saving for which feeds leave the
//! even places.

use crate::invented::{Wanted, project, strip};
use feedpoint::choose::arrangement::{Arrangement, Piece};
use feedpoint::choose::feeding::Feeding;
use feedpoint::choose::field::Field;
use feedpoint::choose::placing::LEAST_SAVING;
use feedpoint::choose::shift::Whites;
use feedpoint::choose::size;
use feedpoint::choose::trial::{self, Attempt};
use feedpoint::solve::strip_model::StripModel;
use rust_decimal::Decimal;
use std::sync::Arc;

/// Grid intervals along a run for feeds, and for the cuts between three sections.
const GRID: usize = 16;
const COARSE: usize = 8;

fn way(pieces: Vec<Piece>) -> Arrangement {
    Arrangement {
        words: "brute force".to_owned(),
        pieces,
    }
}

fn piece(from: usize, to: usize, feeds: &[usize]) -> Piece {
    Piece {
        start: from,
        segments: to - from,
        feeds: feeds.to_vec(),
    }
}

/// A piece fed at any one place of a grid, or at both its ends.
fn fed(from: usize, to: usize, grid: &[usize]) -> Vec<Piece> {
    let inside = grid.iter().filter(|place| (from..=to).contains(place));
    let mut all: Vec<Piece> = inside.map(|place| piece(from, to, &[*place])).collect();
    all.push(piece(from, to, &[from, to]));
    all
}

fn every_way(segments: usize) -> Vec<Arrangement> {
    let grid = |intervals: usize| -> Vec<usize> {
        let mut all: Vec<usize> = (0..=intervals).map(|k| k * segments / intervals).collect();
        all.dedup();
        all
    };
    let (fine, coarse) = (grid(GRID), grid(COARSE));
    let mut ways = Vec::new();
    for (i, a) in fine.iter().enumerate() {
        ways.push(way(vec![piece(0, segments, &[*a])]));
        for (j, b) in fine.iter().enumerate().skip(i + 1) {
            ways.push(way(vec![piece(0, segments, &[*a, *b])]));
            for c in fine.iter().skip(j + 1) {
                ways.push(way(vec![piece(0, segments, &[*a, *b, *c])]));
            }
        }
    }
    let inner = |grid: &[usize]| grid[1..grid.len() - 1].to_vec();
    for cut in inner(&fine) {
        for first in fed(0, cut, &fine) {
            for second in fed(cut, segments, &fine) {
                ways.push(way(vec![first.clone(), second]));
            }
        }
    }
    for (i, one) in inner(&coarse).iter().enumerate() {
        for two in inner(&coarse).iter().skip(i + 1) {
            for a in fed(0, *one, &coarse) {
                for b in fed(*one, *two, &coarse) {
                    for c in fed(*two, segments, &coarse) {
                        ways.push(way(vec![a.clone(), b.clone(), c]));
                    }
                }
            }
        }
    }
    ways
}

/// The cheapest that keeps every limit and costs less than `chosen`.
fn cheaper(feeding: &Feeding, chosen: Option<Decimal>) -> Option<(Decimal, String)> {
    let field = Field::new(feeding);
    let mut least: Option<(Decimal, String)> = None;
    for way in every_way(feeding.segments) {
        let mut feeds = way.pieces.iter().flat_map(|piece| &piece.feeds);
        if !feeds.all(|feed| feeding.reach.to(*feed).is_some()) {
            continue;
        }
        for (index, cable) in feeding.cables.iter().enumerate() {
            for &sharing in &field.sharings {
                let bound = least.as_ref().map(|(cost, _)| *cost).or(chosen);
                let option = field
                    .option(&way.shape(&feeding.reach), 0, index, sharing)
                    .expect("a cable");
                let floor = option.floor.expect("priced");
                if bound.is_some_and(|bound| floor >= bound) {
                    continue;
                }
                let attempt = Attempt {
                    way: &way,
                    cable,
                    sharing,
                };
                let Ok(trial) = trial::feasible(feeding, attempt) else {
                    continue;
                };
                let cost = field.cost(&option, &trial.sections).expect("priced");
                if bound.is_none_or(|bound| cost < bound) {
                    let feeds: Vec<_> = way.pieces.iter().map(|piece| &piece.feeds).collect();
                    least = Some((cost, format!("{feeds:?} {}", cable.offer.id)));
                }
            }
        }
    }
    least
}

fn runs() -> Vec<Wanted> {
    let pair = strip("pair-19", 24.0, &[9.6, 9.6]);
    let low = strip("pair-10", 24.0, &[4.8, 4.8]);
    let shelf = strip("shelf", 24.0, &[7.2]);
    let work = strip("work", 24.0, &[14.4]);
    let run = |strip, length, to_start, to_end, along| Wanted {
        to_start,
        to_end,
        along,
        ..Wanted::new("run", strip, length)
    };
    vec![
        run(&pair, 9.2, Some(7.0), Some(15.0), true),
        run(&pair, 9.2, Some(11.0), Some(16.0), true),
        run(&pair, 7.0, Some(20.0), Some(4.0), true),
        run(&low, 4.2, Some(10.0), Some(14.0), false),
        run(&low, 11.0, Some(3.0), None, true),
        run(&shelf, 3.6, Some(5.0), None, false),
        run(&shelf, 12.0, Some(6.0), Some(8.0), false),
        run(&work, 7.5, Some(10.0), Some(17.0), true),
        run(&work, 4.8, None, Some(9.0), true),
        run(&work, 12.0, Some(14.0), Some(19.0), true),
    ]
}

#[test]
fn brute_force_finds_nothing_cheaper() {
    let mut wrong = Vec::new();
    for (number, wanted) in runs().into_iter().enumerate() {
        let project = project(&[wanted]);
        let sized = size(&project)
            .expect("the run can be laid out")
            .runs
            .remove(0);
        assert_eq!(sized.unmet, None, "run {number}");
        let run = &project.runs[0];
        let model = Arc::new(StripModel::of(&run.strip).expect("a consistent strip"));
        let strip = (model, Whites::of(&run.strip), Arc::default());
        let cupboard = Arc::clone(&sized.cupboard);
        let feeding = Feeding::new(&project, run, cupboard, (true, true), strip).expect("laid out");
        let cost = sized.reasons.cost.expect("priced");
        let kept = Decimal::try_from(1.0 - LEAST_SAVING).expect("a share");
        if let Some((less, how)) = cheaper(&feeding, Some(cost * kept)) {
            wrong.push(format!(
                "run {number}: {} for {cost}, but {how} for {less}",
                sized.reasons.arrangement
            ));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
