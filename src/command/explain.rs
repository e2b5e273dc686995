//! `feedpoint explain`: a rule in full, the list of rules, or what a house rule can measure.

use super::{Failure, Outcome, Output};
use crate::diagnostic::Diagnostics;
use crate::judge::rule::Rule;
use crate::judge::{RULES, SUBJECTS, rule};
use crate::load::{self, nearest::nearest};
use crate::model::house_rule::{Measure, MeasuredOf};
use crate::norms::region::Region;
use crate::pipeline;
use crate::present::job::Job;
use crate::present::{rule_text, terminal};

/// What to explain.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  feedpoint explain
  feedpoint explain strip-light-drop
  feedpoint explain strip-light-drop --on project.yaml
  feedpoint explain --measures")]
pub struct Args {
    /// The rule's id; without it, the list of rules
    rule: Option<String>,
    /// Work its figure on this project, and not on the demo
    #[arg(long, value_name = "PROJECT", requires = "rule")]
    on: Option<String>,
    /// List what a house rule can measure
    #[arg(long, conflicts_with = "rule")]
    measures: bool,
}

/// Prints a rule, or a list.
///
/// # Errors
/// When there is no such rule, the project can't be used, or standard output can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    match &args.rule {
        None if args.measures => print_measures(out)?,
        None => print_list(out)?,
        Some(id) => {
            let rule = rule(id).ok_or_else(|| unknown(id))?;
            let worked = match &args.on {
                Some(project) => on_project(rule, project, out)?,
                None => on_demo(rule),
            };
            print_rule(rule, worked, out)?;
        }
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

fn print_measures(out: &mut Output) -> Result<(), Failure> {
    for of in MeasuredOf::ALL {
        let measures = Measure::ALL
            .into_iter()
            .filter(|measure| measure.of() == of);
        let lines: Vec<(&str, String)> = measures
            .map(|measure| {
                let unit = match measure.unit().sign() {
                    "" => "a count".to_owned(),
                    sign => format!("in {sign}"),
                };
                let loosens = measure.loosens().map(|rule| format!("; may loosen {rule}"));
                let loosens = loosens.unwrap_or_default();
                (
                    measure.name(),
                    format!("{}, {unit}{loosens}", measure.meaning()),
                )
            })
            .collect();
        let lines: Vec<(&str, &str)> = lines
            .iter()
            .map(|(name, text)| (*name, text.as_str()))
            .collect();
        let heading = format!("Of a {}; only: {}", of.name(), of.picked_by().join(", "));
        out.result(&terminal::fields(&heading, &lines, out.look))?;
        out.result("\n")?;
    }
    out.result(EXAMPLE)
}

/// A house rule as a project file has it.
const EXAMPLE: &str = "\
In the project file:
  house_rules:
    - {rule: my-rule, measure: feed_drop, at_most: 4 %, severity: caution,
       only: {room: hall}, because: the reason}
";

fn print_rule(
    rule: &Rule,
    worked: Option<(String, String)>,
    out: &mut Output,
) -> Result<(), Failure> {
    let mut lines = rule_text::lines(rule);
    let text = worked.map(|(label, text)| format!("{label}: {text}"));
    let after_sources = lines.iter().position(|(label, _)| *label == "Remedy");
    if let (Some(text), Some(at)) = (text, after_sources) {
        lines.insert(at, ("Worked", text));
    }
    let lines: Vec<(&str, &str)> = lines
        .iter()
        .map(|(label, text)| (*label, text.as_str()))
        .collect();
    let text = terminal::fields(rule.id, &lines, out.look);
    out.result(&text)
}

/// The demo and its catalogue.
const DEMO: &str = include_str!("../../catalogue-examples/millrace-library.yaml");
const TRADE: &str = include_str!("../../catalogue-examples/trade.yaml");

/// The rule's figure on the demo, in the first region in which it judges something there.
fn on_demo(rule: &Rule) -> Option<(String, String)> {
    let regions = Region::ALL
        .iter()
        .filter(|region| rule.source(**region).is_some());
    regions.into_iter().find_map(|region| {
        let job = demo(*region).ok()?;
        let verdict = rule_text::telling(rule, &job.verdicts)?;
        let label = match region {
            Region::Iec => "in the demo".to_owned(),
            other => format!("in the demo, were it in {}", other.name()),
        };
        Some((label, rule_text::worked(verdict)))
    })
}

fn demo(region: Region) -> Result<Job, Diagnostics> {
    let asked = format!("region: {}", region.name());
    let project = DEMO.replace("region: iec", &asked);
    let loaded = load::project_from_texts("demo", &project, &[("trade.yaml", TRADE)])?;
    pipeline::run(loaded).map(|(job, _)| job)
}

/// The rule's figure on a project.
fn on_project(
    rule: &Rule,
    project: &str,
    out: &mut Output,
) -> Result<Option<(String, String)>, Failure> {
    let job = super::input::Input::of(project).job(out)?;
    let verdict = rule_text::telling(rule, &job.verdicts);
    let label = format!("in {project}");
    Ok(Some(match verdict {
        Some(verdict) => (label, rule_text::worked(verdict)),
        None => (label, "nothing that it can judge".to_owned()),
    }))
}
