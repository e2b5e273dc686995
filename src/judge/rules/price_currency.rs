//! One currency in one total.

use crate::judge::finding::Finding;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;

/// One currency in one total.
pub static RULE: Rule = Rule {
    id: "price-currency",
    subject: Subject::Price,
    statement: "every amount of a quote is in the currency of its catalogues",
    formula: "the quote’s currency against that of the catalogues; catalogues in two currencies are refused when they are read",
    sources: &everywhere("common practice, no source: amounts in two currencies have no sum"),
    severity: Severity::Fault,
    severities: &[],
    remedy: "bring all catalogues of the project into one currency, with the rate and its day written beside it",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    let of_catalogues = &evidence.project.catalogue.currency;
    let of_quote = &evidence.quote.currency;
    let finding = Finding::plain("quote".to_owned(), of_catalogues == of_quote).remedy(|| {
        format!("prices in {of_catalogues} can't be totalled in {of_quote}: convert one of them")
    });
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_with_a_second_currency() {
        let mut job = Sample::new();
        job.quote.currency = "USD".to_owned();
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn holds_as_it_is() {
        assert_eq!(Sample::new().worst(&RULE), "holds");
    }
}
