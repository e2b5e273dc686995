//! What a record is guarded by: a digest of all that stands above the guard, and a short check of
//! each line, so that a change made by hand is found and shown where it was made.
//!
//! The guard tells an accident from what was issued. It is no signature: whoever can write the
//! file can write a new guard.

use sha2::{Digest, Sha256};
use std::fmt::Write;

/// The line that begins the guard.
pub const BEGINS: &str = "guard:";

/// Checks on one line of the guard.
const ON_A_LINE: usize = 16;

/// Digest of some texts, in order: SHA-256 (FIPS 180-4), in hexadecimal. Line endings don't count.
#[must_use]
pub fn digest<'a>(texts: impl Iterator<Item = &'a str>) -> String {
    let mut hasher = Sha256::new();
    for text in texts {
        for line in text.lines() {
            hasher.update(line.as_bytes());
            hasher.update(b"\n");
        }
        hasher.update(b"\0");
    }
    hex(&hasher.finalize())
}

fn hex(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(2 * bytes.len());
    for byte in bytes {
        // Writing to a string can't fail.
        let _ = write!(text, "{byte:02x}");
    }
    text
}

/// The check of a line: four hexadecimal digits.
fn check(line: &str) -> String {
    digest(std::iter::once(line)).chars().take(4).collect()
}

/// A record's text with its guard below it.
#[must_use]
pub fn guarded(body: &str) -> String {
    let checks: Vec<String> = body.lines().map(check).collect();
    let mut text = body.to_owned();
    text.push_str(BEGINS);
    let whole = digest(std::iter::once(body));
    text.push_str(&format!("\n  contents: \"{whole}\"\n  lines:\n"));
    for some in checks.chunks(ON_A_LINE) {
        text.push_str(&format!("    - \"{}\"\n", some.join(" ")));
    }
    text
}

/// What is wrong with a guarded text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Broken {
    /// This line, from 1, is not as it was written.
    Line(usize),
    /// Lines are missing after this one.
    Cut(usize),
    /// The guard itself, from this line on, is not as it was written, or not there.
    Guard(usize),
}

/// Holds a text against the guard in it.
///
/// # Errors
/// What is not as it was written.
pub fn hold(text: &str) -> Result<(), Broken> {
    let body: Vec<&str> = text.lines().take_while(|line| *line != BEGINS).collect();
    let whole: String = body.iter().flat_map(|line| [*line, "\n"]).collect();
    let mut guard = text.lines().skip(body.len());
    if guard.clone().eq(guarded(&whole).lines().skip(body.len())) {
        return Ok(());
    }
    let checks: Vec<&str> = guard
        .by_ref()
        .filter_map(|line| line.strip_prefix("    - \"")?.strip_suffix('"'))
        .flat_map(|line| line.split(' '))
        .collect();
    if checks.is_empty() {
        return Err(Broken::Guard(body.len()));
    }
    let differs = |(line, known): (&&str, &&str)| check(line) != **known;
    let first = body.iter().zip(&checks).position(differs);
    Err(match first {
        Some(at) => Broken::Line(at + 1),
        None if body.len() > checks.len() => Broken::Line(checks.len() + 1),
        None if body.len() < checks.len() => Broken::Cut(body.len()),
        None => Broken::Guard(body.len() + 1),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    // FIPS 180-4 examples give SHA-256 of "abc"; a line of a text is hashed with its end, and a
    // text with its own, so the values below were made with `printf 'abc\n\0' | sha256sum`.
    #[test]
    fn the_digest_is_that_of_general_tools() {
        assert_eq!(
            digest(std::iter::once("abc")),
            "6bbce51d4476fc2d610b8ce03deb8310975e267dd024c8b87c4dcfa2dfad88cc"
        );
        assert_eq!(
            digest(["a\r\nb"].into_iter()),
            digest(["a\nb\n"].into_iter())
        );
        assert_ne!(digest(["a", "b"].into_iter()), digest(["ab"].into_iter()));
    }

    #[test]
    fn a_change_is_found_on_its_line() {
        let body: String = (0..40).map(|n| format!("line: {n}\n")).collect();
        let text = guarded(&body);
        assert_eq!(hold(&text), Ok(()));
        assert_eq!(hold(&text.replace('\n', "\r\n")), Ok(()));
        assert_eq!(
            hold(&text.replace("line: 23\n", "line: 32\n")),
            Err(Broken::Line(24))
        );
        assert_eq!(hold(&text.replace("line: 7\n", "")), Err(Broken::Line(8)));
        assert_eq!(hold(&text.replace("line: 39\n", "")), Err(Broken::Cut(39)));
        let longer = text.replace("line: 39\n", "line: 39\nline: 40\n");
        assert_eq!(hold(&longer), Err(Broken::Line(41)));
        let whole = text.replace("contents: \"", "contents: \"0");
        assert_eq!(hold(&whole), Err(Broken::Guard(41)));
        assert_eq!(hold("line: 0\n"), Err(Broken::Guard(1)));
    }
}
