//! A missing figure is told once: what belongs to a catalogue item is missing for every run that
//! uses it, and one answer tells them all.

use super::finding::Finding;
use super::verdict::Outcome;

/// Subjects named before the rest are only counted.
const NAMED: usize = 3;

/// The findings, with those that lack the same figure put together at the place of the first.
/// Findings that show a figure all the same stay apart.
pub fn once_each(findings: Vec<Finding>) -> Vec<Finding> {
    let mut kept: Vec<(Finding, Vec<String>)> = Vec::new();
    for finding in findings {
        let same = lacking(&finding).and_then(|missing| {
            kept.iter_mut()
                .find(|(first, _)| lacking(first) == Some(missing))
        });
        match same {
            Some((_, others)) if !others.contains(&finding.subject) => others.push(finding.subject),
            Some(_) => {}
            None => {
                let subject = finding.subject.clone();
                kept.push((finding, vec![subject]));
            }
        }
    }
    kept.into_iter()
        .map(|(finding, subjects)| match subjects.len() {
            1 => finding,
            _ => Finding {
                subject: together(&subjects),
                each: subjects,
                ..finding
            },
        })
        .collect()
}

/// What a finding lacks, when it shows no figure.
fn lacking(finding: &Finding) -> Option<&str> {
    match &finding.outcome {
        Outcome::CannotTell { missing } if finding.found.is_none() => Some(missing),
        _ => None,
    }
}

/// `run a, run b, run c and 4 more`.
fn together(subjects: &[String]) -> String {
    let named: Vec<&str> = subjects.iter().take(NAMED).map(String::as_str).collect();
    let named = named.join(", ");
    match subjects.len().saturating_sub(NAMED) {
        0 => named,
        more => format!("{named} and {more} more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_missing_figure_is_told_once_and_others_stay_apart() {
        let lacks = |subject: &str, missing: &str| {
            Finding::cannot_tell(subject.to_owned(), missing.to_owned())
        };
        let findings = vec![
            lacks("run a", "`bin` in strip `x`"),
            Finding::plain("run b".to_owned(), false),
            lacks("run c", "`bin` in strip `x`"),
            lacks("run d", "`bin` in strip `y`"),
            lacks("run e", "`bin` in strip `x`"),
            lacks("run f", "`bin` in strip `x`"),
            lacks("run f", "`bin` in strip `x`"),
        ];
        let subjects: Vec<String> = once_each(findings).into_iter().map(|f| f.subject).collect();
        assert_eq!(
            subjects,
            ["run a, run c, run e and 1 more", "run b", "run d"]
        );
    }
}
