//! A text that was read, and how places in it are told.

use super::Place;
use std::ops::Range;
use std::sync::Arc;

/// A text with its name. Spans in it are byte ranges.
#[derive(Debug, PartialEq, Eq)]
pub struct Source {
    name: Arc<str>,
    text: String,
    /// Byte offsets at which lines begin; the first is 0.
    line_starts: Vec<usize>,
}

impl Source {
    /// A text read from `name`: a path as the user wrote it, or `<standard input>`.
    #[must_use]
    pub fn new(name: &str, text: String) -> Self {
        let after_breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(after_breaks).collect();
        Source {
            name: name.into(),
            text,
            line_starts,
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The whole text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The place of a byte offset; past the end, that of the end.
    #[must_use]
    pub fn place(&self, at: usize) -> Place {
        let (line, start) = self.line_at(at);
        let before = self.text.get(start..at.min(self.text.len()));
        Place {
            file: Arc::clone(&self.name),
            line,
            column: before.map_or(1, |text| text.chars().count() + 1),
        }
    }

    /// The line in which `at` falls: its number from 1, where it begins, and its text.
    #[must_use]
    pub fn line(&self, at: usize) -> (usize, usize, &str) {
        let (line, start) = self.line_at(at);
        let end = self
            .line_starts
            .get(line)
            .copied()
            .unwrap_or(self.text.len());
        let text = self.text.get(start..end).unwrap_or_default();
        (line, start, text.trim_end_matches(['\n', '\r']))
    }

    /// The byte offset of a line (from 1) and a column in characters (from 0).
    #[must_use]
    pub fn offset(&self, line: usize, column: usize) -> usize {
        let Some(start) = line.checked_sub(1).and_then(|i| self.line_starts.get(i)) else {
            return self.text.len();
        };
        let rest = self.text.get(*start..).unwrap_or_default();
        let within = rest
            .char_indices()
            .nth(column)
            .map_or(rest.len(), |(at, _)| at);
        start + within
    }

    /// `span` with its ends inside the text and on characters' edges.
    #[must_use]
    pub fn clip(&self, span: Range<usize>) -> Range<usize> {
        let start = self.text.floor_char_boundary(span.start);
        start..self.text.ceil_char_boundary(span.end).max(start)
    }

    fn line_at(&self, at: usize) -> (usize, usize) {
        let line = self
            .line_starts
            .partition_point(|start| *start <= at)
            .max(1);
        let start = self.line_starts.get(line - 1).copied().unwrap_or_default();
        (line, start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_columns_count_characters_not_bytes() {
        let source = Source::new("a.yaml", "a: 1\nµ²: 1.5 mm²\n".to_owned());
        let at = source.text().find("1.5").expect("there");
        assert_eq!(source.place(at).to_string(), "a.yaml:2:5");
        assert_eq!(source.offset(2, 4), at);
        assert_eq!(source.line(at), (2, 5, "µ²: 1.5 mm²"));
    }

    #[test]
    fn ok_past_the_end_is_the_end() {
        let source = Source::new("a.yaml", "ab".to_owned());
        assert_eq!(source.place(99).to_string(), "a.yaml:1:3");
        assert_eq!(source.clip(1..99), 1..2);
        assert_eq!(source.offset(7, 0), 2);
    }
}
