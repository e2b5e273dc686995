//! One row for what one change of the files settles: a missing figure, whichever rules ask for it,
//! and what one rule says alike of several things.

use crate::judge::verdict::{Outcome, Verdict};

/// Subjects named before the rest are only counted.
const NAMED: usize = 3;

/// The verdicts, with those that lack the same figure, and show none, put together at the place of
/// the first, and so those that are broken alike by one place of the files: one answer settles them
/// all.
pub(super) fn grouped(verdicts: Vec<&Verdict>) -> Vec<Verdict> {
    let mut groups: Vec<Vec<&Verdict>> = Vec::new();
    for verdict in verdicts {
        let same = groups.iter_mut().find(|group| {
            let mut first = group.iter().take(1);
            first.any(|first| lack_the_same(first, verdict) || broken_alike(first, verdict))
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

fn lack_the_same(one: &Verdict, other: &Verdict) -> bool {
    lacking(one).is_some() && lacking(one) == lacking(other)
}

/// Whether one rule says the same of both, figures included, and sends the reader to one place.
fn broken_alike(one: &Verdict, other: &Verdict) -> bool {
    let said = |verdict: &Verdict| {
        let broken = verdict.outcome == Outcome::Broken && verdict.place.is_some();
        broken.then(|| {
            (
                verdict.rule.clone(),
                verdict.remedy.clone(),
                verdict.place.clone(),
                verdict.found.map(|found| found.to_string()),
                verdict.limit.map(|(_, limit)| limit.to_string()),
            )
        })
    };
    said(one).is_some() && said(one) == said(other)
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
        rule: each(|verdict| &verdict.rule).join(", ").into(),
        subject,
        source: each(|verdict| &verdict.source).join("; ").into(),
        ..first.clone()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::project::Severity;

    fn untold(rule: &'static str, subject: &str, missing: &str) -> Verdict {
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

    #[test]
    fn what_is_broken_alike_at_one_place_is_one_row() {
        let broken = |subject: &str, line: usize, remedy: &'static str| {
            let place = crate::diagnostic::Place {
                file: "project.yaml".into(),
                line,
                column: 1,
            };
            crate::judge::finding::Finding::plain(subject.to_owned(), false)
                .at(&place)
                .remedy(|| remedy.to_owned())
                .into_verdict("breaker-cable", Severity::Fault, "IEC 60364-4-43")
        };
        let verdicts = [
            broken("circuit C1", 9, "larger cable"),
            broken("circuit C2", 9, "larger cable"),
            broken("circuit C3", 10, "larger cable"),
            broken("circuit C4", 9, "a smaller breaker"),
        ];
        let rows = grouped(verdicts.iter().collect());
        let subjects: Vec<&str> = rows.iter().map(|row| row.subject.as_str()).collect();
        assert_eq!(
            subjects,
            ["circuit C1, circuit C2", "circuit C3", "circuit C4"]
        );
    }
}
