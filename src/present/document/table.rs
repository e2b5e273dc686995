//! Making columns, tables and parts.

use super::{Align, Cell, Column, Part, Row, RowKind, Showing, Table};
use crate::present::drawing::sheet::Sheet;
use crate::quantity::figure::Unit;

impl Column {
    /// A column of text, as wide as its cells.
    #[must_use]
    pub fn text(key: &str, heading: &str) -> Column {
        Column {
            key: key.to_owned(),
            heading: heading.to_owned(),
            unit: None,
            align: Align::Left,
            stretch: 0,
            showing: Showing::Always,
        }
    }

    /// A column of text that may take several lines and the room that is left.
    #[must_use]
    pub fn long_text(key: &str, heading: &str) -> Column {
        Column {
            stretch: 2,
            ..Column::text(key, heading)
        }
    }

    /// A column of figures in one unit, which is printed once in the heading.
    #[must_use]
    pub fn figure(key: &str, heading: &str, unit: Unit) -> Column {
        Column {
            unit: Some(unit),
            ..Column::number(key, heading)
        }
    }

    /// A column of counts, quantities, money or figures of several units.
    #[must_use]
    pub fn number(key: &str, heading: &str) -> Column {
        Column {
            align: Align::Right,
            ..Column::text(key, heading)
        }
    }

    /// The same column, left out where the terminal is too narrow.
    #[must_use]
    pub fn when_wide(self) -> Column {
        Column {
            showing: Showing::WhenWide,
            ..self
        }
    }

    /// The same column, only in files that programs read.
    #[must_use]
    pub fn data_only(self) -> Column {
        Column {
            showing: Showing::DataOnly,
            ..self
        }
    }

    /// The same column, only on paper.
    #[must_use]
    pub fn paper_only(self) -> Column {
        Column {
            showing: Showing::PaperOnly,
            ..self
        }
    }
}

impl Table {
    /// A table without rows.
    #[must_use]
    pub fn new(columns: Vec<Column>) -> Table {
        Table {
            columns,
            rows: Vec::new(),
        }
    }

    /// Adds an ordinary row.
    pub fn row(&mut self, cells: Vec<Cell>) {
        self.rows.push(Row {
            kind: RowKind::Body,
            cells,
        });
    }

    /// Adds a heading across a group of rows.
    pub fn group(&mut self, heading: impl Into<String>) {
        self.rows.push(Row {
            kind: RowKind::Group,
            cells: vec![Cell::Text(heading.into())],
        });
    }

    /// Adds a total: its label in the first column that people see, its figures under their keys.
    pub fn total(&mut self, label: &str, figures: Vec<(&str, Cell)>) {
        let mut cells = vec![Cell::Empty; self.columns.len()];
        let seen = |column: &Column| column.showing != Showing::DataOnly;
        let first = self.columns.iter().position(seen);
        if let Some(place) = first.and_then(|at| cells.get_mut(at)) {
            *place = Cell::text(label);
        }
        for (key, cell) in figures {
            let position = self.columns.iter().position(|column| column.key == key);
            if let Some(place) = position.and_then(|at| cells.get_mut(at)) {
                *place = cell;
            }
        }
        self.rows.push(Row {
            kind: RowKind::Total,
            cells,
        });
    }
}

impl Part {
    /// A part with a table.
    #[must_use]
    pub fn table(name: &'static str, heading: impl Into<String>, table: Table) -> Part {
        Part {
            name,
            heading: heading.into(),
            table: Some(table),
            ..Part::default()
        }
    }

    /// A part with a drawing. Parts with drawings are named as the drawing's file begins.
    #[must_use]
    pub fn drawing(name: &'static str, heading: impl Into<String>, drawing: Sheet) -> Part {
        Part {
            name,
            heading: heading.into(),
            drawing: Some(drawing),
            ..Part::default()
        }
    }

    /// A part with text alone.
    #[must_use]
    pub fn prose(heading: impl Into<String>, text: Vec<String>) -> Part {
        Part {
            heading: heading.into(),
            text,
            ..Part::default()
        }
    }
}
