//! What is bought is bought in whole packs.

use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::offer::Offer;
use crate::model::project::Severity;
use crate::price::priced::{Line, Measured};
use rust_decimal::Decimal;

/// What is bought is bought in whole packs.
pub static RULE: Rule = Rule {
    id: "pack-size",
    subject: Subject::Price,
    statement: "what is bought of an item, spares included, is a whole number of packs, covers what is needed, and what is left over is shown",
    formula: "bought ÷ pack without a remainder; left over = bought − needed − waste, over the item’s lines",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Note,
    severities: &[],
    remedy: "buy the next whole pack",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let broken: Vec<Finding> = items::bought(evidence)
        .iter()
        .filter_map(|(offer, lines)| of_item(offer, lines))
        .collect();
    if broken.is_empty() {
        return vec![Finding::plain("materials list".to_owned(), true)];
    }
    broken
}

/// An item whose quantities don't add up; `None` when they do.
fn of_item(offer: &Offer, lines: &[&Line]) -> Option<Finding> {
    let by_the_piece = |line: &&&Line| line.measured != Measured::StockLength;
    let counted: Vec<&&Line> = lines.iter().filter(by_the_piece).collect();
    let sum = |of: fn(&Line) -> Decimal| -> Decimal { counted.iter().map(|line| of(line)).sum() };
    let (needed, bought, left) = (
        sum(|l| l.needed + l.waste),
        sum(|l| l.bought),
        sum(|l| l.left_over),
    );
    let whole = bought
        .checked_rem(Decimal::from(offer.pack))
        .is_some_and(|rest| rest.is_zero());
    let from_offcuts = lines.len() > counted.len();
    if from_offcuts || whole && bought >= needed && left == bought - needed {
        return None;
    }
    let subject = items::subject(offer.kind, &offer.id);
    Some(Finding::plain(subject, false).at(&offer.place).remedy(|| {
        format!(
            "{needed} needed in packs of {}: buy whole packs, not {bought}",
            offer.pack
        )
    }))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    fn packed(job: &mut Sample) -> &mut Line {
        let mut lines = job.quote.lines.iter_mut();
        lines.find(|line| line.pack > 1).expect("an item in packs")
    }

    #[test]
    fn breaks_with_a_part_of_a_pack() {
        let mut job = Sample::new();
        packed(&mut job).bought -= Decimal::ONE;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn breaks_when_what_is_left_over_is_not_shown() {
        let mut job = Sample::new();
        packed(&mut job).left_over = Decimal::ZERO;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let mut job = Sample::new();
        assert!(packed(&mut job).left_over > Decimal::ZERO);
        assert_eq!(job.worst(&RULE), "holds");
    }
}
