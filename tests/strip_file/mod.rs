//! What `feedpoint strip --file` prints for a case, and how it is held against what is expected.

use feedpoint::command::strip::answer::states;
use feedpoint::command::strip::json;
use feedpoint::load::strip_case::strip_case_from_text;
use feedpoint::solve::case::lay;
use serde_json::Value;

pub fn number(value: &Value) -> f64 {
    value
        .as_f64()
        .unwrap_or_else(|| panic!("a number, not {value}"))
}

/// The states that the command prints for a case file.
pub fn printed(text: &str) -> Value {
    let case = strip_case_from_text("case.yaml", text).unwrap_or_else(|faults| {
        panic!("{:?}\n{text}", faults.in_order());
    });
    let laid = lay(&case).unwrap_or_else(|error| panic!("{error}\n{text}"));
    let printed = json::states(&laid, &states(&laid)).to_string();
    serde_json::from_str(&printed).unwrap()
}

/// Collects what differs, so that all of it is reported at once.
#[derive(Default)]
pub struct Comparison {
    faults: Vec<String>,
    compared: usize,
}

impl Comparison {
    pub fn near(&mut self, what: &str, found: &Value, expected: f64, allowed: f64) {
        self.compared += 1;
        let fits = found
            .as_f64()
            .is_some_and(|found| (found - expected).abs() <= allowed);
        if !fits {
            self.faults
                .push(format!("{what}: found {found}, expected {expected}"));
        }
    }

    pub fn finish(self, least: usize) {
        assert!(self.compared >= least, "compared only {}", self.compared);
        assert!(self.faults.is_empty(), "{}", self.faults.join("\n"));
    }
}
