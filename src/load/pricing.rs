//! Pricing of a project.

use super::commissioning::{self, CommissioningBlock, ProvisionalBlock};
use super::desk::Desk;
use super::measure::{Distance, LeadTime};
use super::plain::{Day, NewName, Percent, Price, Text};
use super::site::first_use;
use super::words::Word;
use super::written::{Reads, Span, Unread, Written};
use crate::diagnostic::Place;
use crate::model::offer::ItemKind;
use crate::model::pricing::{Pricing, Rounding, Tax, TaxRounding, Trade, Uplift};
use crate::quantity::Length;
use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use std::collections::BTreeMap;
use time::{Date, Duration};

/// Decimals of a currency when the project does not say.
const DECIMALS: u32 = 2;

/// How costs become a price.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct PricingBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Price of an hour of work.
    pub labour_rate: Option<Written<Price>>,
    /// On materials and labour.
    overhead: Option<Written<Percent>>,
    /// Of the selling price. Or give `markup`.
    margin: Option<Written<Percent>>,
    /// On cost.
    markup: Option<Written<Percent>>,
    /// For the unforeseen, on cost with overhead.
    contingency: Option<Written<Percent>>,
    /// Who fits what, and at which rate; hours are then summed by trade.
    #[serde(default)]
    trades: Vec<TradeBlock>,
    /// Time to commission the job; without it none is priced.
    commissioning: Option<CommissioningBlock>,
    /// Amounts set aside for work that can't be counted yet; neither margin nor discount is reckoned on
    /// them.
    #[serde(default)]
    provisional_sums: Vec<ProvisionalBlock>,
    /// Off the selling price of every line, for the customer.
    customer_discount: Option<Written<Percent>>,
    /// The tax outside the net total.
    tax: Option<TaxBlock>,
    /// Spares by kind of item.
    spares: Option<ByKind>,
    /// The supplier's discount by kind of item.
    discount: Option<ByKind>,
    /// Cable lost in cutting and at ends, of what is needed; none when left out.
    cable_waste: Option<Written<Percent>>,
    /// Offcuts that are kept: at least this long, by kind.
    keep_offcut: Option<OffcutBlock>,
    /// Last day on which the quotation can be accepted. Or give `valid_for`.
    valid_until: Option<Written<Day>>,
    /// Days from the project's date on which the quotation can be accepted.
    valid_for: Option<Written<LeadTime>>,
    /// How lines are rounded; `half up` when left out.
    rounding: Option<Written<Word<Rounding>>>,
    /// Decimals of the currency; 2 when left out.
    decimals: Option<Written<Decimals>>,
}

/// A tax.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct TaxBlock {
    /// Its name.
    #[schemars(required)]
    name: Option<Written<Text>>,
    /// Its rate, on all that has none of its own.
    #[schemars(required)]
    rate: Option<Written<Percent>>,
    /// The rate on labour.
    labour: Option<Written<Percent>>,
    /// Rates on kinds of item.
    kinds: Option<ByKind>,
    /// Where it is rounded: once for each `rate` (when left out), or on each `line`.
    rounding: Option<Written<Word<TaxRounding>>>,
}

/// A trade that fits items of some kinds.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct TradeBlock {
    /// Its name.
    #[schemars(required)]
    trade: Option<Written<NewName>>,
    /// The kinds of item that it fits.
    #[schemars(required, length(min = 1))]
    fits: Option<Vec<Written<Word<ItemKind>>>>,
    /// Price of an hour; the `labour_rate` when left out.
    rate: Option<Written<Price>>,
}

/// The least length of an offcut that is worth keeping.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct OffcutBlock {
    /// Of strip.
    strip: Option<Written<Distance>>,
    /// Of profile.
    profile: Option<Written<Distance>>,
}

