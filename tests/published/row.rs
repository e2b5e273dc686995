//! A row of published figures and how an answer is held against it.

use serde::Deserialize;

/// A published figure: the columns that are asked about.
#[derive(Debug, Deserialize)]
pub struct Row {
    pub id: String,
    pub inputs: String,
    pub value: String,
    pub unit: String,
    /// `exact`, or how far off an answer may be, in the row's unit.
    pub tolerance: String,
    pub source: String,
    pub confidence: String,
}

/// What the program says.
#[derive(Debug)]
pub enum Answer {
    /// This number, within the row's own tolerance.
    Is(f64),
    /// This number, and the row may differ by a share of it: its table is rounded.
    Near(f64, f64),
    /// These words.
    Says(&'static str),
}

impl Row {
    /// The id behind a prefix.
    pub fn after(&self, prefix: &str) -> Option<&str> {
        self.id.strip_prefix(prefix)
    }

    /// The number behind a prefix of the id.
    pub fn number_after(&self, prefix: &str) -> Option<f64> {
        self.after(prefix)?.parse().ok()
    }

    /// The AWG number behind a prefix of the id.
    pub fn gauge_after(&self, prefix: &str) -> Option<i32> {
        self.after(prefix)?.parse().ok()
    }

    /// What is wrong with an answer, if anything.
    pub fn fault(&self, answer: &Answer) -> Option<String> {
        let (found, allowed) = match *answer {
            Answer::Says(words) => {
                return (words != self.value)
                    .then(|| format!("found `{words}`, expected `{}`", self.value));
            }
            Answer::Is(found) => (found, self.allowed()),
            Answer::Near(found, share) => (found, share * found.abs()),
        };
        let expected: f64 = self
            .value
            .parse()
            .unwrap_or_else(|_| panic!("{}: `{}` is not a number", self.id, self.value));
        let fits = (found - expected).abs() <= allowed.max(1e-9 * expected.abs());
        (!fits).then(|| format!("found {found}, expected {expected} {}", self.unit))
    }

    fn allowed(&self) -> f64 {
        match self.tolerance.as_str() {
            "exact" | "-" => 0.0,
            other => other
                .parse()
                .unwrap_or_else(|_| panic!("{}: tolerance `{other}`", self.id)),
        }
    }
}
