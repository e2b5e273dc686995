//! Runs in the words of a project file, each with what it lacks and what its row says besides.

use crate::diagnostic::visible;
use crate::load::takeoff::{TakeOff, TakenRun, is_flow};
use std::collections::BTreeSet;

/// What a whole project begins with that a take-off does not say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Starting {
    /// Its title.
    pub title: String,
    /// Its region, in the project file's word.
    pub region: &'static str,
    /// Its catalogue, relative to it.
    pub catalogue: String,
}

/// The `runs` of a project file.
#[must_use]
pub fn runs(taken: &TakeOff) -> String {
    let mut text = String::from("runs:\n");
    for run in &taken.runs {
        one(run, &mut text);
    }
    text
}

/// A whole project: the runs, with the points that they name.
#[must_use]
pub fn project(taken: &TakeOff, starting: &Starting) -> String {
    let mut text = format!("# From {}.\nformat: 1\n", comment(&taken.file));
    text.push_str(&format!("project:\n  title: {}\n", scalar(&starting.title)));
    text.push_str(&format!("region: {}\n", starting.region));
    text.push_str(&format!("catalogues: [{}]\n", in_flow(&starting.catalogue)));
    text.push_str("\npoints:\n  - {point: panel, kind: panel}\n");
    let mut names: BTreeSet<&str> = BTreeSet::from(["panel"]);
    for (kind, key) in [("cupboard", "cupboard"), ("room", "room")] {
        for name in taken.runs.iter().filter_map(|run| run.value(key)) {
            if name != "auto" && names.insert(name) {
                text.push_str(&format!("  - {{point: {}, kind: {kind}}}\n", in_flow(name)));
            }
        }
    }
    text.push_str(
        "# Lacking: the lengths of cable from the panel to each cupboard, and on to the rooms:\n\
         # routes:\n#   - {from: panel, to: …, length: 18 m}\n\n",
    );
    text.push_str(&runs(taken));
    text
}

fn one(run: &TakenRun, text: &mut String) {
    let mut first = true;
    for (key, value) in &run.keys {
        let dash = if first { "  - " } else { "    " };
        let value = if is_flow(value) && is_nested(key) {
            value.clone()
        } else {
            scalar(value)
        };
        text.push_str(&format!("{dash}{key}: {value}"));
        if first {
            text.push_str(&format!("    # row {}", run.row));
        }
        text.push('\n');
        first = false;
    }
    for lack in &run.lacks {
        text.push_str(&format!(
            "    # lacks {}: {}\n",
            lack.key,
            comment(&lack.cure)
        ));
    }
    for (heading, cell) in &run.unread {
        text.push_str(&format!(
            "    # not read: {}: {}\n",
            comment(heading),
            comment(cell)
        ));
    }
    for (heading, cell) in &run.remarks {
        text.push_str(&format!("    # {}: {}\n", comment(heading), comment(cell)));
    }
}

/// Keys whose value is a list or mapping.
fn is_nested(key: &str) -> bool {
    matches!(key, "bends" | "limits" | "exposed_to")
}

/// Text that stays on its line and in its comment.
fn comment(text: &str) -> String {
    visible(&text.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// A plain value, in quotes where it could be taken for something else.
fn scalar(text: &str) -> String {
    let begins = text.starts_with(|c: char| c.is_ascii_alphanumeric());
    let ends = !text.ends_with([':', ' ']);
    let within = text
        .chars()
        .all(|c| c.is_alphanumeric() || " .-_/%°²µΩ+()'\"[],;:&".contains(c));
    let splits = text.contains(": ") || text.contains(" #");
    let means = ["null", "true", "false", "yes", "no", "on", "off", "y", "n"];
    let word = text.to_ascii_lowercase();
    let flag = text == "yes" || text == "no" || text == "true" || text == "false";
    if begins && ends && within && !splits && (flag || !means.contains(&word.as_str())) {
        text.to_owned()
    } else {
        quoted(text)
    }
}

/// A plain value within a list or mapping on one line.
fn in_flow(text: &str) -> String {
    if text.contains([',', '[', ']', '{', '}', ':', '#']) {
        quoted(text)
    } else {
        scalar(text)
    }
}

/// Text in the quotes that YAML shares with JSON.
fn quoted(text: &str) -> String {
    serde_json::Value::from(text).to_string()
}
