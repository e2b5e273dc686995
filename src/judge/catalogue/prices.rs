//! Prices that are missing, past their date, or likely slips.

use super::block;
use super::entry::{Cause, Entry, subject};
use crate::load::alone::{Alone, Block};
use crate::model::catalogue::Catalogue;
use crate::model::offer::{ItemKind, Offer, PriceStep, StockLength};
use crate::model::project::Severity;
use crate::quantity::length;
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use std::collections::BTreeMap;
use time::Date;
use uom::si::length::meter;

/// The rule that a missing price leaves untold.
const PRICE: &str = "price-missing";

/// What is found of prices, held against the day `on` if one is given.
pub(super) fn entries(alone: &Alone, on: Option<Date>) -> Vec<Entry> {
    let mut entries = Vec::new();
    for offer in alone.catalogue.offers() {
        if let Some(block) = block(alone, offer.kind, &offer.id) {
            of_item(&alone.catalogue, offer, block, &mut entries);
            if let Some(on) = on.filter(|_| block.has(UNTIL)) {
                entries.extend(past(offer, block, on));
            }
        }
    }
    if let Some(on) = on {
        entries.extend(all_past(alone, on));
    }
    entries.extend(without_date(alone));
    entries
}

/// Last days of prices, each with how many items' prices hold until then.
pub(super) fn valid(catalogue: &Catalogue) -> Vec<(Date, usize)> {
    let mut days: BTreeMap<Date, usize> = BTreeMap::new();
    for day in catalogue
        .offers()
        .filter_map(|offer| offer.price_valid_until)
    {
        *days.entry(day).or_default() += 1;
    }
    days.into_iter().collect()
}

const UNTIL: &str = "price_valid_until";

fn of_item(catalogue: &Catalogue, offer: &Offer, block: &Block, entries: &mut Vec<Entry>) {
    let Some((key, lengths)) = lengths(catalogue, offer) else {
        if offer.prices.is_empty() {
            entries.push(missing(block, "price", "`price` is not given".to_owned()));
        }
        entries.extend(odd_steps(block, "price", "", &offer.prices));
        return;
    };
    for stock in lengths {
        let of = format!(" of {}", length::write(stock.length));
        if stock.prices.is_empty() {
            entries.push(missing(block, key, format!("{key}{of}: no `price`")));
        }
        entries.extend(odd_steps(block, key, &of, &stock.prices));
    }
    entries.extend(dearer(block, key, lengths));
}

/// The lengths in which an item is sold, with their key; `None` for one that has a price itself.
fn lengths<'a>(
    catalogue: &'a Catalogue,
    offer: &Offer,
) -> Option<(&'static str, &'a [StockLength])> {
    let id = &offer.id;
    let (key, lengths) = match offer.kind {
        ItemKind::Strip => {
            let strip = catalogue.strips.iter().find(|one| one.offer.id == *id)?;
            ("reels", &strip.reels)
        }
        ItemKind::Profile => {
            let profile = catalogue.profiles.iter().find(|one| one.offer.id == *id)?;
            ("bars", &profile.bars)
        }
        ItemKind::Cable => {
            let cable = catalogue.cables.iter().find(|one| one.offer.id == *id)?;
            ("drums", &cable.drums)
        }
        _ => return None,
    };
    (!lengths.is_empty()).then_some((key, lengths.as_slice()))
}

fn missing(block: &Block, key: &str, found: String) -> Entry {
    Entry {
        cause: Cause::NoPrice,
        severity: Severity::Fault,
        untold: vec![PRICE],
        untold_result: Some("what a job that uses it costs"),
        ..Entry::wrong(Cause::NoPrice, block, key, found, "ask the supplier")
    }
}

