//! Materials, packs, price ladders, labour, totals.
//!
//! Knows nothing of documents.

pub mod priced;
