//! Assumptions of a quotation with what each costs if it is not so, and its options.

use super::{Number, money, number, quantity};
use crate::present::measured::{metres, percent};
use crate::price::priced::{self, PricedOption, Reckoned};
use schemars::JsonSchema;
use serde::Serialize;

/// A figure that was missing and what was used in its place.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Assumption {
    /// Its number, from 1.
    pub number: usize,
    /// What it is about.
    pub subject: String,
    /// What was assumed.
    pub statement: String,
    /// The missing key and where it belongs.
    pub missing: String,
    /// Who or what would supply it.
    pub supplied_by: String,
    /// Numbers of the lines that rest on it; empty when it is about the job as a whole.
    pub lines: Vec<usize>,
    /// The other way, in words; `null` where it can't be computed.
    pub otherwise: Option<String>,
    /// The whole job priced for the other way; `null` where it can't be.
    pub otherwise_outcome: Option<Altered>,
}

/// The whole job, altered, sized and priced again.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Altered {
    /// Net total.
    pub net: String,
    /// Net total less that of the quotation.
    pub difference: String,
    /// Total with tax.
    pub gross: String,
    /// Hours of labour.
    pub labour_hours: String,
    /// Light of the darkest segment of all runs.
    pub light_least_percent: Number,
    /// Drivers.
    pub drivers: usize,
    /// Control loops.
    pub loops: usize,
    /// Feed cable.
    pub feed_cable_m: Number,
    /// Rules of severity fault that are broken.
    pub broken_faults: usize,
    /// Checks that can't be told.
    pub cannot_tell: usize,
    /// Lines without a price, which are in no total.
    pub lines_without_price: usize,
}

/// What the customer may take instead.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct QuoteOption {
    /// Its name.
    pub option: String,
    /// What it is, in words.
    pub title: String,
    /// What it comes to; `null` when it can't be had.
    pub outcome: Option<Altered>,
    /// Why it can't be had.
    pub why_not: Option<String>,
}

/// The assumptions of a quotation, by number.
pub(super) fn assumptions(quote: &priced::Quote) -> Vec<Assumption> {
    let both = quote.assumptions.iter().zip(&quote.stakes);
    (1..)
        .zip(both)
        .map(|(number, (assumption, stake))| Assumption {
            number,
            subject: assumption.subject.clone(),
            statement: assumption.statement.clone(),
            missing: assumption.missing.clone(),
            supplied_by: assumption.supplied_by.clone(),
            lines: stake.lines.clone(),
            otherwise: stake.otherwise.as_ref().map(|other| other.words.clone()),
            otherwise_outcome: stake
                .otherwise
                .as_ref()
                .and_then(|other| other.outcome.as_ref().ok())
                .map(Altered::of),
        })
        .collect()
}

impl Altered {
    fn of(reckoned: &Reckoned) -> Altered {
        Altered {
            net: money(reckoned.net),
            difference: money(reckoned.difference),
            gross: money(reckoned.gross),
            labour_hours: quantity(reckoned.labour_hours),
            light_least_percent: reckoned.light_least.and_then(|it| number(percent(it))),
            drivers: reckoned.drivers,
            loops: reckoned.loops,
            feed_cable_m: number(metres(reckoned.feed_cable)),
            broken_faults: reckoned.faults,
            cannot_tell: reckoned.cannot_tell,
            lines_without_price: reckoned.lines_without_price,
        }
    }
}

impl QuoteOption {
    pub(super) fn of(option: &PricedOption) -> QuoteOption {
        QuoteOption {
            option: option.name.clone(),
            title: option.title.clone(),
            outcome: option.outcome.as_ref().ok().map(Altered::of),
            why_not: option.outcome.as_ref().err().cloned(),
        }
    }
}