/// A percentage for each kind of catalogue item.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct ByKind {
    /// For strip.
    strip: Option<Written<Percent>>,
    /// For drivers.
    driver: Option<Written<Percent>>,
    /// For cable.
    cable: Option<Written<Percent>>,
    /// For loop controllers.
    controller: Option<Written<Percent>>,
    /// For bus supplies.
    bus_supply: Option<Written<Percent>>,
    /// For control devices.
    control_device: Option<Written<Percent>>,
    /// For profiles.
    profile: Option<Written<Percent>>,
    /// For accessories.
    accessory: Option<Written<Percent>>,
}

/// Decimals of a currency: 0 to 4.
#[derive(Debug)]
struct Decimals;

impl Reads for Decimals {
    type Value = u32;
    const NAME: &'static str = "Decimals";

    fn what() -> String {
        "a number of decimals".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "integer", "minimum": 0, "maximum": 4})
    }

    fn read(text: &str) -> Result<u32, Unread> {
        let number = text.parse().ok().filter(|number| *number <= 4);
        number.ok_or_else(|| {
            let message = format!("`{text}` is not a number of decimals from 0 to 4");
            Unread::new("not-a-count", message)
        })
    }
}

/// Reads the pricing of a project of that date; without a block, cost is the price and labour has
/// none. `file` is where it stands then.
pub fn read(
    block: Option<&PricingBlock>,
    date: Option<Date>,
    desk: &mut Desk,
    file: Place,
) -> Pricing {
    let rate =
        |key: &Option<Written<Percent>>, desk: &mut Desk| desk.read(key).unwrap_or(Decimal::ZERO);
    let Some(block) = block else {
        return Pricing {
            place: file,
            ..Pricing::default()
        };
    };
    Pricing {
        labour_rate: desk.read(&block.labour_rate),
        overhead: rate(&block.overhead, desk),
        contingency: rate(&block.contingency, desk),
        uplift: uplift(block, desk),
        trades: trades(&block.trades, desk),
        commissioning: block
            .commissioning
            .as_ref()
            .map(|block| commissioning::read(block, desk)),
        provisional: commissioning::provisional(&block.provisional_sums, desk),
        customer_discount: customer_discount(block, desk),
        tax: block.tax.as_ref().and_then(|block| tax(block, desk)),
        spares: by_kind(block.spares.as_ref(), None, desk),
        discount: by_kind(block.discount.as_ref(), Some("discount"), desk),
        cable_waste: desk.read(&block.cable_waste),
        keep_offcut: keep_offcut(block.keep_offcut.as_ref(), desk),
        valid_until: valid_until(block, date, desk),
        rounding: desk.read(&block.rounding).unwrap_or_default(),
        decimals: desk.read(&block.decimals).unwrap_or(DECIMALS),
        place: desk.place(block.place),
    }
}

fn tax(block: &TaxBlock, desk: &mut Desk) -> Option<Tax> {
    let name = desk.read(&block.name);
    let rate = desk.read(&block.rate);
    let labour = desk.read(&block.labour);
    let kinds = by_kind(block.kinds.as_ref(), None, desk);
    let rounding = desk.read(&block.rounding).unwrap_or_default();
    Some(Tax {
        name: name?,
        rate: rate?,
        labour,
        kinds,
        rounding,
    })
}

fn customer_discount(block: &PricingBlock, desk: &mut Desk) -> Decimal {
    let Some(rate) = desk.read(&block.customer_discount) else {
        return Decimal::ZERO;
    };
    if let Some(written) = &block.customer_discount {
        below_all(rate, "customer discount", written.at, desk);
    }
    rate
}

/// The trades. A kind of item belongs to one of them at most.
fn trades(blocks: &[TradeBlock], desk: &mut Desk) -> Vec<Trade> {
    let mut names = BTreeMap::new();
    let mut taken: BTreeMap<ItemKind, String> = BTreeMap::new();
    let mut trades = Vec::with_capacity(blocks.len());
    for block in blocks {
        let name = desk.read(&block.trade);
        if let Some(written) = &block.trade {
            first_use(&mut names, "trade", written, desk);
        }
        let rate = desk.read(&block.rate);
        let mut kinds = Vec::new();
        for written in block.fits.iter().flatten() {
            let Some(kind) = desk.one(written) else {
                continue;
            };
            if let Some(other) = taken.get(&kind) {
                let kind = kind.name();
                let message = format!("`{kind}` is fitted by trade `{other}` already");
                desk.complain("fitted-twice", message, written.at);
                continue;
            }
            taken.insert(kind, name.clone().unwrap_or_default());
            kinds.push(kind);
        }
        trades.extend(name.map(|name| Trade { name, rate, kinds }));
    }
    trades
}

