//! What `feedpoint quote --format json` prints: materials, cutting, labour, totals.

use super::{FORMAT, Number, Project, money, number, quantity};
use crate::model::pricing::Uplift;
use crate::present::date;
use crate::present::job::Job;
use crate::present::measured::{millimetres, minutes};
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
    /// Longest lead time in days, and the line that has it.
    pub longest_lead_time: Option<LeadTime>,
    /// What was assumed.
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
            longest_lead_time: LeadTime::of(quote),
            assumptions: quote.assumptions.iter().map(Assumption::of).collect(),
            exclusions: quote.exclusions.clone(),
        }
    }
}

/// Totals.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Totals {
    /// Cost of materials.
    pub materials_cost: String,
    /// Cost of labour.
    pub labour_cost: String,
    /// Hours of labour.
    pub labour_hours: String,
    /// Overhead rate.
    pub overhead_percent: String,
    /// Overhead.
    pub overhead: String,
    /// Contingency rate.
    pub contingency_percent: String,
    /// Contingency.
    pub contingency: String,
    /// Margin, of the selling price.
    pub margin_percent: Option<String>,
    /// Markup, on cost.
    pub markup_percent: Option<String>,
    /// What margin or markup adds.
    pub uplift: String,
    /// Materials at selling price.
    pub materials: String,
    /// Labour at selling price.
    pub labour: String,
    /// Net total.
    pub net: String,
    /// Name of the tax.
    pub tax_name: Option<String>,
    /// Its rate.
    pub tax_percent: Option<String>,
    /// Tax.
    pub tax: String,
    /// Gross total.
    pub gross: String,
    /// Lines without a price, which are in no total.
    pub lines_without_price: usize,
    /// Lines whose price is past its date.
    pub lines_with_stale_price: usize,
}

impl Totals {
    fn of(totals: &priced::Totals) -> Totals {
        let (margin, markup) = match totals.uplift {
            Some(Uplift::Margin(rate)) => (Some(quantity(rate)), None),
            Some(Uplift::Markup(rate)) => (None, Some(quantity(rate))),
            None => (None, None),
        };
        let tax = totals.tax_name.as_ref();
        Totals {
            materials_cost: money(totals.materials_cost),
            labour_cost: money(totals.labour_cost),
            labour_hours: quantity(totals.labour_hours),
            overhead_percent: quantity(totals.overhead_percent),
            overhead: money(totals.overhead),
            contingency_percent: quantity(totals.contingency_percent),
            contingency: money(totals.contingency),
            margin_percent: margin,
            markup_percent: markup,
            uplift: money(totals.uplift_amount),
            materials: money(totals.materials),
            labour: money(totals.labour),
            net: money(totals.net),
            tax_name: tax.map(|(name, _)| name.clone()),
            tax_percent: tax.map(|(_, rate)| quantity(*rate)),
            tax: money(totals.tax),
            gross: money(totals.gross),
            lines_without_price: totals.lines_without_price,
            lines_with_stale_price: totals.lines_with_stale_price,
        }
    }
}

/// A line of the materials list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Line {
    /// Line number, from 1.
    pub line: usize,
    /// `strip`, `driver`, `cable`, `controller`, `bus_supply`, `control_device`, `profile` or
    /// `accessory`.
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
    /// Units in a pack.
    pub pack: usize,
    /// Quantity bought.
    pub bought: String,
    /// Bought less needed.
    pub left_over: String,
    /// Price of one unit at that quantity, before discount; `null` when there is none.
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

/// A reel or bar with what is cut from it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Cut {
    /// Number, from 1, by item.
    pub number: usize,
    /// `strip` or `profile`.
    pub kind: String,
    /// Catalogue id.
    pub item: String,
    /// Length of the reel or bar.
    pub stock_mm: Number,
    /// Pieces, in the order of cutting.
    pub pieces: Vec<Piece>,
    /// What is left.
    pub offcut_mm: Number,
}

/// A piece cut from a reel or bar.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Piece {
    /// Run it is for.
    pub run: String,
    /// Section, from 1.
    pub section: usize,
    /// Length.
    pub length_mm: Number,
    /// Where it begins on the section.
    pub from_mm: Number,
    /// Where it ends.
    pub to_mm: Number,
}

impl Cut {
    fn of(stock: &priced::CutStock) -> Cut {
        let pieces = stock.pieces.iter().map(|piece| Piece {
            run: piece.run.clone(),
            section: piece.section,
            length_mm: number(millimetres(piece.length)),
            from_mm: number(millimetres(piece.from)),
            to_mm: number(millimetres(piece.to)),
        });
        Cut {
            number: stock.number,
            kind: stock.kind.name().to_owned(),
            item: stock.item.clone(),
            stock_mm: number(millimetres(stock.stock)),
            pieces: pieces.collect(),
            offcut_mm: number(millimetres(stock.offcut)),
        }
    }
}

/// Whether a cutting is proved cheapest.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct CutProof {
    /// Catalogue id.
    pub item: String,
    /// Whether it is.
    pub proved: bool,
    /// What it can't cost less than, when it is not.
    pub bound: Option<String>,
}

impl CutProof {
    fn of((item, proved, bound): &(String, bool, Option<rust_decimal::Decimal>)) -> CutProof {
        CutProof {
            item: item.clone(),
            proved: *proved,
            bound: bound.map(money),
        }
    }
}

/// A line of labour.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Labour {
    /// What the work is.
    pub work: String,
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
            quantity: quantity(line.quantity),
            each_min: number(minutes(line.each)),
            hours: quantity(line.hours),
            cost: line.cost.map(money),
            price: line.sell.map(money),
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

/// A figure that was missing and what was used in its place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Assumption {
    /// What it is about.
    pub subject: String,
    /// What was assumed.
    pub statement: String,
    /// The missing key and where it belongs.
    pub missing: String,
    /// Who or what would supply it.
    pub supplied_by: String,
}

impl Assumption {
    fn of(assumption: &crate::model::assumption::Assumption) -> Assumption {
        Assumption {
            subject: assumption.subject.clone(),
            statement: assumption.statement.clone(),
            missing: assumption.missing.clone(),
            supplied_by: assumption.supplied_by.clone(),
        }
    }
}
