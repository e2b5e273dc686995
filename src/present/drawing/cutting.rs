//! The cutting list as a drawing: each reel and bar to scale, with where to cut it and what each
//! piece is for. Someone follows it with a marker pen.

use super::layout::{EDGE, LETTERS, LINE, WIDTH};
use super::sheet::{Bounds, Fill, Sheet, Stroke, clipped, text_width};
use super::stack::{Put, rows, stack};
use crate::present::document::{cut_ends, cut_marks, offcut_kept, stock_word};
use crate::present::job::Job;
use crate::present::measured::millimetres;
use crate::present::printable::printable;
use crate::present::wrap::wrap;
use crate::price::priced::{CutPiece, CutStock};
use crate::quantity::Length;
use crate::quantity::number::real;

/// Reels or bars on a sheet, at most: what a person keeps an overview of.
const MOST_ON_A_SHEET: usize = 8;
/// Height of a reel or bar.
const BAR: f64 = 16.0;
/// Room between two.
const GAP: f64 = 20.0;
/// Height of the letters at cuts and pieces.
const SMALL: f64 = 9.5;
/// Size of the box that is ticked.
const TICK: f64 = 9.0;

/// The sheets of all that is cut, item by item, each titled by its item and bare: title block and
/// cautions stand around it.
#[must_use]
pub fn sheets(job: &Job) -> Vec<Sheet> {
    let mut items: Vec<&str> = Vec::new();
    for cut in &job.quote.cuts {
        if !items.contains(&cut.item.as_str()) {
            items.push(&cut.item);
        }
    }
    items
        .into_iter()
        .flat_map(|item| {
            let own: Vec<&CutStock> = job
                .quote
                .cuts
                .iter()
                .filter(|cut| cut.item == item)
                .collect();
            let (whole, cut): (Vec<&CutStock>, Vec<&CutStock>) =
                own.into_iter().partition(|stock| is_whole(stock));
            let mut chunks: Vec<&[&CutStock]> = cut.chunks(MOST_ON_A_SHEET).collect();
            if chunks.is_empty() {
                chunks.push(&[]);
            }
            let count = chunks.len();
            let parts = (1..).zip(chunks);
            let mut parts: Vec<Sheet> = parts
                .map(|(number, part)| sheet(job, item, part, (number, count)))
                .collect();
            if let Some(last) = parts.last_mut() {
                say_whole(last, &whole);
            }
            parts
        })
        .collect()
}

/// Whether it is used as it comes.
fn is_whole(stock: &CutStock) -> bool {
    let [piece] = stock.pieces.as_slice() else {
        return false;
    };
    millimetres(stock.stock) - millimetres(piece.length) < 0.5
}

/// Names the reels or bars that are not cut, which need no drawing.
fn say_whole(sheet: &mut Sheet, whole: &[&CutStock]) {
    let Some(first) = whole.first() else { return };
    let numbers: Vec<String> = whole.iter().map(|stock| stock.number.to_string()).collect();
    let text = format!(
        "Not cut, each one piece of the list: {} {}",
        stock_word(first.kind),
        numbers.join(", ")
    );
    let room = WIDTH - 2.0 * EDGE;
    let lines = wrap(&text, room, &|part: &str| text_width(part, LETTERS, false));
    sheet.height += GAP;
    for line in lines {
        sheet.height += LINE;
        sheet.text((EDGE, sheet.height), LETTERS, line);
    }
    sheet.height += 4.0;
}

fn sheet(job: &Job, item: &str, stocks: &[&CutStock], (number, count): (usize, usize)) -> Sheet {
    let of = if count > 1 {
        format!(", {number} of {count}")
    } else {
        String::new()
    };
    let mut sheet = Sheet {
        title: format!("{item}{of}"),
        width: WIDTH,
        height: 0.0,
        shapes: Vec::new(),
    };
    sheet.text((EDGE, LETTERS), LETTERS, how(stocks));
    let longest = stocks
        .iter()
        .map(|stock| stock.stock)
        .fold(Length::default(), Length::max);
    let mut top = LETTERS + GAP;
    for stock in stocks {
        top = draw(&mut sheet, job, stock, longest, top) + GAP;
    }
    sheet.height = top - GAP;
    sheet
}

/// What the numbers are.
fn how(stocks: &[&CutStock]) -> &'static str {
    if stocks.iter().any(|stock| stock.mark.is_some()) {
        "Over each cut: its distance from the start of the reel in mm, and the number of its cut mark. \
         Cut on marks only."
    } else {
        "Over each cut: its distance from the start of the bar in mm; the saw cut is on the far side."
    }
}

/// Where a place on a reel or bar is on the sheet.
fn across(at: Length, longest: Length) -> f64 {
    let share = millimetres(at) / millimetres(longest).max(1.0);
    EDGE + (WIDTH - 2.0 * EDGE) * share.clamp(0.0, 1.0)
}

