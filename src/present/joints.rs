//! Where the pieces cut from reels are joined.

use crate::model::offer::ItemKind;
use crate::price::priced::Quote;
use crate::quantity::Length;
use std::collections::HashMap;

/// Places of the joints of each section, from the run's start, rising; by run and section, from 1.
#[derive(Debug)]
pub struct Joints(HashMap<String, HashMap<usize, Vec<Length>>>);

impl Joints {
    /// Those of a job.
    #[must_use]
    pub fn of(quote: &Quote) -> Joints {
        let mut all: HashMap<String, HashMap<usize, Vec<Length>>> = HashMap::new();
        let strip = quote.cuts.iter().filter(|cut| cut.kind == ItemKind::Strip);
        // A piece that does not begin where the section does is joined to the one before it.
        let joined = strip.flat_map(|cut| &cut.pieces).filter(|it| it.part > 1);
        for piece in joined {
            let of_run = all.entry(piece.run.clone()).or_default();
            of_run.entry(piece.section).or_default().push(piece.at);
        }
        for places in all.values_mut().flat_map(HashMap::values_mut) {
            places.sort_by(|a, b| a.value.total_cmp(&b.value));
        }
        Joints(all)
    }

    /// Those of a section, from the run's start, rising; sections counted from 1.
    #[must_use]
    pub fn at(&self, run: &str, section: usize) -> &[Length] {
        let places = self.0.get(run).and_then(|of_run| of_run.get(&section));
        places.map_or(&[], Vec::as_slice)
    }
}
