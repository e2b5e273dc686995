//! YAML text → a tree with places, in one guarded pass over the parser's events.
//!
//! Refused here, each at its place: nesting past [`DEPTH`], more than [`NODES`] values (aliases
//! counted as often as they are used), a key twice, a key that is not plain text, a second
//! document, and tags. A merge (`<<: *anchor`) fills in the keys that its mapping lacks.

use super::entries;
use super::node::{Content, Entry, Node};
use crate::diagnostic::{Diagnostic, Diagnostics, Source};
use saphyr_parser::{Event, Marker, Parser, ScalarStyle, ScanError, Span};
use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

/// Deepest nesting.
pub const DEPTH: usize = 64;
/// Most values in a file.
pub const NODES: usize = 250_000;

/// Reads the one document of a text.
///
/// # Errors
/// When the text is empty, is not YAML, or is refused for one of the reasons above: all that
/// could be found before reading had to stop.
pub fn read(source: &Arc<Source>) -> Result<Arc<Node>, Diagnostics> {
    let mut builder = Builder::new(source);
    let mut parser = Parser::new_from_str(source.text());
    while let Some(event) = parser.next_event() {
        let read = event.map_err(|error| builder.not_yaml(&error));
        let step = read.and_then(|(event, span)| builder.take(&event, span));
        if let Err(stop) = step {
            builder.complaints.push(stop);
            return Err(builder.complaints);
        }
    }
    builder.finish()
}

/// A list or mapping that is not closed yet.
struct Open {
    start: usize,
    anchor: usize,
    inside: Inside,
}

enum Inside {
    List(Vec<Arc<Node>>),
    Mapping {
        entries: Vec<Entry>,
        key: Option<(String, Range<usize>)>,
    },
}

struct Builder<'a> {
    source: &'a Arc<Source>,
    complaints: Diagnostics,
    open: Vec<Open>,
    anchors: BTreeMap<usize, Arc<Node>>,
    root: Option<Arc<Node>>,
    documents: usize,
    /// Values so far, those that aliases and merges repeat counted each time.
    weight: usize,
}

impl<'a> Builder<'a> {
    fn new(source: &'a Arc<Source>) -> Self {
        Builder {
            source,
            complaints: Diagnostics::default(),
            open: Vec::new(),
            anchors: BTreeMap::new(),
            root: None,
            documents: 0,
            weight: 0,
        }
    }

    fn fault(
        &self,
        code: &'static str,
        message: impl Into<String>,
        at: Range<usize>,
    ) -> Diagnostic {
        Diagnostic::error(code, message).at(self.source, at)
    }

    fn not_yaml(&self, error: &ScanError) -> Diagnostic {
        let at = self.byte(*error.marker());
        // The parser has a limit of its own on flow nesting, which it meets by looking ahead.
        if error.info().contains("recursion limit") {
            let message = format!("nested more than {DEPTH} deep");
            return self.fault("too-deep", message, at..at + 1);
        }
        self.fault(
            "not-yaml",
            format!("this is not YAML: {}", error.info()),
            at..at + 1,
        )
    }

    /// The byte offset of a marker, which counts characters.
    fn byte(&self, marker: Marker) -> usize {
        self.source.byte_of(marker.index())
    }

    fn span(&self, span: Span) -> Range<usize> {
        let start = self.byte(span.start);
        let end = self.byte(span.end).max(start);
        let written = self.source.text().get(start..end).unwrap_or_default();
        start..start + written.trim_end().len()
    }

