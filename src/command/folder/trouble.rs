//! What can go wrong with a file.

use std::io::Error;
use std::path::PathBuf;

/// Where something went wrong, and what.
pub(super) type Trouble = (PathBuf, Error);
