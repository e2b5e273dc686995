//! What pricing yields: the materials list, the cutting list, labour and totals.

use crate::model::assumption::Assumption;
use crate::model::offer::ItemKind;
use crate::model::pricing::Uplift;
use crate::quantity::{Length, Ratio, Time};
use rust_decimal::Decimal;
use time::Date;

/// What a quantity counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measured {
    /// Pieces.
    Piece,
    /// Metres.
    Metre,
    /// Reels, drums or bars of a stated length.
    StockLength,
}

/// What is wrong with a line's price.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PriceFlag {
    /// The catalogue has no price.
    Missing,
    /// The price was valid until this day, before the project's date.
    Stale(Date),
}

/// A line of the materials list.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// Line number, from 1, in the order of kinds and then ids.
    pub number: usize,
    /// Kind of item.
    pub kind: ItemKind,
    /// Catalogue id.
    pub item: String,
    /// Description; for stock lengths with the length: "…, reel of 5 m".
    pub description: String,
    /// Whether this line is for spares.
    pub spare: bool,
    /// What quantities count.
    pub measured: Measured,
    /// What the job needs.
    pub needed: Decimal,
    /// Metres of cable lost in cutting and at ends, beyond what is needed.
    pub waste: Decimal,
    /// Units in a pack.
    pub pack: usize,
    /// Quantity bought, whole packs, at least the smallest order.
    pub bought: Decimal,
    /// Bought less needed and, by the metre, less waste.
    pub left_over: Decimal,
    /// Price of one unit at that quantity, before discount; `None` when there is no price or nothing
    /// is bought.
    pub unit_cost: Option<Decimal>,
    /// Quantity from which that price holds.
    pub step_from: Option<Decimal>,
    /// Supplier's discount in percent.
    pub discount: Decimal,
    /// Cost of the line, rounded; `None` when there is no price.
    pub cost: Option<Decimal>,
    /// Selling price of the line, rounded; `None` when there is no price.
    pub sell: Option<Decimal>,
    /// What is wrong with the price.
    pub flags: Vec<PriceFlag>,
    /// Days from order to delivery.
    pub lead_time_days: Option<u32>,
    /// Last day of the price.
    pub price_valid_until: Option<Date>,
    /// Supplier.
    pub supplier: Option<String>,
    /// Runs, loops or circuits it is for.
    pub used_for: Vec<String>,
}

impl Line {
    /// Whether what it is for is there already, as spares out of offcuts or out of a pack are: it has
    /// no price of one, and costs nothing.
    #[must_use]
    pub fn is_there_already(&self) -> bool {
        self.bought.is_zero() && self.cost.is_some()
    }

    /// What is bought, or what is needed where nothing is bought for it.
    #[must_use]
    pub fn quantity(&self) -> Decimal {
        if self.bought.is_zero() {
            self.needed
        } else {
            self.bought
        }
    }
}

/// A piece cut from a stock length.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    /// Run it is for.
    pub run: String,
    /// Section of that run, from 1.
    pub section: usize,
    /// Length cut.
    pub length: Length,
    /// Which part of its section or of its run's profile it is, from 1.
    pub part: usize,
    /// How many parts that is made of.
    pub parts: usize,
    /// Where it begins on the reel or bar.
    pub from: Length,
    /// Where it ends there.
    pub to: Length,
    /// Where it begins in its run, from the run's start.
    pub at: Length,
}

/// A stock length and what is cut from it.
#[derive(Debug, Clone, PartialEq)]
pub struct CutStock {
    /// Number, from 1, by item.
    pub number: usize,
    /// Strip or profile.
    pub kind: ItemKind,
    /// Catalogue id.
    pub item: String,
    /// Length of the reel or bar.
    pub stock: Length,
    /// Pieces in the order in which they are cut.
    pub pieces: Vec<CutPiece>,
    /// Distance of its cut marks, for strip.
    pub mark: Option<Length>,
    /// What is left.
    pub offcut: Length,
    /// Whether that is kept; `None` when the project does not say from which length.
    pub kept: Option<bool>,
}

/// An amount set aside for work that can't be counted yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Provisional {
    /// What it is for.
    pub what: String,
    /// Its price, rounded.
    pub sell: Decimal,
}

/// A line of labour.
#[derive(Debug, Clone, PartialEq)]
pub struct LabourLine {
    /// What the work is.
    pub work: String,
    /// Who does it; `None` when the project names no trade for it.
    pub trade: Option<String>,
    /// Quantity it is for.
    pub quantity: Decimal,
    /// Time for one.
    pub each: Time,
    /// Hours in all.
    pub hours: Decimal,
    /// Cost; `None` when there is no labour rate.
    pub cost: Option<Decimal>,
    /// Selling price; `None` when there is no labour rate.
    pub sell: Option<Decimal>,
}

/// A rate of a tax with what it comes to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TaxAt {
    /// In percent.
    pub rate: Decimal,
    /// Net of the lines that it is on.
    pub on: Decimal,
    /// The tax.
    pub tax: Decimal,
}

