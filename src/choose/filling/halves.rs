//! An answer bettered by taking every container's things apart in two and matching the parts anew.
//!
//! Matching is exact, so one step finds the best of very many exchanges at once. The parts are drawn
//! from a fixed sequence: the same problem always comes to the same answer.

use super::Container;
use super::pairs;
use super::work::Work;

/// Ways of taking apart that are tried at most without finding anything better before giving up.
const FRUITLESS: usize = 1_000;
/// The same times the square of the number of containers: one way takes the longer the more there
/// are.
const EFFORT: usize = 750_000;
/// Where the sequence begins.
const SEED: u64 = 0x9e37_79b9_7f4a_7c15;

/// The answer, bettered until it costs no more than `lower` or many ways of taking it apart have not
/// helped.
pub(super) fn matched(work: &Work, mut answer: Vec<Container>, lower: u64) -> Vec<Container> {
    let mut coins = Coins(SEED);
    let mut fruitless = 0;
    let most = FRUITLESS.min(EFFORT / answer.len().pow(2).max(1));
    while fruitless < most && work.cost(&answer) > lower {
        let parts: Vec<Vec<usize>> = answer
            .iter()
            .flat_map(|container| apart(&container.counts, &mut coins))
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
fn apart(counts: &[usize], coins: &mut Coins) -> impl Iterator<Item = Vec<usize>> + use<> {
    let first: Vec<usize> = counts
        .iter()
        .map(|&count| (0..count).filter(|_| coins.next()).count())
        .collect();
    let second = counts.iter().zip(&first).map(|(all, some)| all - some);
    let second = second.collect();
    let parts = [first, second].into_iter();
    parts.filter(|part| part.iter().any(|&count| count > 0))
}

/// Heads or tails (Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003).
struct Coins(u64);

impl Coins {
    fn next(&mut self) -> bool {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 >> 33 & 1 == 1
    }
}
