//! Names read from right to left beside figures: on paper, on the web page and on a terminal the name
//! comes first and its figure after it, as the file says.

use feedpoint::present::document::{Cell, Column, Document, Part, Table, TitleBlock};
use feedpoint::present::drawing::sheet::Sheet;
use feedpoint::present::terminal::{self, Look};
use feedpoint::present::{csv, html, pdf, svg};
use feedpoint::quantity::figure::Unit;
use unicode_width::UnicodeWidthStr;

/// Reading hall, and archive, in Hebrew and Arabic.
const HALL: &str = "אולם קריאה";
const ARCHIVE: &str = "أرشيف";

fn backwards(text: &str) -> String {
    text.chars().rev().collect()
}

/// A title block, a sentence, a group and cells with such names before figures.
fn document() -> Document {
    let mut table = Table::new(vec![
        Column::text("room", "Room"),
        Column::figure("length_m", "Length", Unit::Metre),
        Column::number("drivers", "Drivers"),
        Column::long_text("remarks", "Remarks"),
    ]);
    table.group(format!("{HALL}: 2 cupboards"));
    for (room, remark) in [(HALL, "fed at 6.40 m"), (ARCHIVE, "fed at 0.00 m")] {
        table.row(vec![
            Cell::text(room),
            Cell::figure(12.4, Unit::Metre),
            Cell::count(3),
            Cell::text(format!("{room}, {remark}")),
        ]);
    }
    let mut part = Part::table("rooms", "Rooms", table);
    part.text = vec![format!("{HALL} 18.40 m of strip, {ARCHIVE} 7.50 m.")];
    Document {
        name: "rooms",
        title: "Rooms".to_owned(),
        block: TitleBlock {
            project: format!("{HALL} 14"),
            reference: "ML-014".to_owned(),
            ..TitleBlock::default()
        },
        currency: "EUR".to_owned(),
        decimals: 2,
        inside: false,
        parts: vec![part],
        cautions: Vec::new(),
    }
}

#[test]
fn on_paper_the_figure_stands_to_the_right_of_the_name() {
    let bytes = pdf::write("t", &[document()], pdf::Paper::A4, None).expect("a PDF");
    if let Some(path) = std::env::var_os("FEEDPOINT_LOOK") {
        std::fs::write(path, &bytes).expect("a file to look at");
    }
    let file = lopdf::Document::load_mem(&bytes).expect("a PDF that can be read");
    let text = file.extract_text(&[1]).expect("text");
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    // Glyphs are written in the order in which they are seen.
    let hall = backwards(HALL);
    for seen in [
        format!("{hall} 18.40 m of strip, "),
        format!("{hall}: 2 cupboards"),
        format!("{hall} 12.40 3"),
        format!("{hall}, fed at 6.40 m"),
        // A name with its own number is all name.
        format!("14 {hall}"),
    ] {
        assert!(text.contains(&seen), "{seen} in {text}");
    }
}

#[test]
fn on_the_web_page_each_name_is_an_isolate_of_its_own() {
    let page = html::write(HALL, &[document()], pdf::Paper::A4);
    for marked in [
        format!("<bdi>{HALL}</bdi> 18.40 m of strip, <bdi>{ARCHIVE}</bdi> 7.50 m."),
        format!("<bdi>{HALL}</bdi>: 2 cupboards"),
        format!("<bdi>{HALL} 14</bdi>"),
        format!("<td data-of=\"Remarks\"><bdi>{ARCHIVE}</bdi>, fed at 0.00 m</td>"),
    ] {
        assert!(page.contains(&marked), "{marked}");
    }
    assert!(page.contains(&format!("<title>{HALL}</title>")));
}

#[test]
fn on_a_terminal_names_are_isolated_and_columns_stay_in_line() {
    let look = |ascii| Look {
        width: 80,
        colour: false,
        ascii,
    };
    let text = terminal::write(&[document()], look(false));
    for name in [HALL, ARCHIVE] {
        for (at, _) in text.match_indices(name) {
            let before = text[..at].chars().next_back();
            let after = text[at + name.len()..].chars().next();
            assert_eq!(
                (before, after),
                (Some('\u{2068}'), Some('\u{2069}')),
                "{text}"
            );
        }
    }
    let figures = text
        .lines()
        .filter_map(|line| line.find("12.40").map(|at| &line[..at]));
    let widths: Vec<usize> = figures.map(UnicodeWidthStr::width).collect();
    assert_eq!(widths.len(), 2, "{text}");
    assert_eq!(widths[0], widths[1]);
    assert!(terminal::write(&[document()], look(true)).is_ascii());
}

#[test]
fn drawings_isolate_names_and_data_does_not() {
    let mut sheet = Sheet {
        title: HALL.to_owned(),
        width: 100.0,
        height: 20.0,
        shapes: Vec::new(),
    };
    sheet.text((2.0, 10.0), 9.0, format!("{HALL}, 6.40 m"));
    let drawn = svg::write(&sheet);
    assert!(drawn.contains(&format!(">\u{2068}{HALL}\u{2069}, 6.40 m<")));
    for file in csv::files(&document()).expect("tables") {
        assert!(file.text.contains(HALL) && !file.text.contains('\u{2068}'));
    }
}
