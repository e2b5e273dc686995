//! Where one file is read: its text, and the complaints so far.

use super::written::{Reads, Span, Unread, Written};
use crate::diagnostic::{Diagnostic, Diagnostics, Place, Source};
use std::ops::Range;
use std::sync::Arc;

/// One file being read.
#[derive(Debug)]
pub struct Desk {
    /// Its text.
    pub source: Arc<Source>,
    /// What was found wrong with it.
    pub complaints: Diagnostics,
}

impl Desk {
    /// A desk for a text.
    #[must_use]
    pub fn new(source: Arc<Source>) -> Self {
        Desk {
            source,
            complaints: Diagnostics::default(),
        }
    }

    /// The place of a span's beginning.
    #[must_use]
    pub fn place(&self, span: Span) -> Place {
        self.source.place(span.range().start)
    }

    /// Adds a complaint about a span.
    pub fn complain(&mut self, code: &'static str, message: impl Into<String>, span: Span) {
        let complaint = self.fault(code, message, span);
        self.complaints.push(complaint);
    }

    /// A complaint about a span, to be added when it is complete.
    #[must_use]
    pub fn fault(&self, code: &'static str, message: impl Into<String>, span: Span) -> Diagnostic {
        Diagnostic::error(code, message).at(&self.source, span.range())
    }

    /// Reads a key's value. `None` when the key is absent, or when its value can't be read: then
    /// there is a complaint.
    pub fn read<K: Reads>(&mut self, field: &Option<Written<K>>) -> Option<K::Value> {
        self.one(field.as_ref()?)
    }

    /// Reads a plain value. `None` when it can't be read: then there is a complaint.
    pub fn one<K: Reads>(&mut self, written: &Written<K>) -> Option<K::Value> {
        self.taken(K::read(&written.text), written)
    }

    /// A plain value as it was read by what surrounds it. `None` when it can't be: then there is a
    /// complaint.
    pub fn taken<T, K>(&mut self, read: Result<T, Unread>, written: &Written<K>) -> Option<T> {
        let unread = match read {
            Ok(value) => return Some(value),
            Err(unread) => unread,
        };
        let whole = written.at.range();
        let at = unread
            .at
            .and_then(|part| self.part(written, part))
            .unwrap_or(whole);
        let complaint = Diagnostic::error(unread.code, unread.message).at(&self.source, at);
        self.complaints.push(complaint);
        None
    }

    /// Where in the file a part of a value's text stands; `None` when quotes or line breaks keep
    /// the two apart.
    fn part<K>(&self, written: &Written<K>, part: Range<usize>) -> Option<Range<usize>> {
        let whole = written.at.range();
        let (source, inside) = self.source.whose(whole.clone());
        let in_file = source.text().get(inside)?;
        let offset = in_file.find(&written.text).filter(|at| *at <= 1)?;
        let start = whole.start + offset;
        (!part.is_empty()).then(|| start + part.start..start + part.end)
    }
}
