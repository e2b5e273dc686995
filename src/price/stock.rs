//! Pieces cut from stock lengths at least cost: reels of strip, bars of profile, drums of cable.

use super::buy::{Sale, buy};
use super::priced::{CutPiece, CutStock};
use crate::choose::buying::{self, Article};
use crate::choose::cutting::{Bar, Piece};
use crate::model::offer::{ItemKind, Offer, StockLength};
use crate::quantity::Length;
use crate::quantity::number::real;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use std::collections::{BTreeMap, HashSet};

/// A piece that the job wants.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Wanted {
    /// What it is for.
    pub run: String,
    /// Section or part of that, from 1.
    pub section: usize,
    /// Which part of that section or run it is, from 1.
    pub part: usize,
    /// How many parts that is made of.
    pub parts: usize,
    /// Its length in whole units.
    pub units: u64,
    /// Where it begins in its run, in whole units from the run's start.
    pub at: u64,
}

/// How lengths of an item are measured when cutting it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Unit {
    /// Length of one unit.
    pub length: Length,
    /// Units lost at each cut.
    pub kerf: u64,
}

/// One stock length as bought.
#[derive(Debug, Clone)]
pub(super) struct Bought {
    /// Its place among the item's stock lengths.
    pub index: usize,
    /// How many are used.
    pub count: usize,
    /// What they are for.
    pub used_for: Vec<String>,
}

/// An item cut from stock lengths.
#[derive(Debug, Clone)]
pub(super) struct Cutting<'a> {
    /// The item.
    pub offer: &'a Offer,
    /// All its stock lengths.
    pub stocks: &'a [StockLength],
    /// What is bought, in the order of its stock lengths.
    pub bought: Vec<Bought>,
    /// How it is cut.
    pub cuts: Vec<CutStock>,
    /// Whether the cost is proved least.
    pub proved: bool,
    /// What no way of cutting costs less than, when it is not.
    pub bound: Option<Decimal>,
    /// Whether more stock is used than the catalogue says there is.
    pub short_of_stock: bool,
    /// Metres of what is cut that are lost, as cable is.
    pub waste: Decimal,
}

/// Prices are compared in this many parts of the currency's unit.
const PARTS: i64 = 10_000;

/// The units of a stock length.
pub(super) fn units(stock: &StockLength, unit: Unit) -> u64 {
    let count = stock.length / unit.length;
    let count: f64 = count.get::<uom::si::ratio::ratio>();
    (count * (1.0 + 1e-9)).floor().to_u64().unwrap_or(0)
}

/// The units of the longest stock length.
pub(super) fn longest(stocks: &[StockLength], unit: Unit) -> u64 {
    stocks
        .iter()
        .map(|stock| units(stock, unit))
        .max()
        .unwrap_or(0)
}

/// Cuts `wanted` from the stock of an item. Each piece must fit the longest stock length. `None`
/// when nothing is wanted or nothing was found.
pub(super) fn cut_all<'a>(
    offer: &'a Offer,
    stocks: &'a [StockLength],
    unit: Unit,
    wanted: &[Wanted],
) -> Option<Cutting<'a>> {
    if wanted.is_empty() {
        return None;
    }
    let mut by_length: BTreeMap<u64, Vec<&Wanted>> = BTreeMap::new();
    for piece in wanted {
        by_length.entry(piece.units).or_default().push(piece);
    }
    let lengths: Vec<u64> = wanted.iter().map(|piece| piece.units).collect();
    let pieces = counted(&lengths);
    let job = Articles::for_pieces(offer, stocks, unit, &pieces)?;
    let within_stock = buying::buy(&job.articles(true), &pieces, unit.kerf);
    let short_of_stock = within_stock.is_none();
    let plan = within_stock.or_else(|| buying::buy(&job.articles(false), &pieces, unit.kerf))?;
    let mut lists: Vec<std::vec::IntoIter<&Wanted>> =
        by_length.into_values().rev().map(Vec::into_iter).collect();
    let mut cuts: Vec<(usize, CutStock)> = Vec::new();
    for (bar, number) in plan.bars.iter().zip(1..) {
        let held: Vec<&Wanted> = bar
            .pieces
            .iter()
            .filter_map(|piece| lists.get_mut(*piece)?.next())
            .collect();
        cuts.push((
            bar.stock,
            cut_stock(offer, stocks, unit, bar, number, &held)?,
        ));
    }
    let known = stocks.iter().any(|stock| stock.price().is_some());
    Some(Cutting {
        offer,
        stocks,
        bought: bought(stocks, &cuts),
        cuts: cuts.into_iter().map(|(_, cut)| cut).collect(),
        proved: plan.optimal && known,
        bound: (known && !plan.optimal).then(|| price_of(plan.bound_minor)),
        short_of_stock,
        waste: Decimal::ZERO,
    })
}

/// Pieces by length, longest first.
fn counted(lengths: &[u64]) -> Vec<Piece> {
    let mut by_length: BTreeMap<u64, usize> = BTreeMap::new();
    for units in lengths {
        *by_length.entry(*units).or_default() += 1;
    }
    let longest_first = by_length.into_iter().rev();
    longest_first
        .map(|(length, count)| Piece { length, count })
        .collect()
}

/// What the stock lengths for pieces of these lengths cost, in comparable parts; `None` when they
/// can't be had, or with less work no way is found to have them `below` a price.
pub(super) fn cost(
    offer: &Offer,
    stocks: &[StockLength],
    unit: Unit,
    (lengths, below): (&[u64], Option<u64>),
) -> Option<u64> {
    let pieces = counted(lengths);
    let job = Articles::for_pieces(offer, stocks, unit, &pieces)?;
    let articles = job.articles(true);
    match below {
        None => Some(buying::buy(&articles, &pieces, unit.kerf)?.price_minor),
        Some(below) => buying::cheaper(&articles, &pieces, unit.kerf, below),
    }
}

