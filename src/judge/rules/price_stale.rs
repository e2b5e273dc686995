//! No price is past its date.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;
use crate::price::priced::{Line, PriceFlag};

/// No price is past its date.
pub static RULE: Rule = Rule {
    id: "price-stale",
    subject: Subject::Price,
    statement: "no price was valid only until a day before the project’s date",
    formula: "the project’s date against `price_valid_until`",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Caution,
    severities: &[],
    remedy: "ask for new prices",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let stale = |line: &&Line| line.flags.iter().any(|f| matches!(f, PriceFlag::Stale(_)));
    let lines: Vec<&Line> = evidence.quote.lines.iter().filter(stale).collect();
    if lines.is_empty() {
        return vec![all_fresh(evidence)];
    }
    lines
        .into_iter()
        .map(|line| of_line(evidence, line))
        .collect()
}

/// Without a date there is nothing to hold the prices against.
fn all_fresh(evidence: &Evidence<'_>) -> Finding {
    let subject = "materials list".to_owned();
    if evidence.project.heading.date.is_some() {
        return Finding::plain(subject, true);
    }
    Finding::cannot_tell(subject, "`project.date` (the project file)".to_owned())
}

fn of_line(evidence: &Evidence<'_>, line: &Line) -> Finding {
    let subject = format!("{} {}", line.kind.name().replace('_', " "), line.item);
    let finding = Finding::plain(subject, false).remedy(|| {
        let until = line
            .price_valid_until
            .map(|date| date.to_string())
            .unwrap_or_default();
        format!("ask for a new price: this one held until {until}")
    });
    match evidence.project.catalogue.offer(line.kind, &line.item) {
        Some(offer) => finding.at(&offer.place),
        None => finding,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_beyond_its_limit() {
        let mut job = Sample::new();
        job.quote.lines[0]
            .flags
            .push(PriceFlag::Stale(time::macros::date!(2026 - 01 - 01)));
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        let job = Sample::new();
        assert_eq!(job.worst(&RULE), "holds");
    }

    #[test]
    fn cannot_tell_without_the_figure() {
        let mut job = Sample::new();
        job.project.heading.date = None;
        assert_eq!(job.worst(&RULE), "cannot tell");
    }
}
