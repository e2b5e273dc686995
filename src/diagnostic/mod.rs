//! A message about a file: where, what is wrong, what would be right; and how it is shown.
//!
//! Knows nothing of what is being checked. [`Diagnostic`] is one message, [`Diagnostics`] all of
//! one reading, [`Source`] the text they point into.

mod message;
pub mod render;
mod source;
mod visible;

pub use message::{Diagnostic, Diagnostics, Gravity};
pub use source::Source;
pub use visible::visible;

use std::sync::Arc;

/// Where in a file something stands. Lines and columns count from 1, columns in characters.
#[derive(Debug, Clone, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// The file's path as the user wrote it, or `<standard input>`.
    pub file: Arc<str>,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
}

impl std::fmt::Display for Place {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}:{}:{}", self.file, self.line, self.column)
    }
}
