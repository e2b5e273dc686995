//! The job needs as much as the supplier sells at least.

use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::offer::Offer;
use crate::model::project::Severity;
use crate::norms::limit::Bound;
use crate::price::priced::{Line, Measured};
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use std::collections::BTreeMap;

/// The job needs as much as the supplier sells at least.
pub static RULE: Rule = Rule {
    id: "smallest-order",
    subject: Subject::Price,
    statement: "what the job needs of an item, in whole packs and with its spares, is at least the supplier’s smallest order",
    formula: "needed over the item’s lines, rounded up to whole packs, against `smallest_order`; the quote buys the smallest order either way",
    sources: &everywhere("the catalogue"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "combine the order with another job’s; another item that is sold singly",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let items = items::bought(evidence);
    let ordered = items.iter().filter(|(offer, _)| offer.smallest_order > 1);
    ordered
        .filter_map(|(offer, lines)| of_item(offer, lines))
        .collect()
}

fn of_item(offer: &Offer, lines: &[&Line]) -> Option<Finding> {
    let needed = least_needed(lines);
    let pack = Decimal::from(offer.pack.max(1));
    let packs = needed.checked_div(pack)?.ceil() * pack;
    let found = packs.to_f64()?;
    let least = real(offer.smallest_order);
    let mut finding = Finding::plain(items::subject(offer.kind, &offer.id), found >= least);
    finding.found = Some(Figure::new(found, Unit::Count));
    finding.limit = Some((Bound::AtLeast, Figure::new(least, Unit::Count)));
    Some(finding.at(&offer.place).remedy(|| {
        format!(
            "{needed} needed, {} is the least sold: order together with another job, or use an item that is sold singly",
            offer.smallest_order
        )
    }))
}

/// What is needed of the item, spares included; of the length that is needed least, where it is sold
/// in lengths.
fn least_needed(lines: &[&Line]) -> Decimal {
    let out_of_offcuts = |line: &Line| line.spare && line.measured == Measured::Metre;
    let bought = lines.iter().filter(|line| !out_of_offcuts(line));
    let mut by_length: BTreeMap<&str, Decimal> = BTreeMap::new();
    for line in bought {
        let length = match line.measured {
            Measured::StockLength => line.description.trim_end_matches(", spare"),
            _ => "",
        };
        *by_length.entry(length).or_default() += line.needed + line.waste;
    }
    by_length.into_values().min().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::offer::ItemKind;
    use std::sync::Arc;

    /// The sample, whose three sensors are sold so many at a time at least.
    fn job(smallest: usize) -> Sample {
        let mut job = Sample::new();
        for device in &mut job.project.catalogue.control_devices {
            Arc::make_mut(device).offer.smallest_order = smallest;
        }
        job
    }

    #[test]
    fn breaks_beyond_its_limit() {
        assert_eq!(job(4).worst(&RULE), "broken");
    }

    #[test]
    fn holds_at_its_limit() {
        assert_eq!(job(3).worst(&RULE), "holds");
    }

    /// Ten reels of 5 m; two of 10 m and a third as a spare; a metre of offcut, which is not ordered.
    #[test]
    fn each_length_is_ordered_by_itself_and_offcuts_are_not_ordered() {
        let with = |smallest: usize| {
            let mut job = Sample::new();
            let mut lines = job.quote.lines.iter();
            let strip = lines.find(|line| line.kind == ItemKind::Strip);
            let strip = strip.expect("a strip").clone();
            let reels = |description: &str, needed: i64, spare: bool, measured: Measured| Line {
                description: description.to_owned(),
                needed: Decimal::from(needed),
                waste: Decimal::ZERO,
                spare,
                measured,
                pack: 1,
                ..strip.clone()
            };
            job.quote.lines = vec![
                reels("strip, reel of 5 m", 10, false, Measured::StockLength),
                reels("strip, reel of 10 m", 2, false, Measured::StockLength),
                reels("strip, reel of 10 m, spare", 1, true, Measured::StockLength),
                reels("strip, spare", 1, true, Measured::Metre),
            ];
            for item in &mut job.project.catalogue.strips {
                let item = Arc::make_mut(item);
                (item.offer.smallest_order, item.offer.pack) = (smallest, 1);
            }
            job.worst(&RULE)
        };
        assert_eq!([3, 4].map(with), ["holds", "broken"]);
    }
}
