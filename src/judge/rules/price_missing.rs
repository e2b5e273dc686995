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
}
