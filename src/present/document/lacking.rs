//! What a total lacks because a line has no price, to stand after the total's name.

use crate::present::counts::counted;
use crate::price::priced::{LabourLine, Line, Totals};

/// `, without 2 lines`; nothing when nothing is lacking.
pub(in crate::present) fn without(count: usize) -> String {
    match count {
        0 => String::new(),
        count => format!(", without {}", counted(count, "line")),
    }
}

/// What the total of materials lacks.
pub(in crate::present) fn materials(totals: &Totals) -> String {
    without(totals.lines_without_price)
}

/// What the totals of everything lack.
pub(in crate::present) fn all(totals: &Totals) -> String {
    without(totals.lines_without_price + totals.work_without_price)
}

/// What the total of these lines of work lacks.
pub(super) fn of_work<'a>(lines: impl IntoIterator<Item = &'a LabourLine>) -> String {
    let lacking = lines.into_iter().filter(|line| line.sell.is_none());
    without(lacking.count())
}

/// What the total of these lines of materials lacks.
pub(super) fn of_lines<'a>(lines: impl IntoIterator<Item = &'a Line>) -> String {
    let lacking = lines.into_iter().filter(|line| line.sell.is_none());
    without(lacking.count())
}

/// What a total lacked and what it lacks: ` (was without 1 line, is without 2 lines)`.
pub(super) fn then_and_now(was: usize, now: usize) -> String {
    let said = |verb: &str, count: usize| {
        (count > 0).then(|| format!("{verb} without {}", counted(count, "line")))
    };
    let both: Vec<String> = [said("was", was), said("is", now)]
        .into_iter()
        .flatten()
        .collect();
    match both.is_empty() {
        true => String::new(),
        false => format!(" ({})", both.join(", ")),
    }
}
