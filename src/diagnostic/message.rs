//! One message as data, and all messages of one reading.

use super::{Place, Source, render};
use std::ops::Range;
use std::sync::Arc;

/// How bad a message is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Gravity {
    /// The input can't be used.
    Error,
    /// The input is used; the reader should look.
    Warning,
}

/// A message: what is wrong, where, and what would be right. Text is in lower case without a full
/// stop, and names what was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// A short name of the kind of fault, stable between versions: `unknown-key`.
    pub code: &'static str,
    /// How bad it is.
    pub gravity: Gravity,
    /// What is wrong.
    pub message: String,
    /// The text it is about, and the bytes of it that are marked.
    pub at: Option<(Arc<Source>, Range<usize>)>,
    /// What stands at the mark.
    pub label: Option<String>,
    /// What would be right, a line each.
    pub help: Vec<String>,
}

impl Diagnostic {
    /// An error without a place yet.
    #[must_use]
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Diagnostic {
            code,
            gravity: Gravity::Error,
            message: message.into(),
            at: None,
            label: None,
            help: Vec::new(),
        }
    }

    /// A warning without a place yet.
    #[must_use]
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Diagnostic {
            gravity: Gravity::Warning,
            ..Diagnostic::error(code, message)
        }
    }

    /// This message, marking `span` of `source`.
    #[must_use]
    pub fn at(mut self, source: &Arc<Source>, span: Range<usize>) -> Self {
        let (source, span) = source.whose(span);
        let span = source.clip(span);
        self.at = Some((source, span));
        self
    }

    /// This message with text at its mark.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = Some(label.into());
        self
    }

    /// This message with one more line of what would be right.
    #[must_use]
    pub fn help(mut self, line: impl Into<String>) -> Self {
        self.help.push(line.into());
        self
    }

    /// Where it points.
    #[must_use]
    pub fn place(&self) -> Option<Place> {
        let (source, span) = self.at.as_ref()?;
        Some(source.place(span.start))
    }
}

impl std::fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&render::plain(self))
    }
}

/// Most messages shown at once.
const SHOWN: usize = 200;

/// All messages of one reading.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Diagnostics {
    list: Vec<Diagnostic>,
}

impl Diagnostics {
    /// Adds a message.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.list.push(diagnostic);
    }

    /// Adds all messages of another reading.
    pub fn append(&mut self, other: Diagnostics) {
        self.list.extend(other.list);
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether any of them says that the input can't be used.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.errors() > 0
    }

    /// How many of them say that the input can't be used.
    #[must_use]
    pub fn errors(&self) -> usize {
        let errors = self.list.iter().filter(|one| one.gravity == Gravity::Error);
        errors.count()
    }

    /// The messages: without a place first, then file by file in the order in which the files
    /// were first spoken of, down each file.
    #[must_use]
    pub fn in_order(&self) -> Vec<&Diagnostic> {
        let mut files: Vec<&str> = Vec::new();
        let mut keyed = Vec::with_capacity(self.list.len());
        for one in &self.list {
            let key = one.at.as_ref().map(|(source, span)| {
                let known = files.iter().position(|name| *name == source.name());
                let file = known.unwrap_or_else(|| {
                    files.push(source.name());
                    files.len() - 1
                });
                (file, span.start)
            });
            keyed.push((key, one));
        }
        keyed.sort_by_key(|(key, _)| *key);
        keyed.into_iter().map(|(_, one)| one).collect()
    }

    /// Each as text, in order: with colour for a terminal, or plain. Past the first
    /// 200, only how many there are.
    #[must_use]
    pub fn texts(&self, colour: bool) -> Vec<String> {
        let text = if colour {
            render::styled
        } else {
            render::plain
        };
        let shown = self.in_order().into_iter().take(SHOWN);
        let mut texts: Vec<_> = shown.map(text).collect();
        if self.list.len() > SHOWN {
            texts.push(format!("and {} more", self.list.len() - SHOWN));
        }
        texts
    }

    /// Writes them to standard error: with colour when it is a terminal and `NO_COLOR` is unset.
    pub fn print(&self) {
        for text in self.texts(true) {
            anstream::eprintln!("{text}\n");
        }
    }
}

impl From<Diagnostic> for Diagnostics {
    fn from(one: Diagnostic) -> Self {
        Diagnostics { list: vec![one] }
    }
}

/// Every message as plain text, an empty line between them.
impl std::fmt::Display for Diagnostics {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.texts(false).join("\n\n"))
    }
}

impl std::error::Error for Diagnostics {}
