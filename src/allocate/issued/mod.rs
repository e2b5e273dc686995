//! What was issued and what the answer is now: the answer as a record, and every difference
//! between two records.

mod changes;
mod fact;
mod snapshot;

pub use changes::{Change, Changes, How, between};
pub use fact::Kind;
pub use snapshot::snapshot;
