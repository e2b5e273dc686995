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
    /// Characters before each [`STRIDE`] of bytes, so that none need be counted twice: a file may
    /// be one huge line.
    counted: Vec<usize>,
    /// Another text whose bytes are counted on after this one's.
    after: Option<Arc<Source>>,
}

/// Bytes from one count of characters to the next.
const STRIDE: usize = 256;

/// Characters that begin in these bytes.
fn characters(bytes: &[u8]) -> usize {
    bytes.iter().filter(|byte| **byte & 0xC0 != 0x80).count()
}

impl Source {
    /// A text read from `name`: a path as the user wrote it, or `<standard input>`.
    #[must_use]
    pub fn new(name: &str, text: String) -> Self {
        let after_breaks = text.match_indices('\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(after_breaks).collect();
        let mut counted = vec![0];
        let mut so_far = 0;
        for chunk in text.as_bytes().chunks(STRIDE) {
            so_far += characters(chunk);
            counted.push(so_far);
        }
        Source {
            name: name.into(),
            text,
            line_starts,
            counted,
            after: None,
        }
    }

    /// This text with the bytes of another counted on from [`Source::end`]: spans past it speak of
    /// the other.
    #[must_use]
    pub fn followed_by(&self, other: &Arc<Source>) -> Source {
        Source {
            after: Some(Arc::clone(other)),
            ..Source::new(&self.name, self.text.clone())
        }
    }

    /// Where the bytes of a text that follows begin.
    #[must_use]
    pub fn end(&self) -> usize {
        self.text.len() + 1
    }

    /// The text that a span speaks of, this or the one that follows, with the span in it.
    #[must_use]
    pub fn whose(self: &Arc<Self>, span: Range<usize>) -> (Arc<Source>, Range<usize>) {
        match &self.after {
            Some(other) if span.start >= self.end() => (
                Arc::clone(other),
                span.start - self.end()..span.end.max(span.start) - self.end(),
            ),
            _ => (Arc::clone(self), span),
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
        if let Some(other) = self.after.as_ref().filter(|_| at >= self.end()) {
            return other.place(at - self.end());
        }
        let (line, start) = self.line_at(at);
        Place {
            file: Arc::clone(&self.name),
            line,
            column: self.characters_before(at) - self.characters_before(start) + 1,
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

    /// The byte offset of a line and a column, both from 1 as in a [`Place`]; past the end, the end.
    #[must_use]
    pub fn offset(&self, line: usize, column: usize) -> usize {
        match line.checked_sub(1).and_then(|at| self.line_starts.get(at)) {
            Some(start) => self.byte_of(self.characters_before(*start) + column.saturating_sub(1)),
            None => self.text.len(),
        }
    }

    /// The byte offset of a character, counted from 0; past the end, the end.
    #[must_use]
    pub fn byte_of(&self, character: usize) -> usize {
        let stride = self.counted.partition_point(|count| *count <= character);
        let stride = stride.saturating_sub(1);
        let mut left = character - self.counted.get(stride).copied().unwrap_or(character);
        let from = (stride * STRIDE).min(self.text.len());
        let bytes = self.text.as_bytes().get(from..).unwrap_or_default();
        for (at, byte) in bytes.iter().enumerate() {
            if byte & 0xC0 != 0x80 {
                if left == 0 {
                    return from + at;
                }
                left -= 1;
            }
        }
        self.text.len()
    }

    /// Characters before a byte offset.
    fn characters_before(&self, at: usize) -> usize {
        let at = at.min(self.text.len());
        let stride = at / STRIDE;
        let before = self.counted.get(stride).copied().unwrap_or_default();
        let rest = self.text.as_bytes().get(stride * STRIDE..at);
        before + rest.map_or(0, characters)
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
        assert_eq!(source.offset(2, 5), at);
        assert_eq!(source.line(at), (2, 5, "µ²: 1.5 mm²"));
    }

    #[test]
    fn ok_a_span_past_the_end_speaks_of_the_text_that_follows() {
        let project = Arc::new(Source::new("job.yaml", "x\ny: 2\n".to_owned()));
        let catalogue = Source::new("trade.yaml", "a: 1\n".to_owned());
        let both = Arc::new(catalogue.followed_by(&project));
        let at = both.end() + 5;
        assert_eq!(both.place(at).to_string(), "job.yaml:2:4");
        let (whose, span) = both.whose(at..at + 1);
        assert_eq!(whose.text().get(span), Some("2"));
        assert_eq!(both.place(3).to_string(), "trade.yaml:1:4");
        assert_eq!(both.whose(3..4).0.name(), "trade.yaml");
    }

    #[test]
    fn ok_past_the_end_is_the_end() {
        let source = Source::new("a.yaml", "ab".to_owned());
        assert_eq!(source.place(99).to_string(), "a.yaml:1:3");
        assert_eq!(source.clip(1..99), 1..2);
        assert_eq!(source.byte_of(99), 2);
    }

    #[test]
    fn ok_bytes_and_characters_agree_all_along_a_long_line() {
        let text = "aµ²€😀".repeat(1000);
        let source = Source::new("a.yaml", text.clone());
        for (character, (byte, _)) in text.char_indices().enumerate() {
            assert_eq!(source.byte_of(character), byte);
            assert_eq!(source.place(byte).column, character + 1);
        }
        assert_eq!(source.byte_of(5000), text.len());
    }
}
