//! Each row of a take-off → runs, or what else it is.

use super::cell::{self, Numbers};
use super::fields::{COUNT, FIELDS, Kind};
use super::figure::{self, Known};
use super::headings::{Column, Columns};
use super::sheet::{Sheet, SheetRow, letter};
use super::totals::{self, Sums};
use super::{Asked, Fate, Filled, Lack, ReadRow, TakeOff, TakenRun, UnreadCell};
use std::collections::{BTreeMap, BTreeSet};

/// Longest name that is made from a row's own, so that a number still fits behind it.
const BASE_LENGTH: usize = 60;

/// Reads every row of a sheet.
#[must_use]
pub fn read(sheet: &Sheet, columns: &Columns, asked: &Asked, name: &str) -> TakeOff {
    let mut reading = Reading::new(sheet, columns, asked, name);
    for row in &sheet.rows {
        let fate = reading.row(row);
        reading.taken.rows.push(ReadRow {
            number: row.number,
            fate,
        });
    }
    let mut taken = reading.taken;
    demote_rooms(&mut taken.rows);
    taken
}

/// A room's heading that no run follows is a remark, such as a footnote.
fn demote_rooms(rows: &mut [ReadRow]) {
    let mut followed = false;
    for row in rows.iter_mut().rev() {
        match &row.fate {
            Fate::Runs(_) => followed = true,
            Fate::Room(text) if !followed => row.fate = Fate::Remark(text.clone()),
            Fate::Room(_) => followed = false,
            _ => {}
        }
    }
}

struct Reading<'a> {
    columns: &'a Columns,
    asked: &'a Asked,
    decimal: Known,
    taken: TakeOff,
    /// The room whose heading came last, and its row.
    heading_room: Option<(String, usize)>,
    /// What each column said last, for ditto marks and rooms given once.
    above: BTreeMap<usize, (String, usize)>,
    sums: Sums,
    /// Names that rows give themselves: no made-up name may be one of them.
    given: BTreeSet<String>,
    used: BTreeSet<String>,
}

/// A row's values as they are read.
#[derive(Default)]
struct Values {
    keys: BTreeMap<&'static str, String>,
    unread: Vec<(&'static str, String, String)>,
}

impl<'a> Reading<'a> {
    fn new(sheet: &'a Sheet, columns: &'a Columns, asked: &'a Asked, name: &str) -> Self {
        let measured = |column: &&Column| {
            matches!(
                column.field.kind,
                Kind::Length | Kind::Distance | Kind::Temperature
            )
        };
        let figures: Vec<usize> = columns
            .columns
            .iter()
            .filter(measured)
            .map(|column| column.at)
            .collect();
        let decimal = match asked.decimal {
            Some(sign) => Known::Asked(sign),
            None => figure::shown_by(sheet, &figures),
        };
        let given = columns.of("run").map(|column| {
            let cells = sheet.rows.iter().map(|row| row.cell(column.at));
            let plain = cells.map(|text| cell::literally(text).unwrap_or(text));
            plain.map(str::to_owned).collect()
        });
        Reading {
            columns,
            asked,
            decimal,
            taken: TakeOff {
                file: name.to_owned(),
                sheet: sheet.name.clone(),
                columns: columns.read.clone(),
                rows: Vec::new(),
                runs: Vec::new(),
                unread: Vec::new(),
                filled: Vec::new(),
            },
            heading_room: None,
            above: BTreeMap::new(),
            sums: Sums::default(),
            given: given.unwrap_or_default(),
            used: BTreeSet::new(),
        }
    }

    fn numbers(&self, column: &Column) -> Numbers {
        Numbers {
            unit: column.unit.or(match column.field.kind {
                Kind::Length | Kind::Distance => self.asked.unit,
                _ => None,
            }),
            decimal: self.decimal,
        }
    }

