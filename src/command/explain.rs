//! `feedpoint explain`: a rule in full, or the list of rules.

use super::{Failure, Outcome, Output};
use crate::judge::rule::Rule;
use crate::judge::{RULES, SUBJECTS, rule};
use crate::load::nearest::nearest;
use crate::norms::region::Region;
use crate::present::terminal;

/// What to explain.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  feedpoint explain
  feedpoint explain strip-light-drop")]
pub struct Args {
    /// The rule's id; without it, the list of rules
    rule: Option<String>,
}

/// Prints a rule, or the list.
///
/// # Errors
/// When there is no such rule, or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    match &args.rule {
        None => print_list(out)?,
        Some(id) => print_rule(rule(id).ok_or_else(|| unknown(id))?, out)?,
    }
    Ok(Outcome::NothingBroken)
}

fn unknown(id: &str) -> Failure {
    let near = nearest(id, RULES.iter().map(|rule| rule.id));
    let hint = near.map_or_else(
        || "`feedpoint explain` lists them".to_owned(),
        |near| format!("did you mean `{near}`?"),
    );
    Failure::saying(format!("no rule is called `{id}` ({hint})"))
}

fn print_list(out: &mut Output) -> Result<(), Failure> {
    for subject in SUBJECTS {
        let lines: Vec<(&str, &str)> = RULES
            .iter()
            .filter(|rule| rule.subject == *subject)
            .map(|rule| (rule.id, rule.statement))
            .collect();
        let text = terminal::fields(subject.title(), &lines, out.look);
        out.result(&text)?;
        out.result("\n")?;
    }
    out.result("A rule in full: feedpoint explain RULE\n")
}

fn print_rule(rule: &Rule, out: &mut Output) -> Result<(), Failure> {
    let sources = sources(rule);
    let mut fields = vec![("States", rule.statement), ("Figure", rule.formula)];
    fields.extend(sources.iter().map(|(label, said)| (*label, said.as_str())));
    fields.push(("Remedy", rule.remedy));
    fields.extend(rule.caution.map(|caution| ("Caution", caution)));
    let text = terminal::fields(rule.id, &fields, out.look);
    out.result(&text)
}

/// What the rule rests on in each region; once where that is the same in all.
fn sources(rule: &Rule) -> Vec<(&'static str, String)> {
    let by_region: Vec<(&str, String)> = Region::ALL
        .iter()
        .map(|region| {
            let severity = rule.severity_in(*region).name();
            let said = rule.source(*region).map_or_else(
                || "no such limit".to_owned(),
                |source| format!("{source}; {severity} when broken"),
            );
            (region.name(), said)
        })
        .collect();
    match by_region.split_first() {
        Some(((_, first), others)) if others.iter().all(|(_, said)| said == first) => {
            vec![("Source", first.clone())]
        }
        _ => by_region,
    }
}
