//! Answers that were found before: the same problems come up again in every alternative that is
//! priced beside a job, in every cupboard like another and in every edit that is tried.
//!
//! An answer follows from its question alone, so that remembering it changes nothing but the time.

use super::{Filling, Kind, Thing};
use std::collections::HashMap;
use std::sync::{LazyLock, Mutex, PoisonError};

/// Questions that are remembered; later ones are answered anew.
const MOST: usize = 4_000;
/// Different things in a question that is remembered, at most.
const MOST_THINGS: usize = 1_000;

/// Kinds, things, and the price below which the answer is to be.
type Question = (Vec<Kind>, Vec<Thing>, Option<u64>);

static KNOWN: LazyLock<Mutex<HashMap<Question, Option<Filling>>>> = LazyLock::new(Mutex::default);

/// The answer to a question, worked out when it is asked for the first time.
pub(super) fn remembered(
    (kinds, things, below): (&[Kind], &[Thing], Option<u64>),
    work_out: impl FnOnce() -> Option<Filling>,
) -> Option<Filling> {
    if things.len() > MOST_THINGS {
        return work_out();
    }
    let question = (kinds.to_vec(), things.to_vec(), below);
    let known = || KNOWN.lock().unwrap_or_else(PoisonError::into_inner);
    if let Some(answer) = known().get(&question) {
        return answer.clone();
    }
    // Nobody waits for it: whoever asks the same meanwhile works it out too.
    let answer = work_out();
    let mut known = known();
    if known.len() < MOST {
        known.insert(question, answer.clone());
    }
    answer
}
