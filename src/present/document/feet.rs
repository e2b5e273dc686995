//! Lengths in feet and inches beside the metres, where people measure with such tapes.

use super::{Align, Cell, Column, Document, RowKind, Showing, Table};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::{real, whole};

/// Metres in a foot, by definition (international yard and pound agreement of 1959).
const METRES_IN_A_FOOT: f64 = 0.3048;
/// The smallest part of an inch that is shown is one of so many.
const PARTS_OF_AN_INCH: usize = 8;

/// The document with a column of feet and inches after each column of metres.
pub(super) fn added(mut document: Document) -> Document {
    for part in &mut document.parts {
        part.table = part.table.as_ref().map(with_feet);
    }
    document
}

fn with_feet(table: &Table) -> Table {
    let in_metres = |column: &Column| column.unit == Some(Unit::Metre);
    let mut out = Table::new(Vec::new());
    for column in &table.columns {
        out.columns.push(column.clone());
        out.columns
            .extend(in_metres(column).then(|| feet_column(column)));
    }
    out.rows = table.rows.clone();
    for row in out.rows.iter_mut().filter(|row| row.kind != RowKind::Group) {
        let cells = std::mem::take(&mut row.cells);
        for (column, cell) in table.columns.iter().zip(cells) {
            let feet = in_metres(column).then(|| feet_cell(&cell));
            row.cells.push(cell);
            row.cells.extend(feet);
        }
    }
    out
}

fn feet_column(metres: &Column) -> Column {
    let stem = metres.key.strip_suffix("_m").unwrap_or(&metres.key);
    Column {
        key: format!("{stem}_ft_in"),
        heading: format!("{} ft in", metres.heading),
        unit: None,
        align: Align::Right,
        stretch: 0,
        showing: match metres.showing {
            Showing::Always => Showing::WhenWide,
            other => other,
        },
    }
}

fn feet_cell(cell: &Cell) -> Cell {
    match cell {
        Cell::Figure(Figure { value, .. }) => {
            feet_and_inches(*value).map_or(Cell::Empty, Cell::text)
        }
        other => other.clone(),
    }
}

/// `60 ft 4 3/8 in`; `None` for what is no length.
pub(super) fn feet_and_inches(metres: f64) -> Option<String> {
    let parts_of_a_foot = 12 * PARTS_OF_AN_INCH;
    let parts = whole((metres / METRES_IN_A_FOOT * real(parts_of_a_foot)).round())?;
    let (feet, rest) = (parts / parts_of_a_foot, parts % parts_of_a_foot);
    let (inches, eighths) = (rest / PARTS_OF_AN_INCH, rest % PARTS_OF_AN_INCH);
    let fraction = match eighths {
        0 => "",
        1 => " 1/8",
        2 => " 1/4",
        3 => " 3/8",
        4 => " 1/2",
        5 => " 5/8",
        6 => " 3/4",
        _ => " 7/8",
    };
    Some(format!("{feet} ft {inches}{fraction} in"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_of_a_tape_come_out_as_they_went_in() {
        // 1 ft = 0.3048 m and 1 in = 0.0254 m exactly.
        for (metres, feet) in [
            (0.0, "0 ft 0 in"),
            (0.3048, "1 ft 0 in"),
            (3.0480 + 6.5 * 0.0254, "10 ft 6 1/2 in"),
            (32.0 * 0.3048 + 6.0 * 0.0254, "32 ft 6 in"),
            (11.99 * 0.0254, "1 ft 0 in"),
            (0.0254 * 0.875, "0 ft 0 7/8 in"),
        ] {
            assert_eq!(feet_and_inches(metres).as_deref(), Some(feet));
        }
        assert_eq!(feet_and_inches(f64::NAN), None);
    }

    #[test]
    fn every_column_of_metres_gets_its_feet() {
        let mut table = Table::new(vec![
            Column::text("run", "Run"),
            Column::figure("length_m", "Length", Unit::Metre),
            Column::figure("load_w", "Load", Unit::Watt),
        ]);
        table.group("a room");
        table.row(vec![
            Cell::text("one"),
            Cell::figure(3.048, Unit::Metre),
            Cell::figure(5.0, Unit::Watt),
        ]);
        let table = with_feet(&table);
        let keys: Vec<&str> = table.columns.iter().map(|it| it.key.as_str()).collect();
        assert_eq!(keys, ["run", "length_m", "length_ft_in", "load_w"]);
        assert_eq!(table.rows[0].cells.len(), 1);
        assert_eq!(table.rows[1].cells[2], Cell::text("10 ft 0 in"));
    }
}
