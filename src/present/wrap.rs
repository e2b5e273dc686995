//! Breaking text into lines.

/// Breaks `text` at spaces into lines no wider than `limit`, as `width` measures them. A word
/// that is wider by itself is broken where it must be, after a hyphen or slash where it can be.
/// Never empty.
#[must_use]
pub fn wrap(text: &str, limit: f64, width: &impl Fn(&str) -> f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split(' ').filter(|word| !word.is_empty()) {
        let longer = if line.is_empty() {
            word.to_owned()
        } else {
            format!("{line} {word}")
        };
        if width(&longer) <= limit {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        let mut pieces = broken(word, limit, width);
        line = pieces.pop().unwrap_or_default();
        lines.append(&mut pieces);
    }
    lines.push(line);
    lines
}

/// A word in pieces no wider than `limit`, each of at least one character.
fn broken(word: &str, limit: f64, width: &impl Fn(&str) -> f64) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut piece = String::new();
    // How much of `piece` ends at a place where a break reads well.
    let mut good = 0;
    for c in word.chars() {
        piece.push(c);
        if width(&piece) > limit && piece.chars().count() > 1 {
            let at = if good > 0 {
                good
            } else {
                piece.len() - c.len_utf8()
            };
            let rest = piece.split_off(at);
            pieces.push(std::mem::replace(&mut piece, rest));
            good = 0;
        }
        if matches!(c, '-' | '/' | '_' | ',') {
            good = piece.len();
        }
    }
    pieces.push(piece);
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::number::real;

    fn columns(text: &str) -> f64 {
        real(text.chars().count())
    }

    #[test]
    fn words_stay_whole_where_they_fit() {
        assert_eq!(
            wrap("feed it at both ends", 8.0, &columns),
            ["feed it", "at both", "ends"]
        );
    }

    #[test]
    fn a_long_name_breaks_at_its_hyphens() {
        assert_eq!(
            wrap("hall-cove-north", 11.0, &columns),
            ["hall-cove-", "north"]
        );
        assert_eq!(wrap("abcdefgh", 3.0, &columns), ["abc", "def", "gh"]);
    }

    #[test]
    fn nothing_is_lost_and_nothing_is_wider_than_asked() {
        let text = "a very-long-name/with parts 0123456789012345678901234567890 and ärgerlich";
        for limit in 1..40 {
            let limit = real(limit);
            let lines = wrap(text, limit, &columns);
            assert!(lines.iter().all(|line| columns(line) <= limit), "{limit}");
            let kept: String = lines.concat().chars().filter(|c| *c != ' ').collect();
            let given: String = text.chars().filter(|c| *c != ' ').collect();
            assert_eq!(kept, given);
        }
    }

    #[test]
    fn empty_text_is_one_empty_line() {
        assert_eq!(wrap("", 5.0, &columns), [""]);
    }
}