/// A price of nothing, and a ladder on which more costs more apiece.
fn odd_steps(block: &Block, key: &str, of: &str, steps: &[PriceStep]) -> Vec<Entry> {
    let odd = |found: String, remedy: &str| Entry::wrong(Cause::Odd, block, key, found, remedy);
    let free = steps.iter().find(|step| step.price == Decimal::ZERO);
    let free = free.map(|_| {
        let found = format!("a price{of} of 0");
        odd(
            found,
            "leave `price` out where it is not known: a price of 0 is priced as free",
        )
    });
    let rising = steps.iter().zip(steps.iter().skip(1));
    let rising = rising
        .filter(|(fewer, more)| more.price > fewer.price)
        .map(|(fewer, more)| {
            let found = format!(
                "from {} the price{of} is {}, above {} for fewer",
                more.from, more.price, fewer.price
            );
            odd(found, "check both prices against the price list")
        });
    free.into_iter().chain(rising.take(1)).collect()
}

/// How much dearer by the metre the longer of two lengths may be before it is likely a slip
/// (common practice, no source).
const DEARER: f64 = 1.2;

/// A longer reel, bar or drum that costs much more by the metre than a shorter one.
fn dearer(block: &Block, key: &str, lengths: &[StockLength]) -> Option<Entry> {
    let by_metre = |stock: &StockLength| {
        let price = stock.price()?.to_f64()?;
        Some(price / stock.length.get::<meter>())
    };
    let mut sorted: Vec<&StockLength> = lengths.iter().collect();
    sorted.sort_by(|a, b| a.length.get::<meter>().total_cmp(&b.length.get::<meter>()));
    let pairs = sorted.iter().zip(sorted.iter().skip(1));
    for (short, long) in pairs {
        let (Some(one), Some(other)) = (by_metre(short), by_metre(long)) else {
            continue;
        };
        if other > one * DEARER {
            let found = format!(
                "a metre costs {other:.2} in {} and {one:.2} in {}",
                length::write(long.length),
                length::write(short.length)
            );
            let remedy = "check both lengths and prices against the price list";
            return Some(Entry::wrong(Cause::Odd, block, key, found, remedy));
        }
    }
    None
}

fn past(offer: &Offer, block: &Block, on: Date) -> Option<Entry> {
    let until = offer.price_valid_until.filter(|until| *until < on)?;
    let found = format!("its price held until {until}");
    Some(Entry::wrong(Cause::Past, block, UNTIL, found, ASK))
}

const ASK: &str = "ask for new prices, and write down until when they hold";

/// One cause where the day that holds for the whole catalogue is past.
fn all_past(alone: &Alone, on: Date) -> Option<Entry> {
    let own =
        |offer: &&Offer| block(alone, offer.kind, &offer.id).is_some_and(|block| !block.has(UNTIL));
    let theirs: Vec<Date> = alone
        .catalogue
        .offers()
        .filter(own)
        .filter_map(|offer| offer.price_valid_until)
        .collect();
    let until = theirs.first().filter(|until| **until < on)?;
    let found = format!("prices of {} items held until {until}", theirs.len());
    Some(Entry::wrong(Cause::Past, &alone.head, UNTIL, found, ASK))
}

/// One cause where no day is given for the whole catalogue: which items' prices have none.
fn without_date(alone: &Alone) -> Option<Entry> {
    let without = alone.catalogue.offers();
    let without: Vec<&Offer> = without
        .filter(|offer| offer.price_valid_until.is_none())
        .collect();
    let first = without.first()?;
    let block = block(alone, first.kind, &first.id)?;
    let (about, found) = match without.len() {
        1 => (block, format!("`{UNTIL}` is not given")),
        count => {
            let found = format!("no `{UNTIL}`, and none in {count} of its items");
            (&alone.head, found)
        }
    };
    Some(Entry {
        cause: Cause::NoFigure,
        severity: Severity::Caution,
        subject: subject(about),
        untold: vec!["price-stale"],
        ..Entry::wrong(Cause::NoFigure, about, UNTIL, found, "ask the supplier")
    })
}
