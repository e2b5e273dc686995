//! Where a command's results and messages go, and what the place they go to can show.

use super::Failure;
use crate::present::printable::printable;
use crate::present::terminal::Look;
use std::io::{self, ErrorKind, IsTerminal, Write};
use unicode_width::UnicodeWidthStr;

/// Columns of a pipe, and of a terminal that does not say.
const USUAL_WIDTH: usize = 80;
/// Columns below which no table can be read.
const LEAST_WIDTH: usize = 40;

/// What this process's standard output can show: `COLUMNS` before the terminal's own width,
/// `NO_COLOR`, and the character set of the locale.
#[must_use]
pub fn look_of_standard_output() -> Look {
    let terminal = io::stdout().is_terminal();
    let no_colour = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    Look {
        width: width_said().unwrap_or_else(|| width_of_terminal(terminal)),
        colour: terminal && !no_colour,
        ascii: !locale_is_utf8(),
    }
}

fn width_said() -> Option<usize> {
    let said = std::env::var("COLUMNS").ok()?.trim().parse().ok()?;
    (said >= LEAST_WIDTH).then_some(said)
}

fn width_of_terminal(terminal: bool) -> usize {
    if !terminal {
        return USUAL_WIDTH;
    }
    comfy_table::Table::new()
        .width()
        .map_or(USUAL_WIDTH, |width| usize::from(width).max(LEAST_WIDTH))
}

/// The first of `LC_ALL`, `LC_CTYPE` and `LANG` that is set decides, as POSIX says. Where none is,
/// UTF-8 is taken for granted except in the bare `C` locale, which sets `LANG=C`.
fn locale_is_utf8() -> bool {
    let said = ["LC_ALL", "LC_CTYPE", "LANG"]
        .iter()
        .filter_map(|name| std::env::var(name).ok())
        .find(|value| !value.is_empty());
    said.is_none_or(|value| {
        let value = value.to_ascii_lowercase();
        value.contains("utf-8") || value.contains("utf8")
    })
}

/// Standard output and standard error, or what stands in for them in a test.
pub struct Output<'a> {
    results: &'a mut dyn Write,
    messages: &'a mut dyn Write,
    quiet: bool,
    closed: bool,
    /// Whether someone watches the messages come.
    watched: bool,
    /// Columns of the progress line that stands there now.
    progress: usize,
    /// What results can look like.
    pub look: Look,
}

impl<'a> Output<'a> {
    /// Writes results to one place and messages to the other; no messages when `quiet`.
    pub fn new(
        results: &'a mut dyn Write,
        messages: &'a mut dyn Write,
        look: Look,
        quiet: bool,
    ) -> Self {
        Output {
            results,
            messages,
            quiet,
            closed: false,
            watched: false,
            progress: 0,
            look,
        }
    }

    /// The same, with progress shown where messages go to a terminal.
    #[must_use]
    pub fn watched(self, watched: bool) -> Self {
        Output { watched, ..self }
    }

    /// Shows what is being done, on one line that the next such line takes the place of and that is
    /// gone before anything else is printed. Nothing unless someone watches, nor when quiet.
    pub fn progress(&mut self, text: &str) {
        if self.quiet || !self.watched {
            return;
        }
        // The last column stays free: some terminals go on to a new line when it is filled.
        let text = cut(&printable(text), self.look.width.saturating_sub(1));
        let width = text.width();
        let rest = " ".repeat(self.progress.saturating_sub(width));
        let _ = write!(self.messages, "\r{text}{rest}");
        let _ = self.messages.flush();
        self.progress = width;
    }

    /// Takes the progress line away.
    pub fn clear_progress(&mut self) {
        if self.progress > 0 {
            let _ = write!(self.messages, "\r{}\r", " ".repeat(self.progress));
            let _ = self.messages.flush();
            self.progress = 0;
        }
    }

    /// Prints a result as it stands. When the reader has gone (a closed pipe), this and all that
    /// follows is dropped without a word: the exit status still tells the outcome.
    ///
    /// # Errors
    /// When standard output can't be written for another reason, such as a full disk.
    pub fn result(&mut self, text: &str) -> Result<(), Failure> {
        if self.closed {
            return Ok(());
        }
        self.clear_progress();
        let written = self
            .results
            .write_all(text.as_bytes())
            .and_then(|()| self.results.flush());
        match written {
            Err(error) if error.kind() == ErrorKind::BrokenPipe => {
                self.closed = true;
                Ok(())
            }
            Err(error) => Err(Failure::saying(format!(
                "can't write to standard output: {error}"
            ))),
            Ok(()) => Ok(()),
        }
    }

    /// Prints a message on a line of its own, unless quiet. A message that can't be delivered is
    /// dropped: there is nowhere left to say so.
    pub fn message(&mut self, text: &str) {
        if !self.quiet {
            self.clear_progress();
            let _ = writeln!(self.messages, "{text}");
        }
    }

    /// Prints why the command failed, quiet or not.
    pub fn failure(&mut self, failure: &Failure) {
        self.clear_progress();
        for message in &failure.messages {
            let _ = writeln!(self.messages, "{message}");
        }
    }
}

/// The text as far as it fits some columns.
fn cut(text: &str, columns: usize) -> String {
    let mut kept = String::new();
    for c in text.chars() {
        kept.push(c);
        if kept.width() > columns {
            kept.pop();
            break;
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    /// What is written to the messages, by someone who watches or not.
    fn messages(watched: bool, quiet: bool, width: usize) -> String {
        let look = Look {
            width,
            colour: false,
            ascii: false,
        };
        let (mut results, mut messages) = (Vec::new(), Vec::new());
        let mut out = Output::new(&mut results, &mut messages, look, quiet).watched(watched);
        out.progress("1 of 2: report.pdf");
        out.progress("2 of 2: costs");
        out.message("done");
        String::from_utf8(messages).unwrap()
    }

    /// What stands on a terminal's lines after that.
    fn seen(text: &str) -> Vec<String> {
        let line = |line: &str| {
            let mut cells: Vec<char> = Vec::new();
            for part in line.split('\r') {
                for (at, c) in part.chars().enumerate() {
                    match cells.get_mut(at) {
                        Some(cell) => *cell = c,
                        None => cells.push(c),
                    }
                }
            }
            cells.iter().collect::<String>().trim_end().to_owned()
        };
        text.lines().map(line).collect()
    }

    #[test]
    fn progress_is_one_line_that_goes_before_a_message_comes() {
        let all = messages(true, false, 80);
        assert!(
            all.starts_with("\r1 of 2: report.pdf\r2 of 2: costs     \r"),
            "{all:?}"
        );
        assert_eq!(seen(&all), ["done"]);
    }

    #[test]
    fn nobody_who_does_not_watch_is_shown_progress() {
        assert_eq!(messages(false, false, 80), "done\n");
        assert_eq!(messages(true, true, 80), "");
    }

    #[test]
    fn progress_never_takes_a_second_line() {
        let all = messages(true, false, 10);
        let mut parts = all.split(['\r', '\n']);
        assert!(parts.clone().any(|part| part == "1 of 2: r"));
        assert!(parts.all(|part| part.width() < 10));
    }
}
