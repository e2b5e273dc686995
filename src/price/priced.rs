//! What pricing yields: the materials list, the cutting list, labour and totals.

use crate::model::assumption::Assumption;
use crate::model::offer::ItemKind;
use crate::model::pricing::Uplift;
use crate::quantity::{Length, Time};
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
    /// Units in a pack.
    pub pack: usize,
    /// Quantity bought, whole packs, at least the smallest order.
    pub bought: Decimal,
    /// Bought less needed.
    pub left_over: Decimal,
    /// Price of one unit at that quantity, before discount.
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

/// A piece cut from a stock length.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPiece {
    /// Run it is for.
    pub run: String,
    /// Section of that run, from 1.
    pub section: usize,
    /// Length cut.
    pub length: Length,
    /// From this cut mark (strip) or position (profile)…
    pub from: Length,
    /// …to this one.
    pub to: Length,
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
    /// What is left.
    pub offcut: Length,
}

/// A line of labour.
#[derive(Debug, Clone, PartialEq)]
pub struct LabourLine {
    /// What the work is.
    pub work: String,
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

/// Totals. Each is the sum of printed lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Totals {
    /// Cost of materials.
    pub materials_cost: Decimal,
    /// Cost of labour.
    pub labour_cost: Decimal,
    /// Hours of labour.
    pub labour_hours: Decimal,
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
    /// Net total.
    pub net: Decimal,
    /// Name and rate of the tax.
    pub tax_name: Option<(String, Decimal)>,
    /// Tax.
    pub tax: Decimal,
    /// Gross total.
    pub gross: Decimal,
    /// Lines without a price, which are not in any total.
    pub lines_without_price: usize,
    /// Lines whose price is past its date.
    pub lines_with_stale_price: usize,
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
    /// Totals.
    pub totals: Totals,
    /// Longest lead time and the line that has it.
    pub longest_lead_time: Option<(u32, String)>,
    /// What was assumed, from every stage.
    pub assumptions: Vec<Assumption>,
    /// What is left out.
    pub exclusions: Vec<String>,
}
