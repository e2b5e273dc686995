//! What `feedpoint quote --format json` prints: materials, cutting, labour, totals.

use super::cuts::{Cut, CutProof};
use super::stakes::{self, Assumption, QuoteOption};
use super::totals::Totals;
use super::{FORMAT, Number, Project, money, number, quantity};
use crate::present::date;
use crate::present::document::scope_of;
use crate::present::job::Job;
use crate::present::measured::minutes;
use crate::price::priced;
use schemars::JsonSchema;
use serde::Serialize;

/// Materials, cutting, labour, totals. All money is in `currency`, as decimals in strings.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Quote {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// Currency code.
    pub currency: String,
    /// Totals.
    pub totals: Totals,
    /// Materials, by line number.
    pub lines: Vec<Line>,
    /// Reels and bars with what is cut from them.
    pub cuts: Vec<Cut>,
    /// Whether each item's cutting is proved cheapest.
    pub cut_proofs: Vec<CutProof>,
    /// Labour.
    pub labour: Vec<Labour>,
    /// Commissioning; empty when the project prices none.
    pub commissioning: Vec<Labour>,
    /// Provisional sums.
    pub provisional_sums: Vec<ProvisionalSum>,
    /// Longest lead time in days, and the line that has it.
    pub longest_lead_time: Option<LeadTime>,
    /// Last day on which it can be accepted.
    pub valid_until: Option<String>,
    /// What it is for, in words.
    pub scope: Vec<String>,
    /// What the customer may take instead, each the whole job priced again; in no total.
    pub options: Vec<QuoteOption>,
    /// What was assumed, by number from 1.
    pub assumptions: Vec<Assumption>,
    /// What is left out.
    pub exclusions: Vec<String>,
}

impl Quote {
    /// The quote of a job.
    #[must_use]
    pub fn of(job: &Job) -> Quote {
        let quote = &job.quote;
        Quote {
            format: FORMAT,
            project: Project::of(job),
            currency: quote.currency.clone(),
            totals: Totals::of(&quote.totals),
            lines: quote.lines.iter().map(Line::of).collect(),
            cuts: quote.cuts.iter().map(Cut::of).collect(),
            cut_proofs: quote.cut_proofs.iter().map(CutProof::of).collect(),
            labour: quote.labour.iter().map(Labour::of).collect(),
            commissioning: quote.commissioning.iter().map(Labour::of).collect(),
            provisional_sums: quote.provisional.iter().map(ProvisionalSum::of).collect(),
            longest_lead_time: LeadTime::of(quote),
            valid_until: job.project.pricing.valid_until.map(date::written),
            scope: scope_of(job),
            options: quote.options.iter().map(QuoteOption::of).collect(),
            assumptions: stakes::assumptions(quote),
            exclusions: quote.exclusions.clone(),
        }
    }
}

/// A line of the materials list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Line {
    /// Line number, from 1.
    pub line: usize,
    /// Kind of item, as in `pricing.spares`: `strip`, `driver`, `cable`…
    pub kind: String,
    /// Catalogue id.
    pub item: String,
    /// Description.
    pub description: String,
    /// Whether it is for spares.
    pub spare: bool,
    /// `piece`, `metre` or `stock length`.
    pub unit: String,
    /// What the job needs.
    pub needed: String,
    /// Metres of cable lost in cutting and at ends, beyond what is needed.
    pub waste: String,
    /// Units in a pack.
    pub pack: usize,
    /// Quantity bought.
    pub bought: String,
    /// Bought less needed and, by the metre, less waste.
    pub left_over: String,
    /// Price of one unit at that quantity, before discount; `null` when there is none or nothing is
    /// bought.
    pub unit_cost: Option<String>,
    /// Quantity from which that price holds.
    pub step_from: Option<String>,
    /// Supplier's discount.
    pub discount_percent: String,
    /// Cost of the line; `null` when there is no price.
    pub cost: Option<String>,
    /// Selling price of the line; `null` when there is no price.
    pub price: Option<String>,
    /// Whether the catalogue has no price.
    pub price_missing: bool,
    /// The day its price was valid until, when that is past.
    pub price_stale_since: Option<String>,
    /// Last day of the price.
    pub price_valid_until: Option<String>,
    /// Days from order to delivery.
    pub lead_time_days: Option<u32>,
    /// Supplier.
    pub supplier: Option<String>,
    /// What it is for.
    pub used_for: Vec<String>,
}

impl Line {
    fn of(line: &priced::Line) -> Line {
        let unit = match line.measured {
            priced::Measured::Piece => "piece",
            priced::Measured::Metre => "metre",
            priced::Measured::StockLength => "stock length",
        };
        let stale = line.flags.iter().find_map(|flag| match flag {
            priced::PriceFlag::Stale(day) => Some(date::written(*day)),
            priced::PriceFlag::Missing => None,
        });
        Line {
            line: line.number,
            kind: line.kind.name().to_owned(),
            item: line.item.clone(),
            description: line.description.clone(),
            spare: line.spare,
            unit: unit.to_owned(),
            needed: quantity(line.needed),
            waste: quantity(line.waste),
            pack: line.pack,
            bought: quantity(line.bought),
            left_over: quantity(line.left_over),
            unit_cost: line.unit_cost.map(money),
            step_from: line.step_from.map(quantity),
            discount_percent: quantity(line.discount),
            cost: line.cost.map(money),
            price: line.sell.map(money),
            price_missing: line.flags.contains(&priced::PriceFlag::Missing),
            price_stale_since: stale,
            price_valid_until: line.price_valid_until.map(date::written),
            lead_time_days: line.lead_time_days,
            supplier: line.supplier.clone(),
            used_for: line.used_for.clone(),
        }
    }
}

/// A line of labour or commissioning.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Labour {
    /// What the work is.
    pub work: String,
    /// Who does it; `null` when the project names no trade for it.
    pub trade: Option<String>,
    /// Quantity it is for.
    pub quantity: String,
    /// Minutes for one.
    pub each_min: Number,
    /// Hours in all.
    pub hours: String,
    /// Cost; `null` when there is no labour rate.
    pub cost: Option<String>,
    /// Selling price; `null` when there is no labour rate.
    pub price: Option<String>,
}

impl Labour {
    fn of(line: &priced::LabourLine) -> Labour {
        Labour {
            work: line.work.clone(),
            trade: line.trade.clone(),
            quantity: quantity(line.quantity),
            each_min: number(minutes(line.each)),
            hours: quantity(line.hours),
            cost: line.cost.map(money),
            price: line.sell.map(money),
        }
    }
}

/// An amount set aside for work that can't be counted yet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ProvisionalSum {
    /// What it is for.
    pub sum: String,
    /// Its price, before tax.
    pub price: String,
}

impl ProvisionalSum {
    fn of(sum: &priced::Provisional) -> ProvisionalSum {
        ProvisionalSum {
            sum: sum.what.clone(),
            price: money(sum.sell),
        }
    }
}

/// A lead time and the line that has it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct LeadTime {
    /// Days.
    pub days: u32,
    /// The line.
    pub line: String,
}

impl LeadTime {
    pub(super) fn of(quote: &priced::Quote) -> Option<LeadTime> {
        let longest = quote.longest_lead_time.as_ref();
        longest.map(|(days, line)| LeadTime {
            days: *days,
            line: line.clone(),
        })
    }
}
