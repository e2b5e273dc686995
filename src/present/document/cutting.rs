//! The cutting list: each reel and bar with what is cut from it, in the order of cutting.

use super::{Cell, Column, Part, Table};
use crate::model::offer::ItemKind;
use crate::present::job::Job;
use crate::present::measured;
use crate::price::priced::{CutPiece, CutStock};
use crate::quantity::figure::Unit;

/// The parts of the cutting list.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    let mut table = Table::new(vec![
        Column::text("item", "Item").data_only(),
        Column::text("kind", "Kind").data_only(),
        Column::number("stock", "Stock").data_only(),
        Column::figure("stock_mm", "Stock length", Unit::Millimetre).data_only(),
        Column::number("piece", "Piece"),
        Column::text("run", "Run"),
        Column::number("section", "Section"),
        Column::figure("from_mm", "From", Unit::Millimetre),
        Column::figure("to_mm", "To", Unit::Millimetre),
        Column::figure("cut_mm", "Cut", Unit::Millimetre),
        Column::figure("offcut_mm", "Offcut", Unit::Millimetre),
        Column::text("done", "Done").paper_only(),
    ]);
    for stock in &job.quote.cuts {
        table.group(heading(stock));
        for (index, piece) in stock.pieces.iter().enumerate() {
            table.row(row(stock, index + 1, piece));
        }
    }
    let mut part = Part::table("cutting-list", "", table);
    if job.quote.cuts.is_empty() {
        part.text.push("Nothing is cut in this job.".to_owned());
    } else {
        part.notes = notes(job);
    }
    vec![part]
}

/// `strip white-24, reel 1 of 5000 mm: 3 pieces, 120 mm left`.
fn heading(stock: &CutStock) -> String {
    let stock_word = match stock.kind {
        ItemKind::Profile => "bar",
        _ => "reel",
    };
    format!(
        "{}: {stock_word} {} of {:.0} mm, {:.0} mm left",
        stock.item,
        stock.number,
        measured::millimetres(stock.stock),
        measured::millimetres(stock.offcut),
    )
}

fn row(stock: &CutStock, number: usize, piece: &CutPiece) -> Vec<Cell> {
    let last = number == stock.pieces.len();
    vec![
        Cell::text(&stock.item),
        Cell::text(stock.kind.name()),
        Cell::count(stock.number),
        Cell::millimetres(stock.stock),
        Cell::count(number),
        Cell::text(&piece.run),
        Cell::count(piece.section),
        Cell::millimetres(piece.from),
        Cell::millimetres(piece.to),
        Cell::millimetres(piece.length),
        if last {
            Cell::millimetres(stock.offcut)
        } else {
            Cell::Empty
        },
        Cell::Blank,
    ]
}

fn notes(job: &Job) -> Vec<String> {
    let mut notes = vec![
        "Cut strip on its marks only; seal the ends of strip for wet places again. From and to \
         are places on the section."
            .to_owned(),
    ];
    for (item, proved, bound) in &job.quote.cut_proofs {
        notes.push(match (proved, bound) {
            (true, _) => format!("{item}: no cheaper cutting exists."),
            (false, Some(bound)) => format!(
                "{item}: not proved the cheapest; none costs less than {bound} {}.",
                job.quote.currency
            ),
            (false, None) => format!("{item}: not proved the cheapest."),
        });
    }
    notes
}
