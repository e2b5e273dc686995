//! The cutting list fits the reels and bars that are bought.

use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::offer::ItemKind;
use crate::model::project::{Project, Severity};
use crate::norms::limit::{Bound, Limit, Source};
use crate::price::priced::CutStock;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use uom::si::length::meter;

/// The cutting list fits the reels and bars that are bought.
pub static RULE: Rule = Rule {
    id: "reel-waste",
    subject: Subject::Price,
    statement: "the pieces cut from each reel or bar, with the saw cuts between them, are no longer than it is",
    formula: "sum of the pieces + kerf × (pieces − 1), in % of the reel or bar: the fullest of each item; what is left is listed as offcut",
    sources: &everywhere("exact cutting: the list can be followed with a rule and a marker"),
    severity: Severity::Note,
    severities: &[],
    remedy: "another reel or bar length",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let cuts = &evidence.quote.cuts;
    let mut items: Vec<(ItemKind, &str)> = cuts.iter().map(|c| (c.kind, c.item.as_str())).collect();
    items.sort_unstable();
    items.dedup();
    items
        .into_iter()
        .filter_map(|(kind, item)| {
            let own = cuts
                .iter()
                .filter(|cut| cut.kind == kind && cut.item == item);
            let fullest = own.map(|cut| used_percent(evidence.project, cut));
            Some(of_item(evidence, kind, item, fullest.reduce(f64::max)?))
        })
        .collect()
}

/// Rounding in the sum of lengths.
const ROUNDING: f64 = 1e-6;

fn of_item(evidence: &Evidence<'_>, kind: ItemKind, item: &str, percent: f64) -> Finding {
    let whole = Limit {
        value: 100.0 + ROUNDING,
        bound: Bound::AtMost,
        source: Source::CommonPractice("a reel or bar is as long as it is"),
    };
    let found = Figure::new(percent, Unit::Percent);
    let mut finding = Finding::measured(items::subject(kind, item), found, &whole);
    finding.limit = Some((Bound::AtMost, Figure::new(100.0, Unit::Percent)));
    let finding =
        finding.remedy(|| "another reel or bar length for the longest of them".to_owned());
    match evidence.project.catalogue.offer(kind, item) {
        Some(offer) => finding.at(&offer.place),
        None => finding,
    }
}

fn used_percent(project: &Project, cut: &CutStock) -> f64 {
    let pieces: f64 = cut.pieces.iter().map(|p| p.length.get::<meter>()).sum();
    let profiles = &project.catalogue.profiles;
    let profile = profiles
        .iter()
        .find(|profile| cut.kind == ItemKind::Profile && profile.offer.id == cut.item);
    let kerf = profile.map_or(0.0, |profile| profile.kerf.get::<meter>());
    let saw_cuts = real(cut.pieces.len().saturating_sub(1));
    100.0 * (pieces + kerf * saw_cuts) / cut.stock.get::<meter>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        let cut = &mut job.quote.cuts[0];
        cut.pieces[0].length = cut.stock * 1.001;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        let mut job = Sample::new();
        let cut = &mut job.quote.cuts[0];
        cut.pieces.truncate(1);
        cut.pieces[0].length = cut.stock;
        assert_eq!(job.worst(&RULE), "holds");
    }
}
