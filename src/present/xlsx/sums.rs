//! What a total adds up. A formula is written only where it gives the very figure that the
//! document has.

use crate::present::document::{Cell, Row, RowKind};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;

/// A difference of sums that comes from the order of adding.
const ROUNDING: f64 = 1e-9;

/// What a total's formula adds, by places in the table's rows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sum {
    /// The ordinary rows from that place on.
    RowsFrom(usize),
    /// The total in that place, and the ordinary rows after it.
    TotalAndRows(usize),
    /// All ordinary rows so far.
    AllRows,
}

/// A number that can be added.
#[derive(Debug, Clone, Copy)]
enum Number {
    Exact(Decimal),
    Real(f64),
}

impl Number {
    fn of(cell: &Cell) -> Option<Number> {
        match cell {
            Cell::Money(amount) | Cell::Decimal(amount) => Some(Number::Exact(*amount)),
            Cell::Figure(figure) => Some(Number::Real(figure.value)),
            Cell::Text(_) | Cell::Verdict(_) | Cell::Unknown(_) | Cell::Blank | Cell::Empty => None,
        }
    }

    fn real(self) -> f64 {
        match self {
            Number::Exact(amount) => amount.to_f64().unwrap_or(f64::NAN),
            Number::Real(value) => value,
        }
    }
}

/// How the total in row `at` and that column comes about; `None` when it is no sum of what stands
/// above it.
pub(super) fn found(rows: &[Row], at: usize, column: usize) -> Option<Sum> {
    let cell = |row: &Row| row.cells.get(column).and_then(Number::of);
    let total = rows.get(at).and_then(cell)?;
    let above = rows.get(..at)?;
    let last_total = above.iter().rposition(|row| row.kind == RowKind::Total);
    let since = last_total.map_or(0, |place| place + 1);
    let body = |rows: &[Row]| -> Vec<Number> {
        let body = rows.iter().filter(|row| row.kind == RowKind::Body);
        body.filter_map(cell).collect()
    };
    let recent = above.get(since..)?;
    let recent_numbers = body(recent);
    if !recent_numbers.is_empty() && adds_up(&recent_numbers, total) {
        return Some(Sum::RowsFrom(since));
    }
    if let Some(place) = last_total {
        let mut numbers = recent_numbers;
        numbers.extend(above.get(place).and_then(cell));
        if !numbers.is_empty() && adds_up(&numbers, total) {
            return Some(Sum::TotalAndRows(place));
        }
        let all = body(above);
        if !all.is_empty() && adds_up(&all, total) {
            return Some(Sum::AllRows);
        }
    }
    None
}

fn adds_up(numbers: &[Number], total: Number) -> bool {
    let exact: Option<Decimal> = numbers
        .iter()
        .map(|number| match number {
            Number::Exact(amount) => Some(*amount),
            Number::Real(_) => None,
        })
        .sum();
    match (exact, total) {
        (Some(sum), Number::Exact(total)) => sum == total,
        _ => {
            let sum: f64 = numbers.iter().map(|number| number.real()).sum();
            let total = total.real();
            (sum - total).abs() <= ROUNDING * total.abs().max(1.0)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::document::{Column, Table};
    use crate::quantity::figure::Unit;

    fn table() -> Table {
        let mut table = Table::new(vec![
            Column::text("item", "Item"),
            Column::number("amount", "Amount"),
        ]);
        let row = |amount: i64| vec![Cell::text("x"), Cell::Money(Decimal::new(amount, 2))];
        table.row(row(10_05));
        table.row(row(4_95));
        table.total("Net", vec![("amount", Cell::Money(Decimal::new(15_00, 2)))]);
        table.row(row(3_00));
        table.total("All", vec![("amount", Cell::Money(Decimal::new(18_00, 2)))]);
        table
    }

    #[test]
    fn totals_are_traced_to_what_they_add() {
        let rows = table().rows;
        assert_eq!(found(&rows, 2, 1), Some(Sum::RowsFrom(0)));
        assert_eq!(found(&rows, 4, 1), Some(Sum::TotalAndRows(2)));
    }

    #[test]
    fn a_total_that_is_no_sum_gets_no_formula() {
        let mut rows = table().rows;
        rows[2].cells[1] = Cell::Money(Decimal::new(15_01, 2));
        assert_eq!(found(&rows, 2, 1), None);
        rows[2].cells[1] = Cell::unknown("a line has no price");
        assert_eq!(found(&rows, 2, 1), None);
    }

    #[test]
    fn the_order_of_adding_makes_no_difference() {
        let mut table = Table::new(vec![Column::figure("length_m", "Length", Unit::Metre)]);
        for length in [0.1, 0.2, 0.3] {
            table.row(vec![Cell::figure(length, Unit::Metre)]);
        }
        table.total("", vec![("length_m", Cell::figure(0.6, Unit::Metre))]);
        assert_eq!(found(&table.rows, 3, 0), Some(Sum::RowsFrom(0)));
    }
}
