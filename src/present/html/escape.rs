//! Text in which nothing is markup.

use crate::present::printable::printable;
use crate::present::reading_order::stretches;

/// Text as it may stand in an element: names read from right to left are kept apart, so that figures
/// beside them stay where they are.
pub(super) fn marked(text: &str) -> String {
    let text = printable(text);
    let mut out = String::with_capacity(text.len());
    for piece in stretches(&text) {
        if piece.own_direction {
            out.push_str(&format!("<bdi>{}</bdi>", escaped(piece.text)));
        } else {
            out.push_str(&escaped(piece.text));
        }
    }
    out
}

/// Text as it may stand between an attribute's double quotes, or where no element may.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in printable(text).chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            _ => out.push(c),
        }
    }
    out
}

/// An element with text in it, on a line of its own.
pub(super) fn push_element(out: &mut String, name: &str, class: &str, text: &str) {
    let class = if class.is_empty() {
        String::new()
    } else {
        format!(" class=\"{class}\"")
    };
    out.push_str(&format!("<{name}{class}>{}</{name}>\n", marked(text)));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_read_from_right_to_left_is_kept_apart_from_a_figure() {
        assert_eq!(marked("אבג: 12.40 m"), "<bdi>אבג</bdi>: 12.40 m");
        assert_eq!(marked("אב<ג"), "<bdi>אב</bdi>&lt;<bdi>ג</bdi>");
    }

    #[test]
    fn nothing_in_a_text_becomes_markup() {
        let mut out = String::new();
        push_element(&mut out, "p", "", "<b onclick='x'>&\"\u{202e}\u{1b}");
        assert_eq!(
            out,
            "<p>&lt;b onclick=&#39;x&#39;&gt;&amp;&quot;\u{FFFD}\u{FFFD}</p>\n"
        );
    }
}