    fn take(&mut self, event: &Event<'_>, span: Span) -> Result<(), Diagnostic> {
        let span = self.span(span);
        match event {
            Event::DocumentStart(_) => self.begin_document(span),
            Event::Alias(anchor) => self.alias(*anchor, span),
            Event::Scalar(text, style, anchor, tag) => {
                self.refuse_tag(tag.is_some(), &span)?;
                self.scalar(text, *style == ScalarStyle::Plain, *anchor, span)
            }
            Event::SequenceStart(anchor, tag) => {
                self.refuse_tag(tag.is_some(), &span)?;
                self.begin(Inside::List(Vec::new()), *anchor, span)
            }
            Event::MappingStart(anchor, tag) => {
                self.refuse_tag(tag.is_some(), &span)?;
                let inside = Inside::Mapping {
                    entries: Vec::new(),
                    key: None,
                };
                self.begin(inside, *anchor, span)
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(),
            _ => Ok(()),
        }
    }

    fn begin_document(&mut self, span: Range<usize>) -> Result<(), Diagnostic> {
        self.documents += 1;
        if self.documents < 2 {
            return Ok(());
        }
        let fault = self.fault("second-document", "a second document begins here", span);
        Err(fault.help("a file holds one document: keep what follows in a file of its own"))
    }

    fn refuse_tag(&self, tagged: bool, span: &Range<usize>) -> Result<(), Diagnostic> {
        if tagged {
            let fault = self.fault("tag", "a tag (`!…`) means nothing here", span.clone());
            return Err(fault.help("leave the tag out"));
        }
        Ok(())
    }

    fn alias(&mut self, anchor: usize, span: Range<usize>) -> Result<(), Diagnostic> {
        if self.awaits_key() {
            return Err(self.not_plain_key(span));
        }
        match self.anchors.get(&anchor).cloned() {
            Some(node) => {
                self.weight += node.weight - 1;
                self.place(node, &span)
            }
            None => Err(self.fault("alias", "an alias stands inside what it names", span)),
        }
    }

    fn scalar(
        &mut self,
        text: &str,
        plain: bool,
        anchor: usize,
        span: Range<usize>,
    ) -> Result<(), Diagnostic> {
        if let Some(Open {
            inside: Inside::Mapping {
                key: key @ None, ..
            },
            ..
        }) = self.open.last_mut()
        {
            *key = Some((text.to_owned(), span));
            return Ok(());
        }
        let content = Content::Scalar {
            text: text.to_owned(),
            plain,
        };
        let node = Arc::new(Node {
            span: span.clone(),
            content,
            weight: 1,
        });
        self.anchor(anchor, &node);
        self.place(node, &span)
    }

    fn awaits_key(&self) -> bool {
        let last = self.open.last().map(|open| &open.inside);
        matches!(last, Some(Inside::Mapping { key: None, .. }))
    }

    fn not_plain_key(&self, span: Range<usize>) -> Diagnostic {
        self.fault("complex-key", "a key must be plain text", span)
    }

    fn begin(
        &mut self,
        inside: Inside,
        anchor: usize,
        span: Range<usize>,
    ) -> Result<(), Diagnostic> {
        if self.awaits_key() {
            return Err(self.not_plain_key(span));
        }
        if self.open.len() >= DEPTH {
            let message = format!("nested more than {DEPTH} deep");
            return Err(self.fault("too-deep", message, span));
        }
        self.open.push(Open {
            start: span.start,
            anchor,
            inside,
        });
        Ok(())
    }

    fn end(&mut self) -> Result<(), Diagnostic> {
        let Some(open) = self.open.pop() else {
            return Ok(());
        };
        let (content, span) = match open.inside {
            Inside::List(items) => (Content::List(items), open.start..open.start + 1),
            Inside::Mapping { entries, .. } => {
                let first = entries.first().map(|entry| entry.key_span.clone());
                let before = weight(&entries);
                let entries = entries::closed(entries, self.source, &mut self.complaints);
                self.weight += weight(&entries).saturating_sub(before);
                let span = first.unwrap_or(open.start..open.start + 1);
                (Content::Mapping(entries), span)
            }
        };
        let weight = match &content {
            Content::List(items) => items.iter().map(|node| node.weight).sum(),
            Content::Mapping(entries) => weight(entries),
            Content::Scalar { .. } => 0,
        };
        let node = Arc::new(Node {
            span: span.clone(),
            content,
            weight: weight + 1,
        });
        self.anchor(open.anchor, &node);
        self.place(node, &span)
    }

    fn anchor(&mut self, anchor: usize, node: &Arc<Node>) {
        if anchor > 0 {
            self.anchors.insert(anchor, Arc::clone(node));
        }
    }

    /// Puts a finished node where it belongs.
    fn place(&mut self, node: Arc<Node>, span: &Range<usize>) -> Result<(), Diagnostic> {
        self.weight += 1;
        if self.weight > NODES {
            let message = format!("more than {NODES} values, aliases counted where they are used");
            return Err(self.fault("too-large", message, span.clone()));
        }
        match self.open.last_mut().map(|open| &mut open.inside) {
            None => self.root = Some(node),
            Some(Inside::List(items)) => items.push(node),
            Some(Inside::Mapping { entries, key }) => {
                let (key, key_span) = key.take().unwrap_or_default();
                entries.push(Entry {
                    key,
                    key_span,
                    value: node,
                });
            }
        }
        Ok(())
    }

    fn finish(mut self) -> Result<Arc<Node>, Diagnostics> {
        let root = self.root.filter(|root| !root.is_nothing());
        match root {
            Some(root) if self.complaints.is_empty() => Ok(root),
            Some(_) => Err(self.complaints),
            None => {
                let message = format!("{} is empty", self.source.name());
                self.complaints.push(Diagnostic::error("empty", message));
                Err(self.complaints)
            }
        }
    }
}

/// The weight of a mapping's values.
fn weight(entries: &[Entry]) -> usize {
    entries.iter().map(|entry| entry.value.weight).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn source(text: &str) -> Arc<Source> {
        Arc::new(Source::new("a.yaml", text.to_owned()))
    }

    fn fault(text: &str) -> (String, String) {
        let found = read(&source(text)).expect_err(text);
        let all = found.in_order();
        let first = all.first().expect("one");
        let place = first
            .place()
            .map_or(String::new(), |place| place.to_string());
        (first.code.to_owned(), place)
    }

    #[test]
    fn ok_every_value_knows_the_bytes_it_was_written_in() {
        let source = source("µ: [a, 'b c']   # note\nkey: 1.5 mm²   # note\n");
        let root = read(&source).expect("yaml");
        let written =
            |span: &Range<usize>| source.text().get(span.clone()).expect("inside").to_owned();
        let value = root.entry("key").expect("key");
        assert_eq!(written(&value.key_span), "key");
        assert_eq!(written(&value.value.span), "1.5 mm²");
        let Content::List(items) = &root.entry("µ").expect("list").value.content else {
            panic!("a list");
        };
        let texts: Vec<_> = items.iter().map(|item| written(&item.span)).collect();
        assert_eq!(texts, ["a", "'b c'"]);
    }

    #[test]
    fn ok_a_merge_fills_in_what_is_lacking() {
        let root = read(&source("a: &a {x: 1, y: 2}\nb: {<<: *a, x: 3}\n")).expect("yaml");
        let b = &root.entry("b").expect("b").value;
        let texts: Vec<_> = ["x", "y"]
            .iter()
            .map(|key| format!("{:?}", b.entry(key).expect("merged").value.content))
            .collect();
        assert!(
            texts
                .iter()
                .zip(["3", "2"])
                .all(|(text, value)| text.contains(value))
        );
    }

    #[test]
    fn err_each_refusal_at_its_place() {
        let cases = [
            ("a: 1\nb: 2\na: 3\n", "duplicate-key", "a.yaml:3:1"),
            ("{a: 1}: 2\n", "complex-key", "a.yaml:1:1"),
            ("a: 1\n---\nb: 2\n", "second-document", "a.yaml:2:1"),
            ("a: !x 1\n", "tag", "a.yaml:1:4"),
            ("a:\n\t- b\n", "not-yaml", "a.yaml:2:2"),
            ("", "empty", ""),
            ("# nothing\n", "empty", ""),
        ];
        for (text, code, place) in cases {
            assert_eq!(fault(text), (code.to_owned(), place.to_owned()), "{text:?}");
        }
    }

    #[test]
    fn err_alias_bombs_and_nesting_stop_at_once() {
        let mut bomb = "a0: &a0 [x, x, x, x, x, x, x, x, x]\n".to_owned();
        for level in 1..9 {
            let uses = vec![format!("*a{}", level - 1); 9].join(", ");
            bomb += &format!("a{level}: &a{level} [{uses}]\n");
        }
        assert_eq!(fault(&bomb).0, "too-large");
        assert_eq!(fault(&"[".repeat(100_000)).0, "too-deep");
    }
}
