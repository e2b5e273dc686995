//! A small sized and priced job for the rules' tests, to be bent until a rule breaks.

use super::rule::{Evidence, Rule};
use super::verdict::Outcome;
use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::model::project::Project;
use crate::price::priced::Quote;
use crate::{allocate, choose, load, price};
use std::path::Path;
use std::sync::Arc;

/// A tunable white cove, a regulated line and a wet façade strip, with sensors and a scene.
const PROJECT: &str = "
format: 1
project: {title: Sample, date: 2026-11-20}
region: iec
catalogues: [trade.yaml]
points:
  - {point: panel, kind: panel}
  - {point: cupboard-a, kind: cupboard, ambient: 35 °C}
  - {point: foyer, kind: room}
routes:
  - {from: panel, to: cupboard-a, length: 10 m}
  - {from: cupboard-a, to: foyer, length: 8 m}
runs:
  - {run: cove, room: foyer, strip: white-pair-24-10, length: 4.2 m, group: cove, cupboard: cupboard-a, to_start: 5 m, to_end: 9 m}
  - {run: line, room: foyer, strip: long-48-7, length: 10 m, group: line, cupboard: cupboard-a, to_start: 5 m, to_end: 9 m}
  - {run: outside, room: foyer, strip: outdoor-24-10, length: 4 m, group: outside, cupboard: cupboard-a, to_start: 5 m, wet: yes}
devices:
  - {device: sensor, item: ceiling-sensor, room: foyer, count: 3}
scenes:
  - scene: open
    set: {cove: {light: 90 %, white: 4000 K}, line: {light: 80 %}}
pricing: {labour_rate: 40.00, margin: 20 %}
";

/// A job whose every part a test may change.
pub struct Sample {
    pub project: Project,
    pub sizing: Sizing,
    pub allocation: Allocation,
    pub quote: Quote,
}

impl Sample {
    /// The job as it comes out of the stages: nothing broken.
    pub fn new() -> Sample {
        Sample::of(PROJECT)
    }

    /// The same job with a line of its file replaced.
    pub fn with(old: &str, new: &str) -> Sample {
        assert!(PROJECT.contains(old), "`{old}` is not in the sample");
        Sample::of(&PROJECT.replace(old, new))
    }

    /// The same job with every figure that any rule asks for.
    pub fn complete() -> Sample {
        let figures = [
            (
                "ambient: 35 °C}",
                "ambient: 35 °C, space: {length: 800 mm, width: 600 mm}, sheds: 90 W, isolator: yes, accessible: yes}",
            ),
            ("kind: room}", "kind: room, ambient: 25 °C}"),
            (
                "runs:\n",
                "wiring: {slack: included, in_insulation: none, separated: yes}\nruns:\n",
            ),
            (
                "pricing:",
                "circuits: {residual_type: A, premises: other, feed: permanent}\npricing:",
            ),
        ];
        let text = figures.iter().fold(PROJECT.to_owned(), |text, (old, new)| {
            assert!(text.contains(old), "`{old}` is not in the sample");
            text.replace(old, new)
        });
        let mut job = Sample::of(&text);
        for strip in 0..job.sizing.runs.len() {
            let volts = job.sizing.runs[strip].run.strip.voltage * 0.5;
            job.strip(strip).least_voltage.get_or_insert(volts);
        }
        job
    }

    fn of(text: &str) -> Sample {
        let base = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples");
        let loaded = load::project_from_text("sample.yaml", text, &base)
            .unwrap_or_else(|complaints| panic!("{}", complaints.texts(false).join("\n")));
        let project = loaded.project;
        let sizing = choose::size(&project).expect("the sample can be laid out");
        let allocation = allocate::allocate(&project, &sizing);
        let quote = price::price(&project, &sizing, &allocation);
        Sample {
            project,
            sizing,
            allocation,
            quote,
        }
    }

    pub fn evidence(&self) -> Evidence<'_> {
        Evidence {
            project: &self.project,
            sizing: &self.sizing,
            allocation: &self.allocation,
            quote: &self.quote,
        }
    }

    /// How a rule ends on this job: the worst of its verdicts.
    pub fn worst(&self, rule: &Rule) -> &'static str {
        let verdicts = super::apply(rule, &self.evidence());
        let worst = verdicts
            .iter()
            .map(|verdict| &verdict.outcome)
            .min_by_key(|outcome| outcome.rank());
        worst.map_or("nothing to judge", Outcome::name)
    }

    /// The first driver's item, to be changed.
    pub fn driver(&mut self) -> &mut crate::model::driver::Driver {
        Arc::make_mut(&mut self.sizing.drivers[0].item)
    }

    /// The first run's strip, to be changed (the run is its own copy).
    pub fn strip(&mut self, run: usize) -> &mut crate::model::strip::Strip {
        Arc::make_mut(&mut Arc::make_mut(&mut self.sizing.runs[run].run).strip)
    }
}
