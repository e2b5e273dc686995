//! Text from files made safe to print: nothing in it can move a cursor, change a colour, turn
//! the reading order round or hide.

use std::borrow::Cow;

/// What stands for a character that can't be printed.
pub const REPLACEMENT: char = '\u{FFFD}';

/// The text with line breaks and tabs as spaces, and with every other control character, and
/// every character that is invisible or for private use, shown as [`REPLACEMENT`].
#[must_use]
pub fn printable(text: &str) -> Cow<'_, str> {
    let plain = text.bytes().all(|byte| matches!(byte, b' '..=b'~'));
    if plain || text.chars().all(|c| shown_as(c) == c) {
        Cow::Borrowed(text)
    } else {
        Cow::Owned(text.chars().map(shown_as).collect())
    }
}

fn shown_as(c: char) -> char {
    match c {
        '\n' | '\r' | '\t' | '\u{2028}' | '\u{2029}' => ' ',
        _ if c.is_control() || is_hidden(c) => REPLACEMENT,
        _ => c,
    }
}

/// Marks that reorder text, take no room, or mean something only privately.
fn is_hidden(c: char) -> bool {
    matches!(c,
        '\u{061C}' | '\u{180E}' | '\u{200B}' | '\u{200E}' | '\u{200F}'
        | '\u{202A}'..='\u{202E}' | '\u{2060}'..='\u{206F}' | '\u{FEFF}'
        | '\u{E000}'..='\u{F8FF}' | '\u{FFF9}'..='\u{FFFB}' | '\u{E0000}'..='\u{10FFFF}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn escapes_and_overrides_are_shown_not_sent() {
        assert_eq!(printable("a\u{1b}[31mb"), "a\u{FFFD}[31mb");
        assert_eq!(
            printable("a\u{202e}b\u{9b}c\u{7}"),
            "a\u{FFFD}b\u{FFFD}c\u{FFFD}"
        );
        assert_eq!(printable("two\r\nlines\tand"), "two  lines and");
    }

    #[test]
    fn letters_of_any_script_stay() {
        for text in [
            "Lesesaal Müßig, Łódź",
            "ארכיון",
            "أرشيف",
            "日本",
            "2 Ω · 5 µm² – ½",
        ] {
            assert_eq!(printable(text), text);
        }
    }
}