    fn row(&mut self, row: &SheetRow) -> Fate {
        let headings = &self.columns.headings;
        if row.number < headings.number {
            return Fate::Title(row.text());
        }
        if row.cells == headings.cells {
            return Fate::Headings;
        }
        if self.columns.units == Some(row.number) {
            return Fate::Units;
        }
        if totals::is_total(row, self.columns) {
            let said = self
                .columns
                .of("length")
                .and_then(|column| totals::said(row, self.columns, self.numbers(column)));
            let disagrees = self.sums.disagreement(said);
            return Fate::Total {
                text: row.text(),
                disagrees,
            };
        }
        if let Some(room) = self.room_heading(row) {
            self.heading_room = Some((room.clone(), row.number));
            self.above.clear();
            return Fate::Room(room);
        }
        let of_a_run = |(at, _): (usize, &str)| self.columns.columns.iter().any(|one| one.at == at);
        if !row.filled().any(of_a_run) {
            return Fate::Remark(row.text());
        }
        Fate::Runs(self.runs(row))
    }

    /// The room that a row is the heading of: its only cell, where the room is or, in a sheet
    /// without a column for rooms, in the first column or the runs' own.
    fn room_heading(&self, row: &SheetRow) -> Option<String> {
        let mut filled = row.filled();
        let (at, text) = filled.next()?;
        if filled.next().is_some() || text.starts_with(|c: char| c.is_ascii_digit()) {
            return None;
        }
        let is_heading = match self.columns.of("room") {
            Some(room) => room.at == at,
            None => {
                let run = self.columns.of("run").map(|run| run.at);
                at == 0 || run == Some(at)
            }
        };
        let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
        is_heading.then(|| line.trim_end_matches(':').to_owned())
    }

    /// Makes the runs of a row; how many.
    fn runs(&mut self, row: &SheetRow) -> usize {
        let mut values = self.values(row);
        self.fill_room(row, &mut values);
        let alike = values
            .keys
            .remove(COUNT)
            .and_then(|text| text.parse().ok())
            .unwrap_or(1);
        let length = values.keys.get("length").map(String::as_str);
        self.sums.add(length, alike);
        let remarks = self.remarks(row);
        let lacks = lacks(&values);
        for number in 1..=alike {
            let name = self.name(row, &values, (alike > 1).then_some(number));
            let in_order = FIELDS.iter().filter_map(|field| {
                let value = match field.key {
                    "run" => Some(&name),
                    key => values.keys.get(key),
                };
                value.map(|value| (field.key, value.clone()))
            });
            self.taken.runs.push(TakenRun {
                row: row.number,
                keys: in_order.collect(),
                remarks: remarks.clone(),
                lacks: lacks.clone(),
                unread: values
                    .unread
                    .iter()
                    .map(|(_, heading, text)| (heading.clone(), text.clone()))
                    .collect(),
            });
        }
        alike
    }

    /// What the cells of a row say.
    fn values(&mut self, row: &SheetRow) -> Values {
        let mut values = Values::default();
        for column in &self.columns.columns {
            let written = row.cell(column.at);
            let text = match cell::is_ditto(written)
                .then(|| self.above.get(&column.at))
                .flatten()
            {
                Some((above, from)) => {
                    let (above, from) = (above.clone(), *from);
                    self.filled(
                        row.number,
                        column.field.key,
                        &above,
                        format!("ditto, from row {from}"),
                    );
                    above
                }
                None => written.to_owned(),
            };
            if text.is_empty() {
                continue;
            }
            match cell::read(&text, column.field, self.numbers(column)) {
                Ok(Some(value)) => {
                    values.keys.insert(column.field.key, value);
                }
                Ok(None) => {}
                Err(why) => {
                    let heading = self.columns.heading(column.at);
                    values
                        .unread
                        .push((column.field.key, heading.clone(), text.clone()));
                    self.taken.unread.push(UnreadCell {
                        row: row.number,
                        column: letter(column.at),
                        heading,
                        text: text.clone(),
                        why,
                    });
                }
            }
            self.above.insert(column.at, (text, row.number));
        }
        values
    }

