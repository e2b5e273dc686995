//! Spoils a text: bytes changed, lines dropped, doubled and moved, words put in the place of others.

/// Words put into texts: what files hold, and what should not be in them.
const WORDS: &[&str] = &[
    "NaN",
    ".nan",
    "inf",
    "-.inf",
    "1e308",
    "1e-320",
    "-0",
    "0",
    "0x7fffffff",
    "1e400 V",
    "99999999999999999999999999999999999999999",
    "-1 m",
    "1e30 m",
    "1e-30 m",
    "1/0",
    "100000 %",
    "0 Ω/km",
    "24 V",
    "9.6 W/m",
    "1.5 mm²",
    "16 AWG",
    "-273.16 °C",
    "2700 K",
    "0 K",
    "true",
    "null",
    "~",
    "''",
    "both ends",
    "middle",
    "at 0 m, 1e9 m",
    "auto",
    "format",
    "runs",
    "strip",
    "length",
    "drivers",
    "catalogues",
    "overrides",
    "points",
    "routes",
    "house_rules",
    "\u{1b}[2J",
    "\"\\e]0;x\\a\"",
    "\"\\0\"",
    "\u{202e}",
    "\u{feff}",
    "\u{9b}31m",
    "\r",
    "\t",
    "../../etc/passwd",
    "/dev/zero",
    "C:\\x",
    "=1+1",
    "&a",
    "*a",
    "&a [*a, *a]",
    "<<: *a",
    "!!binary",
    "? ",
    "- ",
    "---",
    "...",
    "%YAML 9",
    "[",
    "]",
    "{",
    "}",
    "|",
    ">",
    "'",
    "\"",
    "#",
    ": ",
    "日本",
    "\u{301}",
    "Ω",
];

/// A generator of numbers that anyone can run again: splitmix64, from its name.
pub(super) struct Spoiler {
    state: u64,
}

impl Spoiler {
    pub(super) fn new(name: &str) -> Spoiler {
        let mixed = |state: u64, byte: u8| (state ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        Spoiler {
            state: name.bytes().fold(0xcbf2_9ce4_8422_2325, mixed),
        }
    }

    fn next(&mut self) -> u64 {
        self.state = self.state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A number below `end`; 0 when there is none.
    fn below(&mut self, end: usize) -> usize {
        let end = u64::try_from(end.max(1)).expect("fits");
        usize::try_from(self.next() % end).expect("fits")
    }

    /// The text with a few things wrong in it.
    pub(super) fn spoilt(&mut self, text: &str) -> String {
        let mut text = text.to_owned();
        for _ in 0..=self.below(4) {
            text = match self.below(8) {
                0 => self.byte_changed(&text),
                1 | 2 => self.lines_moved(&text),
                3 => self.cut(&text),
                4 => self.nested(&text),
                _ => self.word_put_in(&text),
            };
        }
        text
    }

    fn byte_changed(&mut self, text: &str) -> String {
        let mut bytes = text.as_bytes().to_vec();
        let at = self.below(bytes.len());
        let bit = self.below(8);
        if let Some(byte) = bytes.get_mut(at) {
            *byte ^= 1 << bit;
        }
        String::from_utf8_lossy(&bytes).into_owned()
    }

    fn lines_moved(&mut self, text: &str) -> String {
        let mut lines: Vec<&str> = text.lines().collect();
        if lines.is_empty() {
            return String::new();
        }
        let (at, to) = (self.below(lines.len()), self.below(lines.len()));
        match self.below(3) {
            0 => {
                lines.remove(at);
            }
            1 => lines.insert(to, lines[at]),
            _ => lines.swap(at, to),
        }
        lines.join("\n") + "\n"
    }

    fn cut(&mut self, text: &str) -> String {
        let most = self.below(text.len() + 1);
        text.chars().take(most).collect()
    }

    fn nested(&mut self, text: &str) -> String {
        let depth = 1 << self.below(14);
        let (open, close) = [("[", "]"), ("{a: ", "}")][self.below(2)];
        let deep = open.repeat(depth) + "x" + &close.repeat(depth);
        self.with(text, &deep)
    }

    fn word_put_in(&mut self, text: &str) -> String {
        let word = WORDS[self.below(WORDS.len())];
        self.with(text, word)
    }

    /// The text with `new` in the place of one of its words.
    fn with(&mut self, text: &str, new: &str) -> String {
        let mut parts: Vec<&str> = text.split_inclusive(is_gap).collect();
        if parts.is_empty() {
            return new.to_owned();
        }
        let at = self.below(parts.len());
        let gap = parts[at].chars().next_back().filter(|c| is_gap(*c));
        let new = new.to_owned() + &gap.map(String::from).unwrap_or_default();
        parts[at] = &new;
        parts.concat()
    }
}

fn is_gap(c: char) -> bool {
    matches!(c, ' ' | '\n' | ',' | '{' | '}' | '[' | ']')
}