/// Totals. Each is the sum of printed lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Totals {
    /// Cost of materials.
    pub materials_cost: Decimal,
    /// Cost of labour.
    pub labour_cost: Decimal,
    /// Hours of labour.
    pub labour_hours: Decimal,
    /// Cost of commissioning.
    pub commissioning_cost: Decimal,
    /// Hours of commissioning.
    pub commissioning_hours: Decimal,
    /// Overhead added, in percent.
    pub overhead_percent: Decimal,
    /// Overhead.
    pub overhead: Decimal,
    /// Contingency added, in percent.
    pub contingency_percent: Decimal,
    /// Contingency.
    pub contingency: Decimal,
    /// Margin or markup as set.
    pub uplift: Option<Uplift>,
    /// What margin or markup adds.
    pub uplift_amount: Decimal,
    /// Materials at selling price: sum of the lines.
    pub materials: Decimal,
    /// Labour at selling price: sum of the lines.
    pub labour: Decimal,
    /// Commissioning at selling price: sum of the lines.
    pub commissioning: Decimal,
    /// Provisional sums, on which nothing is added.
    pub provisional: Decimal,
    /// Net total.
    pub net: Decimal,
    /// Off the selling price of every line, in percent; the lines are printed with it off.
    pub customer_discount_percent: Decimal,
    /// Name of the tax.
    pub tax_name: Option<String>,
    /// Each rate of the tax with what it is on, by rate; none without a tax.
    pub taxes: Vec<TaxAt>,
    /// Tax in all.
    pub tax: Decimal,
    /// Gross total.
    pub gross: Decimal,
    /// Lines of materials without a price, which are not in any total.
    pub lines_without_price: usize,
    /// Lines of labour and commissioning without a price, which are not in any total.
    pub work_without_price: usize,
    /// Lines whose price is past its date.
    pub lines_with_stale_price: usize,
}

impl Totals {
    /// Hours of all work.
    #[must_use]
    pub fn hours(&self) -> Decimal {
        self.labour_hours + self.commissioning_hours
    }
}

/// What an assumption touches, and what it costs if it is not so.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Stake {
    /// Numbers of the lines that rest on it; empty when it is about the job as a whole, or about
    /// nothing in the list.
    pub lines: Vec<usize>,
    /// The other way, priced; `None` when that can't be computed or was not asked for.
    pub otherwise: Option<Otherwise>,
}

/// An assumption that turns out the other way, with the whole job sized and priced again.
#[derive(Debug, Clone, PartialEq)]
pub struct Otherwise {
    /// What the other way is, in words.
    pub words: String,
    /// What came of it.
    pub outcome: Result<Reckoned, String>,
}

/// What a job comes to that was altered, against the quotation.
#[derive(Debug, Clone, PartialEq)]
pub struct Reckoned {
    /// Net total.
    pub net: Decimal,
    /// Net total less that of the quotation.
    pub difference: Decimal,
    /// Total with tax.
    pub gross: Decimal,
    /// Hours of labour, commissioning included.
    pub labour_hours: Decimal,
    /// Light of the darkest segment of all runs, share of nominal; `None` when a run has no
    /// working point.
    pub light_least: Option<Ratio>,
    /// Drivers.
    pub drivers: usize,
    /// Control loops.
    pub loops: usize,
    /// Feed cable.
    pub feed_cable: Length,
    /// Rules of severity fault that it breaks.
    pub faults: usize,
    /// Checks that can't be told.
    pub cannot_tell: usize,
    /// Lines without a price, which are in no total.
    pub lines_without_price: usize,
}

/// An option with what it comes to, or why it can't be had.
#[derive(Debug, Clone, PartialEq)]
pub struct PricedOption {
    /// Its name.
    pub name: String,
    /// What it is, in words.
    pub title: String,
    /// What it comes to, or why it can't be sized.
    pub outcome: Result<Reckoned, String>,
}

/// The priced job.
#[derive(Debug, Clone, PartialEq)]
pub struct Quote {
    /// Currency code.
    pub currency: String,
    /// Decimals of the currency.
    pub decimals: u32,
    /// Materials.
    pub lines: Vec<Line>,
    /// Cutting list.
    pub cuts: Vec<CutStock>,
    /// Whether each cutting problem's cost is proved least: (item, proved, bound when not).
    pub cut_proofs: Vec<(String, bool, Option<Decimal>)>,
    /// Labour.
    pub labour: Vec<LabourLine>,
    /// Commissioning.
    pub commissioning: Vec<LabourLine>,
    /// Provisional sums.
    pub provisional: Vec<Provisional>,
    /// Totals.
    pub totals: Totals,
    /// Longest lead time and the line that has it.
    pub longest_lead_time: Option<(u32, String)>,
    /// What was assumed, from every stage.
    pub assumptions: Vec<Assumption>,
    /// What each of those touches and costs, in the same order.
    pub stakes: Vec<Stake>,
    /// Options, in project order; empty until they are priced.
    pub options: Vec<PricedOption>,
    /// What is left out.
    pub exclusions: Vec<String>,
}
