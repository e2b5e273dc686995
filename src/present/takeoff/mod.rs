//! What a take-off was read as: the runs for a project file, and the tables that say what became
//! of every row.

mod summary;
mod yaml;

pub use summary::document;
pub use yaml::{Starting, project, runs};
