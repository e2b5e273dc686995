//! Pieces cut from stock lengths: strip from reels, profile from bars.
//!
//! Lowest price first, then fewest stock lengths, then least waste. Everything is in whole units
//! of length: cut segments of a strip, or millimetres.

use super::filling::{Container, Filling, Kind, Thing, fill, fill_below};
use num_traits::ToPrimitive;
use std::cmp::Reverse;

/// A stock length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stock {
    /// Its length.
    pub length: u64,
    /// Its price in the smallest unit of the currency.
    pub price_minor: u64,
    /// How many can be had; `None` for no limit.
    pub available: Option<usize>,
}

/// Pieces wanted of one length.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Piece {
    /// Their length.
    pub length: u64,
    /// How many.
    pub count: usize,
}

/// A stock length with the pieces cut from it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar {
    /// Index of its stock.
    pub stock: usize,
    /// Indices of its pieces, one entry for each piece, longest first.
    pub pieces: Vec<usize>,
}

/// How everything is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plan {
    /// The stock lengths used, by stock.
    pub bars: Vec<Bar>,
    /// What they cost, in the smallest unit of the currency.
    pub price_minor: u64,
    /// Whether no plan is cheaper, nor as cheap with fewer stock lengths.
    pub optimal: bool,
    /// No plan costs less than this.
    pub bound_minor: u64,
}

/// Cuts `pieces` from `stocks`, losing `kerf` at each cut. A piece that ends where its stock ends
/// needs no cut there. `None` when a piece fits no stock, or no way was found to cut everything
/// from limited stock.
#[must_use]
pub fn cut(stocks: &[Stock], pieces: &[Piece], kerf: u64) -> Option<Plan> {
    let kinds = kinds(stocks, kerf);
    let things = things(pieces, kerf);
    let filling = fill(&kinds, &things)?;
    let filling = less_waste(&kinds, &things, filling);
    Some(Plan {
        bars: bars(&filling.containers, pieces),
        price_minor: filling.price,
        optimal: filling.optimal,
        bound_minor: filling.bound,
    })
}

/// What it costs to cut `pieces` from stocks for less than `below`, where a way is found with less work
/// than [`cut`] takes.
pub(super) fn cheaper(stocks: &[Stock], pieces: &[Piece], kerf: u64, below: u64) -> Option<u64> {
    let filling = fill_below(&kinds(stocks, kerf), &things(pieces, kerf), below)?;
    Some(filling.price)
}

/// Stock lengths as kinds of container.
fn kinds(stocks: &[Stock], kerf: u64) -> Vec<Kind> {
    let kinds = stocks.iter().map(|stock| Kind {
        room: [stock.length.saturating_add(kerf), 0],
        price: stock.price_minor,
        available: stock.available,
    });
    kinds.collect()
}

/// Pieces as things to be held, each with the cut that follows it.
pub(super) fn things(pieces: &[Piece], kerf: u64) -> Vec<Thing> {
    let things = pieces.iter().map(|piece| Thing {
        size: [piece.length.saturating_add(kerf), 0],
        count: piece.count,
    });
    things.collect()
}

/// Purchases of the same price and number compared for waste, at most.
const PURCHASES: usize = 64;

/// The same price and number of stock lengths with less stock, where there is such a purchase and
/// everything can be cut from it.
fn less_waste(kinds: &[Kind], things: &[Thing], filling: Filling) -> Filling {
    let used = |filling: &Filling| -> u64 {
        filling
            .containers
            .iter()
            .filter_map(|container| kinds.get(container.kind))
            .map(|kind| kind.room[0])
            .sum()
    };
    let wanted: u64 = things
        .iter()
        .map(|thing| thing.size[0].saturating_mul(thing.count.to_u64().unwrap_or(u64::MAX)))
        .fold(0, u64::saturating_add);
    let most = used(&filling);
    let mut purchases = Vec::new();
    let target = Purchase {
        price: filling.price,
        count: filling.containers.len(),
        room: 0,
        counts: Vec::new(),
    };
    purchases_of(kinds, target, &mut purchases);
    purchases.retain(|purchase| purchase.room < most && purchase.room >= wanted);
    purchases.sort_by_key(|purchase| purchase.room);
    purchases
        .into_iter()
        .take(PURCHASES)
        .find_map(|purchase| {
            let limited: Vec<Kind> = kinds
                .iter()
                .zip(purchase.counts)
                .map(|(kind, count)| Kind {
                    available: Some(count),
                    ..kind.clone()
                })
                .collect();
            fill(&limited, things)
        })
        .map_or(filling.clone(), |found| Filling {
            containers: found.containers,
            ..filling
        })
}

/// What is left to buy, with what was bought so far.
#[derive(Clone)]
struct Purchase {
    price: u64,
    count: usize,
    room: u64,
    counts: Vec<usize>,
}

/// Lists the purchases of exactly that price and number; some, when there are very many.
fn purchases_of(kinds: &[Kind], left: Purchase, found: &mut Vec<Purchase>) {
    if found.len() >= PURCHASES * 16 {
        return;
    }
    let Some((kind, rest)) = kinds.split_first() else {
        if left.price == 0 && left.count == 0 {
            found.push(left);
        }
        return;
    };
    let most = kind.available.unwrap_or(left.count).min(left.count);
    for count in 0..=most {
        let whole = count.to_u64().unwrap_or(u64::MAX);
        let Some(price) = left.price.checked_sub(kind.price.saturating_mul(whole)) else {
            break;
        };
        let mut next = left.clone();
        next.price = price;
        next.count -= count;
        next.room = next.room.saturating_add(kind.room[0].saturating_mul(whole));
        next.counts.push(count);
        purchases_of(rest, next, found);
    }
}

/// Filled containers as stock lengths with their pieces, longest first.
pub(super) fn bars(containers: &[Container], pieces: &[Piece]) -> Vec<Bar> {
    let longest_first = |container: &Container| {
        let mut held: Vec<(usize, usize)> = container.contents.each().collect();
        held.sort_by_key(|(index, _)| Reverse(pieces.get(*index).map_or(0, |piece| piece.length)));
        let held = held.into_iter();
        held.flat_map(|(index, count)| std::iter::repeat_n(index, count))
            .collect()
    };
    containers
        .iter()
        .map(|container| Bar {
            stock: container.kind,
            pieces: longest_first(container),
        })
        .collect()
}
