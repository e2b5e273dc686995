//! One missing figure in one row, whichever rules ask for it.

use crate::judge::verdict::{Outcome, Verdict};

/// Subjects named before the rest are only counted.
const NAMED: usize = 3;

/// The verdicts, with those that lack the same figure, and show none, put together at the place of
/// the first: one answer settles them all.
pub(super) fn grouped(verdicts: Vec<&Verdict>) -> Vec<Verdict> {
    let mut groups: Vec<Vec<&Verdict>> = Vec::new();
    for verdict in verdicts {
        let same = lacking(verdict).and_then(|missing| {
            groups.iter_mut().find(|group| {
                group
                    .first()
                    .is_some_and(|first| lacking(first) == Some(missing))
            })
        });
        match same {
            Some(group) => group.push(verdict),
            None => groups.push(vec![verdict]),
        }
    }
    groups.iter().filter_map(|group| together(group)).collect()
}

/// What a verdict lacks, when it shows no figure.
fn lacking(verdict: &Verdict) -> Option<&str> {
    match &verdict.outcome {
        Outcome::CannotTell { missing } if verdict.found.is_none() => Some(missing),
        _ => None,
    }
}

fn together(group: &[&Verdict]) -> Option<Verdict> {
    let first = *group.first()?;
    if group.len() == 1 {
        return Some(first.clone());
    }
    let each = |of: fn(&Verdict) -> &str| {
        let mut texts: Vec<&str> = Vec::new();
        for text in group.iter().map(|verdict| of(verdict)) {
            if !texts.contains(&text) {
                texts.push(text);
            }
        }
        texts
    };
    let subjects = each(|verdict| &verdict.subject);
    let mut subject = subjects
        .iter()
        .take(NAMED)
        .copied()
        .collect::<Vec<_>>()
        .join(", ");
    if subjects.len() > NAMED {
        subject.push_str(&format!(" and {} more", subjects.len() - NAMED));
    }
    Some(Verdict {
        rule: each(|verdict| &verdict.rule).join(", "),
        subject,
        source: each(|verdict| &verdict.source).join("; "),
        ..first.clone()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::project::Severity;

    fn untold(rule: &str, subject: &str, missing: &str) -> Verdict {
        let missing = missing.to_owned();
        let finding = crate::judge::finding::Finding::cannot_tell(subject.to_owned(), missing);
        finding.into_verdict(rule, Severity::Fault, "datasheet")
    }

    #[test]
    fn one_figure_is_asked_for_once() {
        let verdicts = [
            untold("cable-ampacity", "feed cable F-001", "`most_current`"),
            untold("driver-space", "cupboard a", "`space`"),
            untold("cable-ampacity", "feed cable F-002", "`most_current`"),
            untold(
                "cable-overload-protected",
                "feed cable F-001",
                "`most_current`",
            ),
            untold(
                "cable-overload-protected",
                "feed cable F-003",
                "`most_current`",
            ),
            untold(
                "cable-overload-protected",
                "feed cable F-004",
                "`most_current`",
            ),
        ];
        let rows = grouped(verdicts.iter().collect());
        let [cables, space] = rows.as_slice() else {
            panic!("{rows:?}")
        };
        assert_eq!(cables.rule, "cable-ampacity, cable-overload-protected");
        assert_eq!(
            cables.subject,
            "feed cable F-001, feed cable F-002, feed cable F-003 and 1 more"
        );
        assert_eq!(cables.source, "datasheet");
        assert_eq!(space, &verdicts[1]);
    }
}
