//! What `feedpoint check CATALOGUE --format json` prints.

use super::FORMAT;
use super::check::Place;
use crate::judge::catalogue::entry::{self, Found};
use crate::present::date;
use schemars::JsonSchema;
use serde::Serialize;

/// What was found of a catalogue by itself.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Catalogue {
    /// Number of this format.
    pub format: u32,
    /// Its title.
    pub title: String,
    /// Currency of its prices.
    pub currency: String,
    /// How many entries ended how, and how many items there are.
    pub counts: CatalogueCounts,
    /// What is wrong or missing, worst first, one entry a cause.
    pub entries: Vec<CatalogueEntry>,
    /// Last days of prices, each with how many items' prices hold until then.
    pub prices: Vec<PricesUntil>,
    /// What a job needs from another catalogue.
    pub wants: Vec<String>,
}

/// How many entries ended how.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CatalogueCounts {
    /// Items in the catalogue.
    pub items: usize,
    /// Entries about what is wrong.
    pub broken: usize,
    /// Entries about what is missing.
    pub cannot_tell: usize,
}

/// One cause.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CatalogueEntry {
    /// `broken` or `cannot tell`.
    pub verdict: String,
    /// `fault`, `caution` or `note`.
    pub severity: String,
    /// `impossible`, `odd`, `past its date`, `no price` or `no figure`.
    pub cause: String,
    /// What it is about, as in `strip white-24`.
    pub subject: String,
    /// The key, with dots where it stands within another.
    pub key: String,
    /// What was found.
    pub found: String,
    /// Rules that can't be told without it.
    pub untold_rules: Vec<String>,
    /// What else can't be told without it.
    pub untold: Option<String>,
    /// What is taken in its place.
    pub assumed: Option<String>,
    /// What to do.
    pub remedy: String,
    /// Where it stands, or would.
    pub place: Place,
}

/// Prices that hold until a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct PricesUntil {
    /// The day, as in `2027-03-31`.
    pub until: String,
    /// How many items.
    pub items: usize,
}

impl Catalogue {
    /// What was found, as an object.
    #[must_use]
    pub fn of(found: &Found) -> Catalogue {
        let valid = found.valid.iter();
        Catalogue {
            format: FORMAT,
            title: found.title.clone(),
            currency: found.currency.clone(),
            counts: CatalogueCounts {
                items: found.count(),
                broken: found.counted("broken", None),
                cannot_tell: found.counted("cannot tell", None),
            },
            entries: found.entries.iter().map(CatalogueEntry::of).collect(),
            prices: valid
                .map(|(day, items)| PricesUntil {
                    until: date::written(*day),
                    items: *items,
                })
                .collect(),
            wants: found.wants.clone(),
        }
    }
}

impl CatalogueEntry {
    fn of(entry: &entry::Entry) -> CatalogueEntry {
        CatalogueEntry {
            verdict: entry.cause.verdict().to_owned(),
            severity: entry.severity.name().to_owned(),
            cause: entry.cause.name().to_owned(),
            subject: entry.subject.clone(),
            key: entry.key.clone(),
            found: entry.found.clone(),
            untold_rules: super::names(entry.untold.iter().copied()),
            untold: entry.untold_result.map(str::to_owned),
            assumed: entry.assumed.map(str::to_owned),
            remedy: entry.remedy.clone(),
            place: Place::of(&entry.place),
        }
    }
}
