//! Where the pieces cut from reels are joined.

use crate::model::offer::ItemKind;
use crate::price::priced::Quote;
use crate::quantity::Length;

/// Places of the joints of a section, from the run's start, rising.
#[must_use]
pub fn of(quote: &Quote, run: &str, number: usize) -> Vec<Length> {
    let strip = quote
        .cuts
        .iter()
        .filter(|stock| stock.kind == ItemKind::Strip);
    let pieces = strip.flat_map(|stock| &stock.pieces);
    let own = pieces.filter(|piece| piece.run == run && piece.section == number);
    // A piece that does not begin where the section does is joined to the one before it.
    let mut starts: Vec<Length> = own
        .filter(|piece| piece.part > 1)
        .map(|piece| piece.at)
        .collect();
    starts.sort_by(|a, b| a.value.total_cmp(&b.value));
    starts
}
