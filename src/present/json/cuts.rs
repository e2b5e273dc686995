//! Reels and bars of a quotation with what is cut from them.

use super::{Number, money, number};
use crate::present::measured::millimetres;
use crate::price::priced;
use schemars::JsonSchema;
use serde::Serialize;

/// A reel or bar with what is cut from it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Cut {
    /// Number, from 1, by item.
    pub number: usize,
    /// `strip` or `profile`.
    pub kind: String,
    /// Catalogue id.
    pub item: String,
    /// Length of the reel or bar.
    pub stock_mm: Number,
    /// Pieces, in the order of cutting.
    pub pieces: Vec<Piece>,
    /// Distance of the cut marks of strip.
    pub mark_mm: Option<f64>,
    /// What is left.
    pub offcut_mm: Number,
    /// Whether that is kept; `null` when the project does not say from which length.
    pub offcut_kept: Option<bool>,
}

/// A piece cut from a reel or bar.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Piece {
    /// Run it is for.
    pub run: String,
    /// Section, from 1.
    pub section: usize,
    /// Length.
    pub length_mm: Number,
    /// Which part of its section, or of its run's profile, it is, from 1.
    pub part: usize,
    /// How many parts that is made of.
    pub parts: usize,
    /// Where it begins on the reel or bar.
    pub from_mm: Number,
    /// Where it ends.
    pub to_mm: Number,
    /// Where it begins in its run, from the run's start.
    pub at_mm: Number,
}

impl Cut {
    pub(super) fn of(stock: &priced::CutStock) -> Cut {
        let pieces = stock.pieces.iter().map(|piece| Piece {
            run: piece.run.clone(),
            section: piece.section,
            part: piece.part,
            parts: piece.parts,
            length_mm: number(millimetres(piece.length)),
            from_mm: number(millimetres(piece.from)),
            to_mm: number(millimetres(piece.to)),
            at_mm: number(millimetres(piece.at)),
        });
        Cut {
            number: stock.number,
            kind: stock.kind.name().to_owned(),
            item: stock.item.clone(),
            stock_mm: number(millimetres(stock.stock)),
            pieces: pieces.collect(),
            mark_mm: stock.mark.and_then(|mark| number(millimetres(mark))),
            offcut_mm: number(millimetres(stock.offcut)),
            offcut_kept: stock.kept,
        }
    }
}

/// Whether a cutting is proved cheapest.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CutProof {
    /// Catalogue id.
    pub item: String,
    /// Whether it is.
    pub proved: bool,
    /// What it can't cost less than, when it is not.
    pub bound: Option<String>,
}

impl CutProof {
    pub(super) fn of(
        (item, proved, bound): &(String, bool, Option<rust_decimal::Decimal>),
    ) -> CutProof {
        CutProof {
            item: item.clone(),
            proved: *proved,
            bound: bound.map(money),
        }
    }
}
