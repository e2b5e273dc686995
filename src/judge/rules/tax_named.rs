//! The tax has a name and stands outside the net total.

use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::project::Severity;

/// The tax has a name and stands outside the net total.
pub static RULE: Rule = Rule {
    id: "tax-named",
    subject: Subject::Price,
    statement: "the quote names its tax and the rate, and adds it to the net total",
    formula: "gross = net + tax, with `pricing.tax` named; 0 % is a rate",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Note,
    severities: &[],
    remedy: "name the tax and its rate in `pricing.tax`",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    if !items::is_priced(evidence) {
        let why = "the project says nothing of prices (`pricing`)".to_owned();
        return vec![Finding::not_here("quote".to_owned(), why)];
    }
    let totals = &evidence.quote.totals;
    let named = evidence.project.pricing.tax.is_some();
    let outside = totals.gross == totals.net + totals.tax;
    let finding = Finding::plain("quote".to_owned(), named && outside)
        .at(&evidence.project.pricing.place)
        .remedy(|| {
            "set `pricing: {tax: {name: VAT, rate: 0 %}}` with the name and the rate that hold where the job is"
                .to_owned()
        });
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;
    use rust_decimal::Decimal;

    const NAMED: &str = "margin: 20 %, tax: {name: VAT, rate: 0 %}}";

    #[test]
    fn breaks_when_nothing_is_said_or_it_is_inside_the_net_total() {
        assert_eq!(Sample::new().worst(&RULE), "broken");
        let mut job = Sample::with("margin: 20 %}", NAMED);
        job.quote.totals.tax += Decimal::ONE;
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn without_any_pricing_there_is_no_quote_to_judge() {
        let job = Sample::with("pricing: {labour_rate: 40.00, margin: 20 %}\n", "");
        assert_eq!(job.worst(&RULE), "not here");
    }

    #[test]
    fn holds_with_a_named_rate() {
        assert_eq!(Sample::with("margin: 20 %}", NAMED).worst(&RULE), "holds");
    }
}
