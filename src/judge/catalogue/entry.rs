//! What is found of a catalogue: one entry a cause.

use crate::diagnostic::Place;
use crate::load::alone::Block;
use crate::model::offer::ItemKind;
use crate::model::project::Severity;
use time::Date;

/// What kind of cause it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Cause {
    /// No such thing can be: two figures contradict each other, or one a law or standard.
    Impossible,
    /// It can be, but is more likely a slip.
    Odd,
    /// A price that held until a day that is past.
    Past,
    /// A price is missing.
    NoPrice,
    /// A figure is missing.
    NoFigure,
}

impl Cause {
    /// Its word in tables and JSON.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Cause::Impossible => "impossible",
            Cause::Odd => "odd",
            Cause::Past => "past its date",
            Cause::NoPrice => "no price",
            Cause::NoFigure => "no figure",
        }
    }

    /// How a check of a project that uses the item would end over it.
    #[must_use]
    pub fn verdict(self) -> &'static str {
        match self {
            Cause::Impossible | Cause::Odd | Cause::Past => "broken",
            Cause::NoPrice | Cause::NoFigure => "cannot tell",
        }
    }
}

/// One cause.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Of which kind.
    pub cause: Cause,
    /// How bad it is: of a missing figure, as bad as breaking the worst of the rules it leaves untold.
    pub severity: Severity,
    /// What it is about: `strip white-24`.
    pub subject: String,
    /// The key that lacks or is wrong, with dots where it stands within another.
    pub key: String,
    /// What was found.
    pub found: String,
    /// Rules that can't be told without it.
    pub untold: Vec<&'static str>,
    /// What else can't be told without it.
    pub untold_result: Option<&'static str>,
    /// What is taken in its place.
    pub assumed: Option<&'static str>,
    /// What would be right.
    pub remedy: String,
    /// Where it stands, or would.
    pub place: Place,
}

impl Entry {
    /// An entry about figures that are there.
    #[must_use]
    pub fn wrong(cause: Cause, block: &Block, key: &str, found: String, remedy: &str) -> Entry {
        Entry {
            cause,
            severity: match cause {
                Cause::Impossible => Severity::Fault,
                _ => Severity::Caution,
            },
            subject: subject(block),
            key: key.to_owned(),
            found,
            untold: Vec::new(),
            untold_result: None,
            assumed: None,
            remedy: remedy.to_owned(),
            place: block.place(key),
        }
    }
}

/// `strip white-24`, or the catalogue.
#[must_use]
pub fn subject(block: &Block) -> String {
    match block.kind {
        Some(kind) => crate::judge::items::subject(kind, &block.id),
        None => "the catalogue".to_owned(),
    }
}

/// What was found of a catalogue.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Its title.
    pub title: String,
    /// Currency of its prices.
    pub currency: String,
    /// How many items of each kind it has.
    pub items: Vec<(ItemKind, usize)>,
    /// What is wrong or missing, worst first.
    pub entries: Vec<Entry>,
    /// Last days of prices, each with the items whose price holds until then.
    pub valid: Vec<(Date, usize)>,
    /// What a project needs from elsewhere.
    pub wants: Vec<String>,
}

impl Found {
    /// How many items.
    #[must_use]
    pub fn count(&self) -> usize {
        self.items.iter().map(|(_, count)| count).sum()
    }

    /// How many entries are of a verdict and, where one is given, a severity.
    #[must_use]
    pub fn counted(&self, verdict: &str, severity: Option<Severity>) -> usize {
        let of = |entry: &&Entry| {
            entry.cause.verdict() == verdict && severity.is_none_or(|one| one == entry.severity)
        };
        self.entries.iter().filter(of).count()
    }
}
