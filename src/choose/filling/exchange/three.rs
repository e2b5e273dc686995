//! A few things put into three containers, in every way until one holds them all.

use super::{Size, minus};

/// Steps in filling them.
const STEPS: usize = 20_000;

/// Three containers that are filled anew.
pub(super) struct Three {
    left: Vec<Size>,
    /// Where each thing so far goes: 0, 1 or 2.
    goes: Vec<usize>,
    steps: usize,
}

impl Three {
    /// Where each thing goes, if containers of these rooms hold all of them; things with a number of
    /// the caller's.
    pub(super) fn filled(rooms: Vec<Size>, things: &[(Size, usize)]) -> Option<Vec<usize>> {
        let mut three = Three {
            left: rooms,
            goes: Vec::new(),
            steps: STEPS,
        };
        three.holds(things).then_some(three.goes)
    }

    /// Whether they hold all of these.
    fn holds(&mut self, things: &[(Size, usize)]) -> bool {
        let Some(((size, _), others)) = things.split_first() else {
            return true;
        };
        self.steps = self.steps.saturating_sub(1);
        if self.steps == 0 {
            return false;
        }
        for at in 0..self.left.len() {
            let Some(left) = self.left.get(at).copied() else {
                continue;
            };
            let less = minus(left, *size);
            if less[0] < 0 || less[1] < 0 {
                continue;
            }
            self.put(at, less);
            self.goes.push(at);
            if self.holds(others) {
                return true;
            }
            self.goes.pop();
            self.put(at, left);
        }
        false
    }

    fn put(&mut self, at: usize, left: Size) {
        if let Some(slot) = self.left.get_mut(at) {
            *slot = left;
        }
    }
}
