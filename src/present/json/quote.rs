//! What `feedpoint quote --format json` prints: materials, cutting, labour, totals.

use super::stakes::{self, Assumption, QuoteOption};
use super::{FORMAT, Number, Project, money, number, quantity};
use crate::model::pricing::Uplift;
use crate::present::date;
use crate::present::document::scope_of;
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
            longest_lead_time: LeadTime::of(quote),
            valid_until: job.project.pricing.valid_until.map(date::written),
            scope: scope_of(job),
            options: quote.options.iter().map(QuoteOption::of).collect(),
            assumptions: stakes::assumptions(quote),
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
    /// Off the selling price of every line; lines are with it off.
    pub customer_discount_percent: String,
    /// Name of the tax.
    pub tax_name: Option<String>,
    /// Its rate; `null` when there are several.
    pub tax_percent: Option<String>,
    /// Each rate with what it is on.
    pub taxes: Vec<TaxAt>,
    /// Tax.
    pub tax: String,
    /// Gross total.
    pub gross: String,
    /// Lines without a price, which are in no total.
    pub lines_without_price: usize,
    /// Lines whose price is past its date.
    pub lines_with_stale_price: usize,
}

/// A rate of the tax.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct TaxAt {
    /// The rate.
    pub percent: String,
    /// Net of the lines that it is on.
    pub on: String,
    /// The tax.
    pub tax: String,
}

impl TaxAt {
    fn of(tax: &priced::TaxAt) -> TaxAt {
        TaxAt {
            percent: quantity(tax.rate),
            on: money(tax.on),
            tax: money(tax.tax),
        }
    }
}

impl Totals {
    fn of(totals: &priced::Totals) -> Totals {
        let (margin, markup) = match totals.uplift {
            Some(Uplift::Margin(rate)) => (Some(quantity(rate)), None),
            Some(Uplift::Markup(rate)) => (None, Some(quantity(rate))),
            None => (None, None),
        };
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
            customer_discount_percent: quantity(totals.customer_discount_percent),
            tax_name: totals.tax_name.clone(),
            tax_percent: match totals.taxes.as_slice() {
                [tax] => Some(quantity(tax.rate)),
                _ => None,
            },
            taxes: totals.taxes.iter().map(TaxAt::of).collect(),
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
    /// Distance of the cut marks of strip.
    pub mark_mm: Option<f64>,
    /// What is left.
    pub offcut_mm: Number,
    /// Whether that is kept; `null` when the project does not say from which length.
    pub offcut_kept: Option<bool>,
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
    /// Which part of its section, or of its run's profile, it is, from 1.
    pub part: usize,
    /// How many parts that is made of.
    pub parts: usize,
    /// Where it begins on the reel or bar.
    pub from_mm: Number,
    /// Where it ends.
    pub to_mm: Number,
    /// Where it begins in its run, from the run's start.
    pub at_mm: Number,
}

impl Cut {
    fn of(stock: &priced::CutStock) -> Cut {
        let pieces = stock.pieces.iter().map(|piece| Piece {
            run: piece.run.clone(),
            section: piece.section,
            part: piece.part,
            parts: piece.parts,
            length_mm: number(millimetres(piece.length)),
            from_mm: number(millimetres(piece.from)),
            to_mm: number(millimetres(piece.to)),
            at_mm: number(millimetres(piece.at)),
        });
        Cut {
            number: stock.number,
            kind: stock.kind.name().to_owned(),
            item: stock.item.clone(),
            stock_mm: number(millimetres(stock.stock)),
            pieces: pieces.collect(),
            mark_mm: stock.mark.and_then(|mark| number(millimetres(mark))),
            offcut_mm: number(millimetres(stock.offcut)),
            offcut_kept: stock.kept,
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