fn keep_offcut(block: Option<&OffcutBlock>, desk: &mut Desk) -> BTreeMap<ItemKind, Length> {
    let Some(block) = block else {
        return BTreeMap::new();
    };
    let kinds = [
        (ItemKind::Strip, desk.read(&block.strip)),
        (ItemKind::Profile, desk.read(&block.profile)),
    ];
    let said = kinds.into_iter();
    said.filter_map(|(kind, length)| Some((kind, length?)))
        .collect()
}

/// The last day of the quotation: the day itself, or so many days after the project's date.
fn valid_until(block: &PricingBlock, date: Option<Date>, desk: &mut Desk) -> Option<Date> {
    let until = desk.read(&block.valid_until);
    let days = desk.read(&block.valid_for);
    if let (Some(_), Some(second)) = (&block.valid_until, &block.valid_for) {
        let message = "both `valid_until` and `valid_for` are given: give one of them";
        desk.complain("validity-twice", message, second.at);
        return None;
    }
    if let (Some(until), Some(date), Some(written)) = (until, date, &block.valid_until)
        && until < date
    {
        let message = format!("`valid_until` is before the project's date, {date}");
        desk.complain("out-of-range", message, written.at);
    }
    if let (Some(written), None) = (&block.valid_for, date) {
        let message = "`valid_for` counts from the date of the project: give `date` in `project`, \
                       or `valid_until` here";
        desk.complain("validity-without-date", message, written.at);
    }
    let counted = days.zip(date);
    until.or_else(|| {
        counted.and_then(|(days, date)| date.checked_add(Duration::days(i64::from(days))))
    })
}

/// Margin or markup, never both; a margin of all the price would need an endless price.
fn uplift(block: &PricingBlock, desk: &mut Desk) -> Option<Uplift> {
    let margin = desk.read(&block.margin);
    let markup = desk.read(&block.markup);
    if let (Some(_), Some(second)) = (&block.margin, &block.markup) {
        let message = "both `margin` and `markup` are given: margin is of the selling price, \
                       markup is on cost; give one of them";
        desk.complain("margin-and-markup", message, second.at);
        return None;
    }
    if let (Some(margin), Some(written)) = (margin, &block.margin) {
        below_all(margin, "margin", written.at, desk);
        return Some(Uplift::Margin(margin));
    }
    markup.map(Uplift::Markup)
}

/// Complains of a share of a price that would leave nothing of it.
fn below_all(rate: Decimal, what: &str, place: Span, desk: &mut Desk) {
    if rate >= Decimal::ONE_HUNDRED {
        let message = format!("a {what} of {rate} % leaves nothing: it must be below 100 %");
        desk.complain("out-of-range", message, place);
    }
}

/// Percentages by kind of item; with `below` they must leave something of a price.
pub fn by_kind(
    block: Option<&ByKind>,
    below: Option<&str>,
    desk: &mut Desk,
) -> BTreeMap<ItemKind, Decimal> {
    let Some(block) = block else {
        return BTreeMap::new();
    };
    let keys = [
        &block.strip,
        &block.driver,
        &block.cable,
        &block.controller,
        &block.bus_supply,
        &block.control_device,
        &block.profile,
        &block.accessory,
    ];
    let mut rates = BTreeMap::new();
    for (kind, key) in ItemKind::ALL.into_iter().zip(keys) {
        let Some(rate) = desk.read(key) else { continue };
        if let (Some(what), Some(written)) = (below, key) {
            below_all(rate, what, written.at, desk);
        }
        rates.insert(kind, rate);
    }
    rates
}
