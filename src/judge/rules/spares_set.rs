//! Spares are stated, even if there are none.

use crate::judge::finding::Finding;
use crate::judge::items;
use crate::judge::rule::{Evidence, Rule, Subject, everywhere};
use crate::model::offer::ItemKind;
use crate::model::project::Severity;

/// Spares are stated, even if there are none.
pub static RULE: Rule = Rule {
    id: "spares-set",
    subject: Subject::Price,
    statement: "the project says which share of strip and of drivers is bought as spares, 0 % included",
    formula: "`pricing.spares` has a share for strip and for driver",
    sources: &everywhere("common practice, no source"),
    severity: Severity::Note,
    severities: &[],
    remedy: "state the spares of strip and drivers in `pricing.spares`",
    caution: None,
    check,
};

fn check(evidence: &Evidence<'_>) -> Vec<Finding> {
    if !items::is_priced(evidence) {
        let why = "the project says nothing of prices (`pricing`)".to_owned();
        return vec![Finding::not_here("spares".to_owned(), why)];
    }
    let pricing = &evidence.project.pricing;
    let missing: Vec<&str> = [ItemKind::Strip, ItemKind::Driver]
        .into_iter()
        .filter(|kind| !pricing.spares.contains_key(kind))
        .map(ItemKind::name)
        .collect();
    let finding = Finding::plain("spares".to_owned(), missing.is_empty())
        .at(&pricing.place)
        .remedy(|| {
            let keys: Vec<String> = missing.iter().map(|kind| format!("{kind}: 0 %")).collect();
            format!(
                "set `pricing: {{spares: {{{}}}}}`, or the share that is wanted",
                keys.join(", ")
            )
        });
    vec![finding]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::sample::Sample;

    #[test]
    fn breaks_when_nothing_is_said() {
        assert_eq!(Sample::new().worst(&RULE), "broken");
        let job = Sample::with("margin: 20 %}", "margin: 20 %, spares: {strip: 3 %}}");
        assert_eq!(job.worst(&RULE), "broken");
    }

    #[test]
    fn without_any_pricing_there_is_no_quote_to_judge() {
        let job = Sample::with("pricing: {labour_rate: 40.00, margin: 20 %}\n", "");
        assert_eq!(job.worst(&RULE), "not here");
    }

    #[test]
    fn holds_with_none_said_to_be_none() {
        let none = "margin: 20 %, spares: {strip: 0 %, driver: 0 %}}";
        assert_eq!(Sample::with("margin: 20 %}", none).worst(&RULE), "holds");
    }
}
