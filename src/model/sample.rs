//! Things to test with.

use crate::diagnostic::Place;
use crate::model::offer::{ItemKind, Offer};
use crate::model::site::{Point, PointKind};
use std::sync::Arc;

/// A catalogue entry without a price.
pub fn offer(id: &str, kind: ItemKind) -> Offer {
    Offer {
        id: id.to_owned(),
        description: id.to_owned(),
        kind,
        prices: Vec::new(),
        pack: 1,
        smallest_order: 1,
        lead_time_days: None,
        labour: None,
        price_valid_until: None,
        supplier: None,
        place: Place {
            file: "catalogue.yaml".into(),
            line: 1,
            column: 1,
        },
    }
}

/// A point at that place in the site.
pub fn point(index: usize, name: &str, kind: PointKind) -> Arc<Point> {
    Arc::new(Point {
        name: name.to_owned(),
        title: name.to_owned(),
        kind,
        ambient: None,
        space: None,
        sheds: None,
        isolator: None,
        accessible: None,
        index,
        place: None,
    })
}
