//! Cutting and packing against published optima: textbook and benchmark instances, each row of
//! `published/cutting.csv` with its source.

use feedpoint::choose::cutting::{Piece, Stock, cut};
use feedpoint::choose::packing::{Load, Unit, pack};
use serde::Deserialize;

#[derive(Deserialize)]
struct Row {
    id: String,
    inputs: String,
    value: usize,
    source: String,
}

/// The whole numbers in a text.
fn numbers(text: &str) -> Vec<u64> {
    text.split(|c: char| !c.is_ascii_digit())
        .filter(|digits| !digits.is_empty())
        .map(|digits| digits.parse().expect("a whole number"))
        .collect()
}

/// Least stock lengths for "stock 3000 mm; 9×1240, 11×880; 3 mm kerf between pieces", and whether
/// that is proved.
fn cutting(inputs: &str) -> (usize, bool) {
    let parts: Vec<&str> = inputs.split(';').collect();
    let stock = Stock {
        length: numbers(parts[0])[0],
        price_minor: 1,
        available: None,
    };
    let pieces: Vec<Piece> = parts[1]
        .split(',')
        .map(|piece| {
            let [count, length] = numbers(piece)[..] else {
                panic!("`{piece}` is not count×length");
            };
            Piece {
                length,
                count: usize::try_from(count).expect("a count"),
            }
        })
        .collect();
    let kerf = parts.get(2).and_then(|kerf| numbers(kerf).first().copied());
    let plan = cut(&[stock], &pieces, kerf.unwrap_or(0)).expect("every piece fits");
    (plan.bars.len(), plan.optimal)
}

/// Fewest bins for "capacity 150; items 42 69 67", and whether that is proved.
fn packing(inputs: &str) -> (usize, bool) {
    let (capacity, items) = inputs.split_once(';').expect("capacity; items");
    let unit = Unit {
        usable: numbers(capacity)[0],
        outputs: None,
        price_minor: 1,
    };
    let loads: Vec<Load> = numbers(items)
        .into_iter()
        .map(|power| Load { power, outputs: 1 })
        .collect();
    let packing = pack(&[unit], &loads).expect("every item fits");
    (packing.drivers.len(), packing.optimal)
}

#[test]
fn reaches_and_proves_every_published_optimum() {
    let text = include_str!("published/cutting.csv");
    let rows = csv::Reader::from_reader(text.as_bytes());
    let mut wrong = Vec::new();
    let mut asked = 0;
    for row in rows.into_deserialize() {
        let row: Row = row.expect("a row");
        let found = if row.id.starts_with("cut-") {
            cutting(&row.inputs)
        } else {
            packing(&row.inputs)
        };
        asked += 1;
        if found != (row.value, true) {
            let (id, source, value) = (&row.id, &row.source, row.value);
            wrong.push(format!(
                "{id} ({source}): {value} is optimal, found {found:?}"
            ));
        }
    }
    assert_eq!(asked, 12);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
