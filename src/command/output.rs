//! Where a command's results and messages go, and what the place they go to can show.

use super::Failure;
use crate::present::terminal::Look;
use std::io::{self, ErrorKind, IsTerminal, Write};

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
            look,
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
            let _ = writeln!(self.messages, "{text}");
        }
    }

    /// Prints why the command failed, quiet or not.
    pub fn failure(&mut self, failure: &Failure) {
        for message in &failure.messages {
            let _ = writeln!(self.messages, "{message}");
        }
    }
}