/// The stock lengths of an item, and what is to be cut from them.
struct Articles<'a> {
    offer: &'a Offer,
    stocks: &'a [StockLength],
    unit: Unit,
    /// How many pieces there are.
    pieces: usize,
    longest_piece: u64,
}

impl<'a> Articles<'a> {
    /// For pieces by length, the longest first; `None` when there are none.
    fn for_pieces(
        offer: &'a Offer,
        stocks: &'a [StockLength],
        unit: Unit,
        pieces: &[Piece],
    ) -> Option<Articles<'a>> {
        Some(Articles {
            offer,
            stocks,
            unit,
            pieces: pieces.iter().map(|piece| piece.count).sum(),
            longest_piece: pieces.first()?.length,
        })
    }

    /// What so many of each cost, `limited` to what can be had. Those without a price are left out
    /// where others can hold every piece; else they are taken as dear as the dearest by length, or,
    /// with no price at all, all by their length.
    fn articles(&self, limited: bool) -> Vec<Article> {
        let length = |stock: &StockLength| units(stock, self.unit);
        let dearest = self.stocks.iter().filter_map(|stock| {
            let each = parts_of(stock.price()?)?;
            Some(each.div_ceil(length(stock).max(1)))
        });
        let dearest = dearest.max().unwrap_or(1);
        let holds =
            |stock: &StockLength| stock.price().is_some() && length(stock) >= self.longest_piece;
        let enough = self.stocks.iter().any(holds);
        let article = |stock: &StockLength| Article {
            length: length(stock),
            costs: match stock.price() {
                Some(_) => self.costs(stock, limited),
                None if enough => vec![0],
                None => by_length(
                    length(stock).saturating_mul(dearest),
                    self.most(stock, limited),
                ),
            },
        };
        self.stocks.iter().map(article).collect()
    }

    /// How many of a stock length could be used and had.
    fn most(&self, stock: &StockLength, limited: bool) -> usize {
        let had = stock.available.filter(|_| limited);
        had.unwrap_or(self.pieces).min(self.pieces)
    }

    /// What it costs to have none, one, two… of a stock length.
    fn costs(&self, stock: &StockLength, limited: bool) -> Vec<u64> {
        let sale = Sale::of_length(self.offer, stock);
        let sale = if limited { sale } else { sale.without_limit() };
        let purchases = (0..=self.most(stock, limited))
            .map(|count| buy(sale, Decimal::from(count), Decimal::ZERO))
            .take_while(|purchase| sale.has(purchase.bought));
        purchases
            .map_while(|purchase| parts_of(purchase.cost()?))
            .collect()
    }
}

fn by_length(each: u64, most: usize) -> Vec<u64> {
    let counts = (0..=most).filter_map(|count| count.to_u64());
    counts.map(|count| each.saturating_mul(count)).collect()
}

/// A price of so many comparable parts.
fn price_of(parts: u64) -> Decimal {
    Decimal::from(parts) / Decimal::from(PARTS)
}

/// A price in comparable parts.
fn parts_of(price: Decimal) -> Option<u64> {
    (price * Decimal::from(PARTS)).round().to_u64()
}

fn cut_stock(
    offer: &Offer,
    stocks: &[StockLength],
    unit: Unit,
    bar: &Bar,
    number: usize,
    held: &[&Wanted],
) -> Option<CutStock> {
    let stock = stocks.get(bar.stock)?;
    let length = |units: u64| real(units.to_usize().unwrap_or(usize::MAX)) * unit.length;
    let mut place = 0_u64;
    let mut pieces = Vec::new();
    for wanted in held {
        let end = place + wanted.units;
        pieces.push(CutPiece {
            run: wanted.run.clone(),
            section: wanted.section,
            part: wanted.part,
            parts: wanted.parts,
            length: length(wanted.units),
            from: length(place),
            to: length(end),
            at: length(wanted.at),
        });
        place = end + unit.kerf;
    }
    // A piece that ends where its stock ends needs no cut there.
    let used = length(place).min(stock.length);
    Some(CutStock {
        number,
        kind: offer.kind,
        item: offer.id.clone(),
        stock: stock.length,
        pieces,
        mark: (offer.kind == ItemKind::Strip).then_some(unit.length),
        offcut: stock.length - used,
        kept: None,
    })
}

fn bought(stocks: &[StockLength], cuts: &[(usize, CutStock)]) -> Vec<Bought> {
    let of = |index: usize| {
        let own = cuts.iter().filter(|(of, _)| *of == index);
        let pieces = own.clone().flat_map(|(_, cut)| &cut.pieces);
        let mut known = HashSet::new();
        let names = pieces.map(|piece| &piece.run);
        Bought {
            index,
            count: own.count(),
            used_for: names.filter(|name| known.insert(*name)).cloned().collect(),
        }
    };
    let all = (0..stocks.len()).map(of);
    all.filter(|bought| bought.count > 0).collect()
}

/// A length in parts that stock can hold: as many of the longest as there are, then the rest.
pub(super) fn parts(units: u64, longest: u64) -> Vec<u64> {
    if longest == 0 {
        return Vec::new();
    }
    let mut parts: Vec<u64> = (0..units / longest).map(|_| longest).collect();
    if !units.is_multiple_of(longest) {
        parts.push(units % longest);
    }
    parts
}

/// Whether an item is cut into a list for the workshop; cable is cut on site.
pub(super) fn listed(kind: ItemKind) -> bool {
    kind != ItemKind::Cable
}

#[cfg(test)]
mod tests;
