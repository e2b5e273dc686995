//! Every bought line has a price.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::offer::ItemKind;
use crate::model::project::Severity;
use crate::price::priced::{Line, PriceFlag};

/// Every bought line has a price.
pub static RULE: Rule = Rule {
    id: "price-missing",
    subject: Subject::Price,
    statement: "every line of the materials list has a price",
    formula: "lines without a price in any catalogue; no total includes them",
    sources: &everywhere("common practice, no source: a total with a missing price is not a quote"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "put the price into the catalogue, or mark the line as to be confirmed",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let missing = |line: &&Line| line.flags.contains(&PriceFlag::Missing);
    let lines: Vec<&Line> = evidence.quote.lines.iter().filter(missing).collect();
    if lines.is_empty() {
        return vec![Finding::plain("materials list".to_owned(), true)];
    }
    lines
        .into_iter()
        .map(|line| of_line(evidence, line))
        .collect()
}

fn of_line(evidence: &Evidence<'_>, line: &Line) -> Finding {
    let subject = format!("{} {}", line.kind.name().replace('_', " "), line.item);
    let finding = Finding::plain(subject, false).remedy(|| remedy(evidence, line));
    match evidence.project.catalogue.offer(line.kind, &line.item) {
        Some(offer) => finding.at(&offer.place),
        None => finding,
    }
}

/// A strip whose reels all have prices lacks no price: no reel holds the section in one piece.
fn remedy(evidence: &Evidence<'_>, line: &Line) -> String {
    let strips = &evidence.project.catalogue.strips;
    let strip = strips.iter().find(|strip| strip.offer.id == line.item);
    let reels = strip
        .map(|strip| strip.reels.as_slice())
        .unwrap_or_default();
    if line.kind == ItemKind::Strip
        && !reels.is_empty()
        && reels.iter().all(|r| r.price().is_some())
    {
        return "no reel holds the section in one piece: see rule `reel-joint`".to_owned();
    }
    format!("add `price` to `{}` in its catalogue", line.item)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use crate::model::strip::Strip;
    use std::sync::Arc;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.quote.lines[0].flags.push(PriceFlag::Missing);
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let job = Sample::new();
        assert_eq!(job.worst(&RULE), "holds");
    }

    /// What the first line of a kind is told to do when it has no price.
    fn told(job: &mut Sample, kind: ItemKind) -> String {
        let lines = &mut job.quote.lines;
        let line = lines.iter_mut().find(|line| line.kind == kind);
        line.expect("there is such a line")
            .flags
            .push(PriceFlag::Missing);
        let findings = check(&job.evidence());
        findings[0].remedy.clone().expect("it is broken")
    }

    /// Bends the strip of the first line of strip.
    fn bend(job: &mut Sample, bend: impl Fn(&mut Strip)) {
        let line = job.quote.lines.iter().find(|l| l.kind == ItemKind::Strip);
        let item = line.expect("there is a line of strip").item.clone();
        let strips = &mut job.project.catalogue.strips;
        let strip = strips.iter_mut().find(|strip| strip.offer.id == item);
        bend(Arc::make_mut(strip.expect("it is in the catalogue")));
    }

    #[test]
    fn a_driver_without_a_price_is_told_to_get_one() {
        let mut job = Sample::new();
        let told = told(&mut job, ItemKind::Driver);
        assert!(told.starts_with("add `price` to `"), "{told}");
    }

    #[test]
    fn a_strip_whose_reels_all_have_prices_is_sent_to_the_rule_on_joints() {
        let mut job = Sample::new();
        let told = told(&mut job, ItemKind::Strip);
        assert!(told.contains("`reel-joint`"), "{told}");
    }

    #[test]
    fn a_strip_with_a_reel_without_a_price_or_without_reels_is_told_to_get_one() {
        let bends: [fn(&mut Strip); 2] = [
            |strip| strip.reels[0].prices.clear(),
            |strip| strip.reels.clear(),
        ];
        for bent in bends {
            let mut job = Sample::new();
            bend(&mut job, bent);
            let told = told(&mut job, ItemKind::Strip);
            assert!(told.starts_with("add `price` to `"), "{told}");
        }
    }

    #[test]
    fn a_driver_named_like_a_strip_is_not_sent_to_the_rule_on_joints() {
        let mut job = Sample::new();
        let named = job.project.catalogue.strips[0].offer.id.clone();
        let lines = &mut job.quote.lines;
        let line = lines.iter_mut().find(|line| line.kind == ItemKind::Driver);
        line.expect("there is a line of drivers").item = named;
        let told = told(&mut job, ItemKind::Driver);
        assert!(told.starts_with("add `price` to `"), "{told}");
    }
}
