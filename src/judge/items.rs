//! What several price rules share: the lines of the materials list by catalogue item.

use super::rule::Evidence;
use crate::model::offer::{ItemKind, Offer};
use crate::price::priced::Line;
use std::collections::BTreeMap;

/// What a finding about an item is called: `control device ceiling-sensor`.
pub fn subject(kind: ItemKind, item: &str) -> String {
    format!("{} {item}", kind.name().replace('_', " "))
}

/// The items bought, each with its offer and its lines, by kind and id.
pub fn bought<'a>(evidence: &Evidence<'a>) -> Vec<(&'a Offer, Vec<&'a Line>)> {
    let mut items: BTreeMap<(ItemKind, &str), Vec<&Line>> = BTreeMap::new();
    for line in &evidence.quote.lines {
        let key = (line.kind, line.item.as_str());
        items.entry(key).or_default().push(line);
    }
    let catalogue = &evidence.project.catalogue;
    items
        .into_iter()
        .filter_map(|((kind, id), lines)| Some((catalogue.offer(kind, id)?, lines)))
        .collect()
}

/// Whether the project says anything of how costs become a price; one that does not is no quote.
pub fn is_priced(evidence: &Evidence<'_>) -> bool {
    let pricing = &evidence.project.pricing;
    pricing.labour_rate.is_some()
        || pricing.uplift.is_some()
        || pricing.tax.is_some()
        || !pricing.spares.is_empty()
}
