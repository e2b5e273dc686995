//! How the checks ended, in words.

use crate::judge::Counts;

/// `2 broken (1 fault, 1 caution), 3 cannot tell, 40 kept`.
#[must_use]
pub fn sentence(counts: Counts) -> String {
    let kinds = [
        (counts.broken_faults, "fault"),
        (counts.broken_cautions, "caution"),
        (counts.broken_notes, "note"),
    ];
    let broken: Vec<String> = kinds
        .iter()
        .filter(|(count, _)| *count > 0)
        .map(|(count, word)| counted(*count, word))
        .collect();
    let kinds = if broken.is_empty() {
        String::new()
    } else {
        format!(" ({})", broken.join(", "))
    };
    format!(
        "{} broken{kinds}, {} cannot tell, {} kept",
        counts.broken(),
        counts.cannot_tell,
        counts.holds
    )
}

/// A count with its word, in the plural where there is not one.
#[must_use]
pub fn counted(count: usize, word: &str) -> String {
    if count == 1 {
        format!("1 {word}")
    } else {
        format!("{count} {word}s")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn kinds_are_told_apart_only_where_something_is_broken() {
        let kept = Counts {
            holds: 40,
            cannot_tell: 3,
            ..Counts::default()
        };
        assert_eq!(sentence(kept), "0 broken, 3 cannot tell, 40 kept");
        let broken = Counts {
            broken_faults: 1,
            broken_notes: 2,
            ..kept
        };
        assert_eq!(
            sentence(broken),
            "3 broken (1 fault, 2 notes), 3 cannot tell, 40 kept"
        );
    }
}
