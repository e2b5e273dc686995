//! What `feedpoint compare --format json` prints: figures side by side, differences of price and
//! place.

use super::{FORMAT, Number, Project, money, number, quantity};
use crate::present::comparison::{self, figures, lines, places};
use schemars::JsonSchema;
use serde::Serialize;

/// Two jobs held against each other. All money is in `currency`, as decimals in strings.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Comparison {
    /// Number of this format.
    pub format: u32,
    /// The project as it was.
    pub old: Project,
    /// The project as it is now.
    pub new: Project,
    /// Currency code.
    pub currency: String,
    /// What the differences of all lines come to.
    pub difference: Difference,
    /// Figures side by side.
    pub figures: Vec<Figure>,
    /// Lines of the price that differ, the greatest effect first.
    pub lines: Vec<LineChange>,
    /// Runs, drivers, devices, loops and circuits that differ.
    pub places: Vec<PlaceChange>,
    /// What is alike.
    pub untouched: Vec<Untouched>,
}

/// What the differences of all lines come to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Difference {
    /// Lines that only the new project has.
    pub added: String,
    /// Lines that only the old one has, below zero.
    pub omitted: String,
    /// Lines that both have at another price.
    pub changed: String,
    /// New net total less old.
    pub net: String,
    /// Differing lines that have no price in one or the other and are in none of these.
    pub lines_without_price: usize,
}

/// An amount of money as a decimal in a string, or a number in the unit that the key ends with.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(untagged)]
pub enum Value {
    /// Money.
    Money(String),
    /// A number; `null` when it is not known.
    Number(Number),
}

/// A figure of both projects.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Figure {
    /// Which, with the unit as suffix.
    pub figure: String,
    /// As it was.
    pub old: Value,
    /// As it is.
    pub new: Value,
    /// New less old.
    pub difference: Value,
}

/// Quantity and price of a line.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Amount {
    /// Quantity sold.
    pub quantity: String,
    /// Selling price; `null` when there is none.
    pub price: Option<String>,
}

/// A line that differs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LineChange {
    /// `added`, `removed` or `changed`.
    pub change: String,
    /// `materials` or `labour`.
    pub section: String,
    /// Its number in the new quotation; in the old one when it was removed.
    pub line: usize,
    /// Catalogue id; empty for labour.
    pub item: String,
    /// Description, or the work.
    pub description: String,
    /// What its quantity counts.
    pub unit: String,
    /// As it was; `null` when it was not there.
    pub old: Option<Amount>,
    /// As it is; `null` when it is gone.
    pub new: Option<Amount>,
    /// New price less old; `null` when one is not known.
    pub difference: Option<String>,
    /// Why.
    pub reason: String,
}

/// Something that differs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PlaceChange {
    /// `added`, `removed`, `moved`, `renumbered` or `changed`.
    pub change: String,
    /// `run`, `driver`, `device`, `loop` or `circuit`.
    pub kind: String,
    /// Its name; the old one when it is gone.
    pub name: String,
    /// What about it differs; empty when it was added or removed.
    pub what: String,
    /// As it was.
    pub was: String,
    /// As it is.
    pub now: String,
    /// Why.
    pub reason: String,
}

/// How many are alike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Untouched {
    /// What is counted.
    pub what: String,
    /// Alike in both.
    pub alike: usize,
    /// In the new project.
    pub of: usize,
}

impl Comparison {
    /// The comparison as JSON.
    #[must_use]
    pub fn of(comparison: &comparison::Comparison) -> Comparison {
        let sum = &comparison.difference;
        Comparison {
            format: FORMAT,
            old: Project::of(comparison.old),
            new: Project::of(comparison.new),
            currency: comparison.new.quote.currency.clone(),
            difference: Difference {
                added: money(sum.added),
                omitted: money(sum.omitted),
                changed: money(sum.changed),
                net: money(sum.net),
                lines_without_price: sum.lines_without_price,
            },
            figures: comparison.figures.iter().map(Figure::of).collect(),
            lines: comparison.lines.iter().map(LineChange::of).collect(),
            places: comparison.places.iter().map(PlaceChange::of).collect(),
            untouched: comparison.untouched.iter().map(Untouched::of).collect(),
        }
    }
}

impl Value {
    pub(super) fn of(value: figures::Value) -> Value {
        match value {
            figures::Value::Money(amount) => Value::Money(money(amount)),
            figures::Value::Figure(figure) => Value::Number(number(figure.value)),
            figures::Value::Unknown(_) => Value::Number(None),
        }
    }
}

impl Figure {
    fn of(pair: &figures::Pair) -> Figure {
        Figure {
            figure: pair.key.to_owned(),
            old: Value::of(pair.old),
            new: Value::of(pair.new),
            difference: Value::of(pair.new.less(pair.old)),
        }
    }
}

impl Amount {
    fn of(amount: lines::Amount) -> Amount {
        Amount {
            quantity: quantity(amount.quantity),
            price: amount.price.map(money),
        }
    }
}

impl LineChange {
    fn of(line: &lines::LineChange) -> LineChange {
        LineChange {
            change: line.change.name().to_owned(),
            section: line.section.to_owned(),
            line: line.line,
            item: line.item.clone(),
            description: line.description.clone(),
            unit: line.unit.to_owned(),
            old: line.old.map(Amount::of),
            new: line.new.map(Amount::of),
            difference: line.difference.map(money),
            reason: line.reason.clone(),
        }
    }
}

impl PlaceChange {
    fn of(change: &places::PlaceChange) -> PlaceChange {
        PlaceChange {
            change: change.change.name().to_owned(),
            kind: change.kind.to_owned(),
            name: change.name.clone(),
            what: change.what.to_owned(),
            was: change.was.clone(),
            now: change.now.clone(),
            reason: change.reason.to_owned(),
        }
    }
}

impl Untouched {
    fn of(untouched: &comparison::Untouched) -> Untouched {
        Untouched {
            what: untouched.what.to_owned(),
            alike: untouched.alike,
            of: untouched.of,
        }
    }
}
