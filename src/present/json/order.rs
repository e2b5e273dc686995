//! What `feedpoint quote --buy --format json` prints: what to order, without selling prices.

use super::quote::LeadTime;
use super::{FORMAT, Project, money, quantity};
use crate::present::date;
use crate::present::job::Job;
use crate::price::priced;
use schemars::JsonSchema;
use serde::Serialize;

/// What to order. All money is in `currency`, as decimals in strings.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Order {
    /// Number of this format.
    pub format: u32,
    /// The project.
    pub project: Project,
    /// Currency code.
    pub currency: String,
    /// Lines, by number.
    pub lines: Vec<OrderLine>,
    /// Cost of the lines that have a price.
    pub materials_cost: String,
    /// Lines without a price, which are not in that cost.
    pub lines_without_price: usize,
    /// Longest lead time, and the line that has it.
    pub longest_lead_time: Option<LeadTime>,
}

impl Order {
    /// The order of a job.
    #[must_use]
    pub fn of(job: &Job) -> Order {
        Order {
            format: FORMAT,
            project: Project::of(job),
            currency: job.quote.currency.clone(),
            lines: job.quote.lines.iter().map(OrderLine::of).collect(),
            materials_cost: money(job.quote.totals.materials_cost),
            lines_without_price: job.quote.totals.lines_without_price,
            longest_lead_time: LeadTime::of(&job.quote),
        }
    }
}

/// A line of the order.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, JsonSchema)]
pub struct OrderLine {
    /// Line number, from 1; the same as in the quote.
    pub line: usize,
    /// Kind of item.
    pub kind: String,
    /// Catalogue id.
    pub item: String,
    /// Description.
    pub description: String,
    /// Whether it is for spares.
    pub spare: bool,
    /// Supplier.
    pub supplier: Option<String>,
    /// Units in a pack.
    pub pack: usize,
    /// Quantity to order.
    pub bought: String,
    /// Price of one unit at that quantity, before discount; `null` when there is none.
    pub unit_cost: Option<String>,
    /// Supplier's discount.
    pub discount_percent: String,
    /// Cost of the line; `null` when there is no price.
    pub cost: Option<String>,
    /// Last day of the price.
    pub price_valid_until: Option<String>,
    /// Days from order to delivery.
    pub lead_time_days: Option<u32>,
}

impl OrderLine {
    fn of(line: &priced::Line) -> OrderLine {
        OrderLine {
            line: line.number,
            kind: line.kind.name().to_owned(),
            item: line.item.clone(),
            description: line.description.clone(),
            spare: line.spare,
            supplier: line.supplier.clone(),
            pack: line.pack,
            bought: quantity(line.bought),
            unit_cost: line.unit_cost.map(money),
            discount_percent: quantity(line.discount),
            cost: line.cost.map(money),
            price_valid_until: line.price_valid_until.map(date::written),
            lead_time_days: line.lead_time_days,
        }
    }
}
