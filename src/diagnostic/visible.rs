//! Characters that a terminal would act on, made visible instead.

/// `text` with every control character, escape, direction mark and invisible character replaced
/// by a sign: `␛` for escape, `␉` for a tab, `�` where there is none of its own.
#[must_use]
pub fn visible(text: &str) -> String {
    text.chars().map(sign).collect()
}

fn sign(c: char) -> char {
    match c {
        '\u{0}'..='\u{1f}' => char::from_u32(0x2400 + u32::from(c)).unwrap_or('\u{fffd}'),
        '\u{7f}' => '\u{2421}',
        '\u{80}'..='\u{9f}'
        | '\u{ad}'
        | '\u{61c}'
        | '\u{200b}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{feff}'
        | '\u{fff9}'..='\u{fffb}' => '\u{fffd}',
        c => c,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_nothing_a_terminal_acts_on_is_left() {
        assert_eq!(visible("a\u{1b}[31m\tb\u{7f}\u{9b}\u{202e}"), "a␛[31m␉b␡��");
        assert_eq!(
            visible("1.5 mm² Ω µ °C – ž 日本"),
            "1.5 mm² Ω µ °C – ž 日本"
        );
    }
}
