//! The cutting list: each reel and bar with what is cut from it, in the order of cutting.

use super::{Cell, Column, Part, Table};
use crate::choose::sized::Section;
use crate::model::offer::ItemKind;
use crate::present::drawing;
use crate::present::job::Job;
use crate::present::measured;
use crate::price::priced::{CutPiece, CutStock};
use crate::quantity::figure::Unit;
use crate::quantity::number::whole;
use crate::quantity::{Length, Ratio};

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
        Column::number("from_mark", "From mark").when_wide(),
        Column::number("to_mark", "To mark").when_wide(),
        Column::figure("cut_mm", "Cut", Unit::Millimetre),
        Column::figure("at_m", "In run at", Unit::Metre).when_wide(),
        Column::text("ends", "Ends"),
        Column::figure("offcut_mm", "Offcut", Unit::Millimetre),
        Column::text("offcut_kept", "Kept"),
        Column::text("batch", "Batch").paper_only(),
        Column::text("done", "Done").paper_only(),
    ]);
    for stock in &job.quote.cuts {
        table.group(heading(stock));
        for (index, piece) in stock.pieces.iter().enumerate() {
            table.row(row(job, stock, index + 1, piece));
        }
    }
    let mut part = Part::table("cutting-list", "", table);
    if job.quote.cuts.is_empty() {
        part.text.push("Nothing is cut in this job.".to_owned());
        return vec![part];
    }
    part.notes = notes(job);
    let drawn = drawing::cutting::sheets(job).into_iter();
    let drawn = drawn.map(|sheet| {
        let heading = format!("Cutting {}", sheet.title);
        Part::drawing("cutting", heading, sheet)
    });
    [part, totals(job)].into_iter().chain(drawn).collect()
}

/// `reel` or `bar`.
pub(crate) fn stock_word(kind: ItemKind) -> &'static str {
    match kind {
        ItemKind::Profile => "bar",
        _ => "reel",
    }
}

/// `white-24: reel 1, 5000 mm long, 120 mm left`.
fn heading(stock: &CutStock) -> String {
    format!(
        "{}: {} {}, {:.0} mm long, {:.0} mm left",
        stock.item,
        stock_word(stock.kind),
        stock.number,
        measured::millimetres(stock.stock),
        measured::millimetres(stock.offcut),
    )
}

fn row(job: &Job, stock: &CutStock, number: usize, piece: &CutPiece) -> Vec<Cell> {
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
        mark(stock, piece.from),
        mark(stock, piece.to),
        Cell::millimetres(piece.length),
        Cell::metres(piece.at),
        Cell::text(ends(job, stock.kind, piece)),
        if last {
            Cell::millimetres(stock.offcut)
        } else {
            Cell::Empty
        },
        if last {
            Cell::text(kept(stock))
        } else {
            Cell::Empty
        },
        Cell::Blank,
        Cell::Blank,
    ]
}

/// What becomes of an offcut: `keep`, `scrap`; nothing when nobody says or nothing is left.
pub(crate) fn kept(stock: &CutStock) -> &'static str {
    match stock.kept {
        _ if measured::millimetres(stock.offcut) < 0.5 => "",
        Some(true) => "keep",
        Some(false) => "scrap",
        None => "",
    }
}

/// The number of a cut mark, counted from the start of the reel; nothing for what has no marks.
fn mark(stock: &CutStock, at: Length) -> Cell {
    marks(stock, at).map_or(Cell::Empty, Cell::count)
}

/// How many cut marks of the reel lie before a place on it, that at the place included.
pub(crate) fn marks(stock: &CutStock, at: Length) -> Option<usize> {
    let count: Ratio = at / stock.mark?;
    whole(count.get::<uom::si::ratio::ratio>().round())
}

/// How the ends of a piece are treated, the run's start first: `feed – cap`.
pub(crate) fn ends(job: &Job, kind: ItemKind, piece: &CutPiece) -> String {
    let first = piece.part == 1;
    let last = piece.part == piece.parts;
    if kind == ItemKind::Profile {
        let end = |own: bool| if own { "end cap" } else { "butt" };
        return format!("{} – {}", end(first), end(last));
    }
    let section = section(job, piece);
    let fed = |at_start: bool| {
        section.is_some_and(|section| {
            let place = if at_start {
                section.start
            } else {
                section.start + section.length
            };
            let near = |at: Length| measured::millimetres(at - place).abs() < 0.5;
            section.feeds.iter().any(|feed| near(feed.at))
        })
    };
    // A joint on a feed's place is made with that feed.
    let joined = |at: Length| {
        let near = |feed: Length| measured::millimetres(feed - at).abs() < 0.5;
        section.is_some_and(|section| section.feeds.iter().any(|feed| near(feed.at)))
    };
    let end = |own: bool, at_start: bool| match own {
        false
            if joined(if at_start {
                piece.at
            } else {
                piece.at + piece.length
            }) =>
        {
            "joint at feed"
        }
        false => "joint",
        true if fed(at_start) => "feed",
        true => "cap",
    };
    format!("{} – {}", end(first, true), end(last, false))
}

