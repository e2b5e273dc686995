//! Materials, packs, price ladders, labour, totals.
//!
//! Knows nothing of documents.

pub mod money;
pub mod priced;
