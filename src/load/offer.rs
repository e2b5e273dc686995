//! What every catalogue item has: description, price, packs, delivery, labour.

use super::desk::Desk;
use super::measure::{Extent, LeadTime, WorkTime};
use super::plain::{Count, Day, NewName, Price, Text};
use super::written::{Span, Written};
use crate::model::offer::{ItemKind, Offer, PriceStep, StockLength};
use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Deserialize;
use time::Date;

/// Keys that every item may have.
#[derive(Debug, Deserialize, JsonSchema)]
pub struct OfferKeys {
    /// What it is, in words; the id when left out.
    description: Option<Written<Text>>,
    /// Price of one (of a metre, for cable), or a ladder of prices by quantity.
    price: Option<PriceKey>,
    /// Pieces in a pack, or reels, drums or bars of a length; it is bought in whole packs.
    pack: Option<Written<Count>>,
    /// The smallest quantity that is sold; of each length, for what is sold in lengths.
    smallest_order: Option<Written<Count>>,
    /// From order to delivery.
    lead_time: Option<Written<LeadTime>>,
    /// Work to fit one (a metre, for strip, cable and profile).
    labour: Option<Written<WorkTime>>,
    /// Last day on which the price holds; the catalogue's when left out.
    price_valid_until: Option<Written<Day>>,
    /// Who sells it; the catalogue's when left out.
    supplier: Option<Written<Text>>,
}

/// A price, or a ladder of prices.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(untagged)]
enum PriceKey {
    One(Written<Price>),
    Ladder(Vec<PriceRow>),
}

/// A step of a price ladder.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct PriceRow {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// The quantity from which the price holds, for all units.
    #[schemars(required)]
    from: Option<Written<Count>>,
    /// The price of one.
    #[schemars(required)]
    price: Option<Written<Price>>,
}

/// A length in which something is sold.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct StockKeys {
    /// Its length.
    #[schemars(required)]
    length: Option<Written<Extent>>,
    /// Its price, or a ladder of prices by how many of this length are bought.
    price: Option<PriceKey>,
    /// How many can be had; no limit when left out.
    available: Option<Written<Count>>,
}

/// What a catalogue says for all its items.
#[derive(Debug, Default)]
pub struct CatalogueDefaults {
    /// Last day of its prices.
    pub price_valid_until: Option<Date>,
    /// Who sells its items.
    pub supplier: Option<String>,
}

/// Reads an item's offer. `None` when its id can't be read.
pub fn read(
    id: &Option<Written<NewName>>,
    keys: &OfferKeys,
    kind: ItemKind,
    defaults: &CatalogueDefaults,
    desk: &mut Desk,
) -> Option<Offer> {
    let prices = keys.price.as_ref().map(|price| prices(price, desk));
    let description = desk.read(&keys.description);
    let pack = desk.read(&keys.pack);
    let smallest_order = desk.read(&keys.smallest_order);
    let lead_time_days = desk.read(&keys.lead_time);
    let labour = desk.read(&keys.labour);
    let until = desk.read(&keys.price_valid_until);
    let supplier = desk.read(&keys.supplier);
    let written = id.as_ref()?;
    let id = desk.one(written)?;
    Some(Offer {
        description: description.unwrap_or_else(|| id.clone()),
        id,
        kind,
        prices: prices.unwrap_or_default(),
        pack: pack.unwrap_or(1),
        smallest_order: smallest_order.unwrap_or(1),
        lead_time_days,
        labour,
        price_valid_until: until.or(defaults.price_valid_until),
        supplier: supplier.or_else(|| defaults.supplier.clone()),
        place: desk.place(written.at),
    })
}

fn prices(key: &PriceKey, desk: &mut Desk) -> Vec<PriceStep> {
    match key {
        PriceKey::One(price) => {
            let price = desk.one(price);
            let step = price.map(|price| PriceStep {
                from: Decimal::ONE,
                price,
            });
            step.into_iter().collect()
        }
        PriceKey::Ladder(rows) => ladder(rows, desk),
    }
}

/// A ladder begins with 1 and rises.
fn ladder(rows: &[PriceRow], desk: &mut Desk) -> Vec<PriceStep> {
    let mut steps: Vec<PriceStep> = Vec::new();
    for row in rows {
        let from = desk.read(&row.from);
        let price = desk.read(&row.price);
        let (Some(from), Some(price)) = (from, price) else {
            continue;
        };
        let from = Decimal::from(from);
        match steps.last() {
            None if from != Decimal::ONE => {
                let message = format!("a price ladder begins with `from: 1`, not {from}");
                desk.complain("price-ladder", message, row.place);
            }
            Some(before) if before.from >= from => {
                let message = format!("`from` must rise: {from} comes after {}", before.from);
                desk.complain("price-ladder", message, row.place);
            }
            _ => {}
        }
        steps.push(PriceStep { from, price });
    }
    steps
}

/// Reads the lengths in which something is sold.
pub fn stock(keys: &[StockKeys], desk: &mut Desk) -> Vec<StockLength> {
    let mut stock = Vec::with_capacity(keys.len());
    for one in keys {
        let length = desk.read(&one.length);
        let prices = one.price.as_ref().map(|price| prices(price, desk));
        let available = desk.read(&one.available);
        if let Some(length) = length {
            stock.push(StockLength {
                length,
                prices: prices.unwrap_or_default(),
                available,
            });
        }
    }
    stock
}

/// Complains of a price on something that is priced by the length in which it is sold.
pub fn refuse_price(keys: &OfferKeys, lengths: &str, desk: &mut Desk) {
    let place = match &keys.price {
        None => return,
        Some(PriceKey::One(price)) => price.at,
        Some(PriceKey::Ladder(rows)) => rows.first().map(|row| row.place).unwrap_or_default(),
    };
    let message = format!("no `price` here: each of the `{lengths}` has its own");
    desk.complain("price-place", message, place);
}