/// Draws one from `top` down; returns where it ends.
fn draw(sheet: &mut Sheet, job: &Job, stock: &CutStock, longest: Length, top: f64) -> f64 {
    let tick = Bounds {
        left: EDGE,
        top: top + 2.0,
        width: TICK,
        height: TICK,
    };
    sheet.rectangle(tick, Fill::None, Stroke::Plain);
    let heading = format!(
        "{} {}, {:.0} mm long, {:.0} mm left{}",
        stock_word(stock.kind),
        stock.number,
        millimetres(stock.stock),
        millimetres(stock.offcut),
        match offcut_kept(stock) {
            "" => String::new(),
            word => format!(": {word}"),
        }
    );
    sheet.bold((EDGE + TICK + 6.0, top + 10.0), LETTERS, heading);
    let places = cuts(stock);
    let texts: Vec<String> = places.iter().map(|at| place(stock, *at)).collect();
    let wanted: Vec<(f64, f64)> = places
        .iter()
        .zip(&texts)
        .map(|(at, text)| (across(*at, longest), text_width(text, SMALL, false)))
        .collect();
    let put = stack(&wanted, (EDGE, WIDTH - EDGE), 6.0);
    let first = top + LINE + SMALL + 2.0;
    let bar_top = first + LINE * real(rows(&put).saturating_sub(1)) + 5.0;
    for ((at, text), put) in places.iter().zip(texts).zip(&put) {
        let y = first + LINE * real(put.row);
        let x = across(*at, longest);
        sheet.line((x, y + 2.0), (x, bar_top + BAR), Stroke::Leader);
        sheet.text((put.left, y), SMALL, text);
    }
    pieces(sheet, stock, longest, bar_top);
    labels(sheet, job, stock, longest, bar_top + BAR)
}

/// Where it is cut: the end of each piece, but for one that ends with its stock.
fn cuts(stock: &CutStock) -> Vec<Length> {
    let ends = stock.pieces.iter().map(|piece| piece.to);
    ends.filter(|end| millimetres(stock.stock - *end) > 0.5)
        .collect()
}

fn place(stock: &CutStock, at: Length) -> String {
    let distance = format!("{:.0}", millimetres(at));
    match cut_marks(stock, at) {
        Some(mark) => format!("{distance} (mark {mark})"),
        None => distance,
    }
}

fn pieces(sheet: &mut Sheet, stock: &CutStock, longest: Length, top: f64) {
    let bounds = |from: Length, to: Length| Bounds {
        left: across(from, longest),
        top,
        width: (across(to, longest) - across(from, longest)).max(0.5),
        height: BAR,
    };
    sheet.rectangle(
        bounds(Length::default(), stock.stock),
        Fill::Paper,
        Stroke::Level,
    );
    for (number, piece) in (1..).zip(&stock.pieces) {
        let own = bounds(piece.from, piece.to);
        sheet.rectangle(own, Fill::Pale, Stroke::Plain);
        let text = number_text(number);
        let width = text_width(&text, LETTERS, true);
        if width + 2.0 < own.width {
            let left = own.left + 0.5 * (own.width - width);
            sheet.bold((left, top + BAR - 4.0), LETTERS, text);
        }
    }
}

fn number_text(number: usize) -> String {
    number.to_string()
}

/// What each piece is, under it.
fn labels(sheet: &mut Sheet, job: &Job, stock: &CutStock, longest: Length, bottom: f64) -> f64 {
    let most = WIDTH - 2.0 * EDGE;
    let texts: Vec<String> = (1..)
        .zip(&stock.pieces)
        .map(|(number, piece)| label(job, stock, number, piece))
        .map(|text| clipped(&printable(&text), SMALL, false, most))
        .collect();
    let wanted: Vec<(f64, f64)> = stock
        .pieces
        .iter()
        .zip(&texts)
        .map(|(piece, text)| {
            let middle = 0.5 * (across(piece.from, longest) + across(piece.to, longest));
            (middle, text_width(text, SMALL, false))
        })
        .collect();
    let put: Vec<Put> = stack(&wanted, (EDGE, WIDTH - EDGE), 8.0);
    let first = bottom + SMALL + 3.0;
    for (text, put) in texts.into_iter().zip(&put) {
        sheet.text((put.left, first + LINE * real(put.row)), SMALL, text);
    }
    first + LINE * real(rows(&put).saturating_sub(1)) + 4.0
}

/// `2: stacks-6, 2700 mm, feed – cap`.
fn label(job: &Job, stock: &CutStock, number: usize, piece: &CutPiece) -> String {
    let several = job
        .sizing
        .runs
        .iter()
        .find(|sized| sized.run.name == piece.run)
        .is_some_and(|sized| sized.sections.len() > 1);
    let section = if stock.mark.is_some() && several {
        format!(" section {}", piece.section)
    } else {
        String::new()
    };
    let part = if piece.parts > 1 {
        format!(" part {} of {}", piece.part, piece.parts)
    } else {
        String::new()
    };
    let length = millimetres(piece.length);
    let ends = cut_ends(job, stock.kind, piece);
    format!(
        "{number}: {}{section}{part}, {length:.0} mm, {ends}",
        piece.run
    )
}
