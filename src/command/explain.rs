//! `feedpoint explain`: a rule in full, the list of rules, or what a house rule can measure.

use super::{Failure, Outcome, Output};
use crate::diagnostic::Diagnostics;
use crate::judge::rule::Rule;
use crate::judge::verdict::Outcome as Verdicts;
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

/// A project of the examples and its catalogue.
struct Example {
    name: &'static str,
    region: Region,
    project: &'static str,
    catalogue: (&'static str, &'static str),
}

const DEMO: Example = Example {
    name: "the demo",
    region: Region::Iec,
    project: include_str!("../../catalogue-examples/millrace-library.yaml"),
    catalogue: (
        "trade.yaml",
        include_str!("../../catalogue-examples/trade.yaml"),
    ),
};

/// What the demo has nothing of: other regions' gear, three phases, an emergency part.
const ANNEXES: [Example; 2] = [
    Example {
        name: "the annex",
        region: Region::NorthAmerica,
        project: include_str!("../../catalogue-examples/annex-north-america.yaml"),
        catalogue: (
            "trade-north-america.yaml",
            include_str!("../../catalogue-examples/trade-north-america.yaml"),
        ),
    },
    Example {
        name: "the annex",
        region: Region::AusNz,
        project: include_str!("../../catalogue-examples/annex-aus-nz.yaml"),
        catalogue: (
            "trade-aus-nz.yaml",
            include_str!("../../catalogue-examples/trade-aus-nz.yaml"),
        ),
    },
];

/// The rule's figure on the first example that has something for it to judge.
fn on_demo(rule: &Rule) -> Option<(String, String)> {
    let examples = std::iter::once(&DEMO).chain(&ANNEXES);
    let there = examples.filter(|example| rule.source(example.region).is_some());
    there.into_iter().find_map(|example| {
        let job = example.job().ok()?;
        let verdict = rule_text::telling(rule, &job.verdicts)?;
        let label = match example.region {
            Region::Iec => format!("in {}", example.name),
            other => format!("in {} in {}", example.name, other.name()),
        };
        Some((label, rule_text::worked(verdict)))
    })
}

impl Example {
    fn job(&self) -> Result<Job, Diagnostics> {
        let name = self.name;
        let loaded = load::project_from_texts(name, self.project, &[self.catalogue])?;
        pipeline::run(loaded).map(|(job, _)| job)
    }
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
        None => (label, unjudged(rule, &job)),
    }))
}

/// Why a rule judges nothing of a job: what is missing, or why it has nothing to say.
fn unjudged(rule: &Rule, job: &Job) -> String {
    let verdicts = job.verdicts.iter();
    let own = verdicts.filter(|verdict| verdict.rule == rule.id);
    let why = own.filter_map(|verdict| match &verdict.outcome {
        Verdicts::CannotTell { missing } => Some((
            0,
            format!("{}: can’t be told: missing: {missing}", verdict.subject),
        )),
        Verdicts::NotHere { why } => Some((1, format!("nothing to say: {why}"))),
        Verdicts::Holds | Verdicts::Broken => None,
    });
    let first = why.min_by_key(|(rank, _)| *rank);
    first.map_or_else(|| "nothing that it is about".to_owned(), |(_, why)| why)
}
