//! Figures from outside the project (standards, handbooks, textbooks) against the code that gives
//! them. One CSV per source in `tests/published/`; each row names its source and how far it was
//! confirmed. A row is answered by the code for its id, never by a formula restated here.

mod bus;
mod cables;
mod colour;
mod limits;
mod row;
mod strips;

use row::{Answer, Row};
use std::collections::{BTreeMap, BTreeSet};

const FILES: &[(&str, &str)] = &[
    ("as_nzs", include_str!("published/as_nzs.csv")),
    ("astm_b258", include_str!("published/astm_b258.csv")),
    ("bs_7671", include_str!("published/bs_7671.csv")),
    ("cie_15", include_str!("published/cie_15.csv")),
    ("copper", include_str!("published/copper.csv")),
    ("iec_60228", include_str!("published/iec_60228.csv")),
    ("iec_60364", include_str!("published/iec_60364.csv")),
    ("iec_60529", include_str!("published/iec_60529.csv")),
    ("iec_60898", include_str!("published/iec_60898.csv")),
    ("iec_62386", include_str!("published/iec_62386.csv")),
    (
        "light_modulation",
        include_str!("published/light_modulation.csv"),
    ),
    ("nec", include_str!("published/nec.csv")),
    (
        "strip_formulas",
        include_str!("published/strip_formulas.csv"),
    ),
    (
        "textbook_distributors",
        include_str!("published/textbook_distributors.csv"),
    ),
    ("units", include_str!("published/units.csv")),
];

fn rows() -> Vec<(&'static str, Row)> {
    let mut rows = Vec::new();
    for &(source, text) in FILES {
        let mut reader = csv::Reader::from_reader(text.as_bytes());
        for row in reader.deserialize() {
            rows.push((
                source,
                row.unwrap_or_else(|error| panic!("{source}: {error}")),
            ));
        }
    }
    rows
}

/// What the program says to a row; `None` when nothing answers it.
fn answer(row: &Row) -> Option<Answer> {
    cables::answer(row)
        .or_else(|| limits::answer(row))
        .or_else(|| bus::answer(row))
        .or_else(|| colour::answer(row))
        .or_else(|| strips::answer(row))
}

#[test]
fn every_published_figure_is_given() {
    let mut faults = Vec::new();
    for (source, row) in rows() {
        let verdict = match answer(&row) {
            None => Some("no check answers it".to_owned()),
            Some(answer) => row.fault(&answer),
        };
        if let Some(fault) = verdict {
            let Row { id, inputs, .. } = &row;
            faults.push(format!(
                "{source}: {id} ({inputs}; {}): {fault}",
                row.source
            ));
        }
    }
    assert!(
        faults.is_empty(),
        "{} rows:\n{}",
        faults.len(),
        faults.join("\n")
    );
}

#[test]
fn rows_are_many_distinct_and_sourced() {
    let mut count: BTreeMap<(&str, String), usize> = BTreeMap::new();
    let mut ids = BTreeSet::new();
    for (file, row) in rows() {
        assert!(
            !row.source.is_empty() && !row.confidence.is_empty(),
            "{}",
            row.id
        );
        *count.entry((file, row.confidence)).or_default() += 1;
        assert!(ids.insert(row.id.clone()), "{} stands twice", row.id);
    }
    for ((file, confidence), rows) in &count {
        println!("{file:24} {confidence:28} {rows:4}");
    }
    println!("{} rows", ids.len());
    assert!(ids.len() >= 300);
}

/// A wrong answer is noticed, whatever the kind of row.
#[test]
fn a_wrong_answer_is_a_fault() {
    for (_, row) in rows() {
        let wrong = match answer(&row).unwrap() {
            Answer::Is(value) => Answer::Is(value * 1.1 + 1e-3),
            Answer::Near(value, share) => Answer::Near(value * (1.1 + 2.0 * share), share),
            Answer::Says(_) => Answer::Says("nothing of the kind"),
        };
        assert!(row.fault(&wrong).is_some(), "{} takes {wrong:?}", row.id);
    }
}
