//! An answer bettered by taking every container's things apart in two and matching the parts anew.
//!
//! Matching is exact, so one step finds the best of very many exchanges at once.

use super::Container;
use super::draws::Draws;
use super::pairs;
use super::work::Work;

/// Ways of taking apart that are tried at most without finding anything better before giving up.
const FRUITLESS: usize = 1_000;
/// The same times the square of the number of containers: one way takes the longer the more there
/// are.
const EFFORT: usize = 750_000;

/// The answer, bettered until it costs no more than `lower` or many ways of taking it apart have not
/// helped.
pub(super) fn matched(work: &Work, mut answer: Vec<Container>, lower: u64) -> Vec<Container> {
    let mut draws = Draws::new();
    let mut fruitless = 0;
    let most = FRUITLESS.min(EFFORT / answer.len().pow(2).max(1));
    while fruitless < most && work.cost(&answer) > lower {
        let parts: Vec<Vec<usize>> = answer
            .iter()
            .flat_map(|container| apart(&container.counts, &mut draws))
            .collect();
        let Some(other) = pairs::matched(work, &parts) else {
            break;
        };
        if work.cost(&other) < work.cost(&answer) {
            fruitless = 0;
        } else {
            fruitless += 1;
        }
        // What costs as much is taken too: from there other ways lead on.
        if work.cost(&other) <= work.cost(&answer) {
            answer = other;
        }
    }
    answer
}

/// What a container holds, in two parts, or in one when the coins fall so.
fn apart(counts: &[usize], draws: &mut Draws) -> impl Iterator<Item = Vec<usize>> + use<> {
    let first: Vec<usize> = counts
        .iter()
        .map(|&count| (0..count).filter(|_| draws.heads()).count())
        .collect();
    let second = counts.iter().zip(&first).map(|(all, some)| all - some);
    let second = second.collect();
    let parts = [first, second].into_iter();
    parts.filter(|part| part.iter().any(|&count| count > 0))
}