fn section<'a>(job: &'a Job, piece: &CutPiece) -> Option<&'a Section> {
    let sized = job.sizing.run(&piece.run)?;
    sized.sections.get(piece.section.checked_sub(1)?)
}

fn notes(job: &Job) -> Vec<String> {
    let mut notes = vec![
        "Cut strip on its marks only; seal the ends of strip for wet places again. From and to are \
         measured from the start of the reel or bar; marks are counted from there, the first at \
         one cut length."
            .to_owned(),
        "Pieces of one room come from one batch: write it in. The run's start is the first of its \
         ends; in run at: where the piece begins, from the run's start."
            .to_owned(),
    ];
    let mut pieces = job.quote.cuts.iter().flat_map(|cut| {
        let strip = cut.kind == ItemKind::Strip;
        cut.pieces
            .iter()
            .filter(move |piece| strip && piece.parts > 1)
    });
    if pieces.next().is_some() {
        notes.push(
            "A section longer than a reel has as few joints as its reels allow, placed where the \
             reels cost least, and then where least current passes: at a feed, or where the currents \
             of two feeds meet."
                .to_owned(),
        );
    }
    if job
        .quote
        .cuts
        .iter()
        .any(|cut| cut.kind == ItemKind::Profile)
    {
        notes.push("Between two places on a bar lies the width of the saw cut.".to_owned());
    }
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

/// What the cutting of one item comes to.
#[derive(Default)]
struct Sum {
    stock: usize,
    pieces: usize,
    bought: Length,
    cut: Length,
    offcuts: Length,
    kept: Length,
    longest: Length,
}

fn totals(job: &Job) -> Part {
    let mut sums: Vec<(&str, Sum)> = Vec::new();
    for stock in &job.quote.cuts {
        if sums.last().is_none_or(|(item, _)| *item != stock.item) {
            sums.push((&stock.item, Sum::default()));
        }
        let Some((_, sum)) = sums.last_mut() else {
            continue;
        };
        sum.stock += 1;
        sum.pieces += stock.pieces.len();
        sum.bought += stock.stock;
        sum.cut += stock
            .pieces
            .iter()
            .map(|piece| piece.length)
            .sum::<Length>();
        sum.offcuts += stock.offcut;
        if stock.kept == Some(true) {
            sum.kept += stock.offcut;
        }
        sum.longest = sum.longest.max(stock.stock);
    }
    let mut table = Table::new(vec![
        Column::text("item", "Item"),
        Column::number("stock", "Stock used"),
        Column::number("least", "Least possible").when_wide(),
        Column::number("pieces", "Pieces"),
        Column::figure("bought_m", "Bought", Unit::Metre),
        Column::figure("cut_m", "Cut", Unit::Metre),
        Column::figure("offcut_m", "Offcuts", Unit::Metre),
        Column::figure("offcut_percent", "Offcuts", Unit::Percent),
        Column::figure("kept_m", "Kept", Unit::Metre),
    ]);
    for (item, sum) in sums {
        let least: Ratio = sum.cut / sum.longest;
        let least = (least.get::<uom::si::ratio::ratio>() - 1e-9).ceil();
        table.row(vec![
            Cell::text(item),
            Cell::count(sum.stock),
            Cell::count(whole(least).unwrap_or(sum.stock).min(sum.stock)),
            Cell::count(sum.pieces),
            Cell::metres(sum.bought),
            Cell::metres(sum.cut),
            Cell::metres(sum.offcuts),
            Cell::percent(sum.offcuts / sum.bought),
            Cell::metres(sum.kept),
        ]);
    }
    let mut part = Part::table("cutting-totals", "What is used and what is left", table);
    part.notes.push(
        "Least possible: as many of the longest stock used as all pieces end to end would fill; the \
         cheapest cutting may use more, shorter ones."
            .to_owned(),
    );
    part
}
