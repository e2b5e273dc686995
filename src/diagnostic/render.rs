//! A message as text: the file's line with a mark under what is at fault.
//!
//! Only the one line is handed to the renderer, cut to a window round the mark, so that a file of
//! one huge line is shown as fast as any other.

use super::{Diagnostic, Gravity, Source, visible};
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::ops::Range;

/// Characters of a line shown on each side of the mark's ends, at most.
const WINDOW: usize = 100;

/// The message without colour.
pub fn plain(diagnostic: &Diagnostic) -> String {
    text(diagnostic, &Renderer::plain())
}

/// The message with colour for a terminal.
pub fn styled(diagnostic: &Diagnostic) -> String {
    text(diagnostic, &Renderer::styled())
}

fn text(diagnostic: &Diagnostic, renderer: &Renderer) -> String {
    let level = match diagnostic.gravity {
        Gravity::Error => Level::ERROR,
        Gravity::Warning => Level::WARNING,
    };
    let mut group = level
        .primary_title(told(&diagnostic.message))
        .id(diagnostic.code)
        .elements(Vec::<annotate_snippets::Message<'_>>::new());
    if let Some((source, span)) = &diagnostic.at {
        let shown = Shown::of(source, span);
        let label = diagnostic.label.as_deref().map(told);
        let mark = AnnotationKind::Primary.span(shown.mark).label(label);
        let snippet = Snippet::source(shown.line)
            .line_start(shown.number)
            .path(visible(source.name()))
            .annotation(mark);
        group = group.element(snippet);
    }
    let help = diagnostic.help.iter();
    let group = group.elements(help.map(|line| Level::HELP.message(told(line))));
    renderer.render(&[group])
}

/// What is told, visible, with the middle left out when a file's own text makes it endless.
fn told(text: &str) -> String {
    let cut = text
        .char_indices()
        .nth(5 * WINDOW)
        .map(|_| format!("{} … {}", first(text), last(text)));
    visible(cut.as_deref().unwrap_or(text))
}

/// The line shown, and the mark in it.
struct Shown {
    number: usize,
    line: String,
    mark: Range<usize>,
}

impl Shown {
    fn of(source: &Source, span: &Range<usize>) -> Shown {
        let (number, start, line) = source.line(span.start);
        let from = span.start.saturating_sub(start).min(line.len());
        let to = span.end.saturating_sub(start).clamp(from, line.len());
        let (before, rest) = line.split_at_checked(from).unwrap_or((line, ""));
        let (marked, after) = rest.split_at_checked(to - from).unwrap_or((rest, ""));
        // Nothing is cut off at the front of an ordinary line: the column told stays true.
        let before = if before.len() > 2 * WINDOW {
            last(before)
        } else {
            before
        };
        let before = visible(before);
        let marked = visible(first(marked));
        let mark = before.len()..before.len() + marked.len();
        let line = before + &marked + &visible(first(after));
        Shown { number, line, mark }
    }
}

/// The first characters of a text.
fn first(text: &str) -> &str {
    let end = text
        .char_indices()
        .nth(WINDOW)
        .map_or(text.len(), |(at, _)| at);
    text.get(..end).unwrap_or_default()
}

/// The last characters of a text.
fn last(text: &str) -> &str {
    let start = text
        .char_indices()
        .rev()
        .nth(WINDOW)
        .map_or(0, |(at, _)| at);
    text.get(start..).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::super::Diagnostics;
    use super::*;
    use std::sync::Arc;

    fn sample() -> Arc<Source> {
        Arc::new(Source::new(
            "job.yaml",
            "runs:\n  - run: µ\u{1b}[2Jx\n".to_owned(),
        ))
    }

    #[test]
    fn ok_line_and_mark_with_nothing_a_terminal_acts_on() {
        let source = sample();
        let at = source.text().find('µ').expect("there");
        let shown = Diagnostic::error("unknown-id", "no \u{1b}such")
            .at(&source, at..at + 7)
            .label("here\u{7}")
            .help("try `a`")
            .to_string();
        let expected = "error[unknown-id]: no ␛such\n --> job.yaml:2:10\n  |\n2 |   - run: µ␛[2Jx\n  |          ^^^^^^ here␇\n  |\n  = help: try `a`";
        assert_eq!(shown, expected);
    }

    #[test]
    fn ok_a_huge_line_is_cut_to_a_window() {
        let text = format!("{}X{}", "a".repeat(1_000_000), "b".repeat(1_000_000));
        let source = Arc::new(Source::new("one-line.yaml", text));
        let shown = Diagnostic::error("x", "here")
            .at(&source, 1_000_000..1_000_001)
            .to_string();
        assert!(shown.len() < 1000, "{} bytes", shown.len());
    }

    #[test]
    fn ok_messages_go_down_the_file() {
        let source = sample();
        let mut all = Diagnostics::default();
        all.push(Diagnostic::error("b", "second").at(&source, 8..9));
        all.push(Diagnostic::error("a", "first").at(&source, 0..1));
        all.push(Diagnostic::warning("c", "no place"));
        let order: Vec<_> = all.in_order().iter().map(|one| one.code).collect();
        assert_eq!(order, ["c", "a", "b"]);
        assert_eq!(all.errors(), 2);
    }
}