    /// A row without a room is in that of the heading, or of the row, above it.
    fn fill_room(&mut self, row: &SheetRow, values: &mut Values) {
        let unread = values.unread.iter().any(|(key, ..)| *key == "room");
        if values.keys.contains_key("room") || unread {
            return;
        }
        let column = self.columns.of("room");
        let by_heading = self
            .heading_room
            .clone()
            .map(|(room, from)| (room, from, "the heading in"));
        let by_row = column.and_then(|column| {
            let (text, from) = self.above.get(&column.at)?.clone();
            let read = cell::read(&text, column.field, self.numbers(column)).ok()??;
            Some((read, from, "blank, as in"))
        });
        if let Some((room, from, how)) = by_row.or(by_heading) {
            self.filled(row.number, "room", &room, format!("{how} row {from}"));
            values.keys.insert("room", room);
        }
    }

    /// What a row says besides: cells in columns that a run is not made from.
    fn remarks(&self, row: &SheetRow) -> Vec<(String, String)> {
        let kept = |at: usize| !self.columns.columns.iter().any(|column| column.at == at);
        let cells = row.filled().filter(|(at, _)| kept(*at));
        cells
            .map(|(at, text)| (self.columns.heading(at), text.to_owned()))
            .collect()
    }

    /// A name that no other run has: the row's own where it can be.
    fn name(&mut self, row: &SheetRow, values: &Values, number: Option<usize>) -> String {
        let own = values.keys.get("run").cloned();
        let wanted = match (&own, number) {
            (Some(own), None) => own.clone(),
            (Some(own), Some(number)) => format!("{}-{number}", shortened(own)),
            (None, number) => {
                let room = values
                    .keys
                    .get("room")
                    .map_or("run", |room| shortened(room));
                let number = number.map_or(String::new(), |number| format!("-{number}"));
                format!("{room} row {}{number}", row.number)
            }
        };
        let is_own = number.is_none() && own.is_some();
        let mut name = wanted.clone();
        let mut next = 2;
        while self.used.contains(&name) || self.given.contains(&name) && !(is_own && name == wanted)
        {
            name = format!("{}-{next}", shortened(&wanted));
            next += 1;
        }
        let from = match (&own, number) {
            (None, _) => Some("it has no name".to_owned()),
            (_, Some(_)) => Some("one of several alike".to_owned()),
            _ if name != wanted => Some(format!("`{wanted}` is the name of another run")),
            _ => None,
        };
        if let Some(from) = from {
            self.filled(row.number, "run", &name, from);
        }
        self.used.insert(name.clone());
        name
    }

    fn filled(&mut self, row: usize, key: &'static str, value: &str, from: String) {
        self.taken.filled.push(Filled {
            row,
            key,
            value: value.to_owned(),
            from,
        });
    }
}

fn shortened(name: &str) -> &str {
    match name.char_indices().nth(BASE_LENGTH) {
        Some((at, _)) => name.get(..at).unwrap_or(name).trim_end(),
        None => name,
    }
}

/// What a run can't do without.
fn lacks(values: &Values) -> Vec<Lack> {
    let has = |key: &str| values.keys.contains_key(key);
    let unread = |key: &str| values.unread.iter().any(|(own, ..)| *own == key);
    let needed: [(&'static str, &str); 3] = [
        ("room", "the room it is in"),
        ("strip", "the id of a strip in a catalogue"),
        ("length", "its length with a unit"),
    ];
    let cure = |key: &'static str, what: &str| Lack {
        key,
        cure: if unread(key) {
            "its cell could not be read".to_owned()
        } else {
            what.to_owned()
        },
    };
    let mut lacks: Vec<Lack> = needed
        .into_iter()
        .filter(|(key, _)| !has(key))
        .map(|(key, what)| cure(key, what))
        .collect();
    if !has("to_start") && !has("to_end") {
        let key = if unread("to_end") && !unread("to_start") {
            "to_end"
        } else {
            "to_start"
        };
        lacks.push(cure(
            key,
            "cable from the cupboard to its start, or `to_end`",
        ));
    }
    lacks
}
