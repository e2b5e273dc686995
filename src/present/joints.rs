//! Where the pieces cut from reels are joined.

use crate::choose::sized::Section;
use crate::model::offer::ItemKind;
use crate::price::priced::Quote;
use crate::quantity::Length;

/// Places of the joints of a section, from the run's start, rising.
#[must_use]
pub fn of(quote: &Quote, run: &str, number: usize, section: &Section) -> Vec<Length> {
    let strip = quote
        .cuts
        .iter()
        .filter(|stock| stock.kind == ItemKind::Strip);
    let pieces = strip.flat_map(|stock| &stock.pieces);
    let own = pieces.filter(|piece| piece.run == run && piece.section == number);
    let mut parts: Vec<(usize, Length)> = own.map(|piece| (piece.part, piece.length)).collect();
    parts.sort_by_key(|(part, _)| *part);
    // Where a piece lies on its reel says nothing of where it lies in the section: the parts follow
    // one another, and each but the last ends at a joint.
    let mut at = section.start;
    let ends = parts.iter().map(|(_, length)| {
        at += *length;
        at
    });
    let mut joints: Vec<Length> = ends.collect();
    joints.pop();
    joints
}
