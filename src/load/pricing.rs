//! Pricing of a project.

use super::desk::Desk;
use super::plain::{Percent, Price, Text};
use super::words::Word;
use super::written::{Reads, Span, Unread, Written};
use crate::diagnostic::Place;
use crate::model::offer::ItemKind;
use crate::model::pricing::{Pricing, Rounding, Tax, Uplift};
use rust_decimal::Decimal;
use schemars::{JsonSchema, Schema, json_schema};
use serde::Deserialize;
use std::collections::BTreeMap;

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
    /// The tax outside the net total.
    tax: Option<TaxBlock>,
    /// Spares by kind of item.
    spares: Option<ByKind>,
    /// The supplier's discount by kind of item.
    discount: Option<ByKind>,
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
    /// Its rate.
    #[schemars(required)]
    rate: Option<Written<Percent>>,
}

/// A percentage for each kind of catalogue item.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct ByKind {
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

/// Reads the pricing; without a block, cost is the price and labour has none. `file` is where it
/// stands then.
pub fn read(block: Option<&PricingBlock>, desk: &mut Desk, file: Place) -> Pricing {
    let rate =
        |key: &Option<Written<Percent>>, desk: &mut Desk| desk.read(key).unwrap_or(Decimal::ZERO);
    let Some(block) = block else {
        return Pricing {
            labour_rate: None,
            overhead: Decimal::ZERO,
            contingency: Decimal::ZERO,
            uplift: None,
            tax: None,
            spares: BTreeMap::new(),
            discount: BTreeMap::new(),
            rounding: Rounding::default(),
            decimals: DECIMALS,
            place: file,
        };
    };
    Pricing {
        labour_rate: desk.read(&block.labour_rate),
        overhead: rate(&block.overhead, desk),
        contingency: rate(&block.contingency, desk),
        uplift: uplift(block, desk),
        tax: block.tax.as_ref().and_then(|tax| {
            let name = desk.read(&tax.name);
            let rate = desk.read(&tax.rate);
            Some(Tax {
                name: name?,
                rate: rate?,
            })
        }),
        spares: by_kind(block.spares.as_ref(), None, desk),
        discount: by_kind(block.discount.as_ref(), Some("discount"), desk),
        rounding: desk.read(&block.rounding).unwrap_or_default(),
        decimals: desk.read(&block.decimals).unwrap_or(DECIMALS),
        place: desk.place(block.place),
    }
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

fn by_kind(
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
