//! Pieces cut from stock lengths whose price is no multiple of their number: ladders by quantity,
//! packs, smallest orders.
//!
//! Eleven reels may cost more than twenty, so which reels are cheapest can't be told from the price of
//! one. What some number of a stock length costs is given as a table; the purchase is then searched
//! for: first answers at the price of one and at the lowest price of one that the table has, a bound
//! from that lowest price, and between the two every purchase by itself, cheapest first, until one can
//! be cut. Work is limited by counted steps, so the answer is the same on every machine.

use super::cutting::{self, Bar, Piece, Stock, cut, things};
use super::filling::{Held, Kind, held};
use num_traits::ToPrimitive;

/// A stock length as it is sold.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Article {
    /// Its length.
    pub length: u64,
    /// What it costs to have so many of it, from none on, in the smallest unit of the currency: never
    /// falling. Its end is how many can be had.
    pub costs: Vec<u64>,
}

/// What is bought and how it is cut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bought {
    /// The stock lengths used, by article.
    pub bars: Vec<Bar>,
    /// What the purchase costs.
    pub price_minor: u64,
    /// Whether no purchase that can be cut so is cheaper.
    pub optimal: bool,
    /// No purchase costs less than this.
    pub bound_minor: u64,
}

/// Purchases that are listed, at most.
const LISTED: usize = 4_000;
/// Steps in listing them.
const LISTING: usize = 400_000;
/// Purchases that are tried, at most.
const TRIED: usize = 200;

impl Article {
    /// The cost of so many; `None` when they can't be had.
    fn cost(&self, count: usize) -> Option<u64> {
        self.costs.get(count).copied()
    }

    fn most(&self) -> usize {
        self.costs.len().saturating_sub(1)
    }

    /// The price of one, when any number costs that many times it.
    fn flat(&self) -> Option<u64> {
        let one = self.cost(1).unwrap_or(0);
        let times = |count: usize| count.to_u64().and_then(|count| one.checked_mul(count));
        let is_flat = |(count, cost): (usize, &u64)| times(count) == Some(*cost);
        self.costs.iter().enumerate().all(is_flat).then_some(one)
    }

    /// The least that one costs in any number of them, rounded down.
    fn least_each(&self) -> u64 {
        let numbered = self.costs.iter().enumerate().skip(1);
        let each = numbered.filter_map(|(count, cost)| cost.checked_div(count.to_u64()?));
        each.min().unwrap_or(0)
    }

    /// The same at one price; `pieces` are how many could be of use.
    fn stock(&self, price_minor: u64, pieces: usize) -> Stock {
        Stock {
            length: self.length,
            price_minor,
            available: Some(self.most()).filter(|most| *most < pieces),
        }
    }

    /// The numbers that are worth buying: no larger one costs as little.
    fn worth_buying(&self) -> Vec<(usize, u64)> {
        let next = self.costs.iter().skip(1).map(Some).chain([None]);
        let numbered = self.costs.iter().enumerate().zip(next);
        let worth = numbered.filter(|((_, cost), next)| next.is_none_or(|next| next > *cost));
        worth.map(|((count, cost), _)| (count, *cost)).collect()
    }
}

/// Cuts `pieces` from the cheapest purchase of `articles`, losing `kerf` at each cut. `None` when a
/// piece fits none, or no way was found to cut everything from what can be had.
#[must_use]
pub fn buy(articles: &[Article], pieces: &[Piece], kerf: u64) -> Option<Bought> {
    let count = pieces.iter().map(|piece| piece.count).sum();
    if let Some(stocks) = flat(articles, count) {
        let plan = cut(&stocks, pieces, kerf)?;
        return Some(Bought {
            bars: plan.bars,
            price_minor: plan.price_minor,
            optimal: plan.optimal,
            bound_minor: plan.bound_minor,
        });
    }
    let least: Vec<u64> = articles.iter().map(Article::least_each).collect();
    let single: Vec<u64> = articles.iter().map(|it| it.cost(1).unwrap_or(0)).collect();
    let at_least = cut(&stocks(articles, &least, count), pieces, kerf)?;
    let bound = at_least.bound_minor;
    let first = [
        Some(at_least),
        cut(&stocks(articles, &single, count), pieces, kerf),
    ];
    let answers = first.into_iter().flatten();
    let answers = answers.filter_map(|plan| Some((cost_of(articles, &plan.bars)?, plan.bars)));
    let (price, bars) = answers.min_by_key(|(cost, bars)| (*cost, bars.len()))?;
    Some(search(
        articles,
        pieces,
        kerf,
        Bought {
            bars,
            price_minor: price,
            optimal: price <= bound,
            bound_minor: bound.min(price),
        },
    ))
}

/// What a purchase costs that `pieces` can be cut from for less than `below`, where one is found: at
/// prices that are multiples of their number, with less work than [`buy`] takes.
#[must_use]
pub fn cheaper(articles: &[Article], pieces: &[Piece], kerf: u64, below: u64) -> Option<u64> {
    let count = pieces.iter().map(|piece| piece.count).sum();
    let price = match flat(articles, count) {
        Some(stocks) => cutting::cheaper(&stocks, pieces, kerf, below)?,
        None => buy(articles, pieces, kerf)?.price_minor,
    };
    (price < below).then_some(price)
}

/// The articles at what one costs; `None` where the price of some isn't a multiple of their number.
fn flat(articles: &[Article], pieces: usize) -> Option<Vec<Stock>> {
    let prices: Option<Vec<u64>> = articles.iter().map(Article::flat).collect();
    Some(stocks(articles, &prices?, pieces))
}

fn stocks(articles: &[Article], prices: &[u64], pieces: usize) -> Vec<Stock> {
    let priced = articles.iter().zip(prices);
    let stocks = priced.map(|(article, price)| article.stock(*price, pieces));
    stocks.collect()
}

/// What the bars of a plan cost to have.
fn cost_of(articles: &[Article], bars: &[Bar]) -> Option<u64> {
    let used = |index: usize| bars.iter().filter(|bar| bar.stock == index).count();
    let costs = articles.iter().enumerate();
    costs
        .map(|(index, article)| article.cost(used(index)))
        .sum()
}

/// Tries every purchase that is cheaper than the answer, or as cheap with fewer lengths, cheapest
/// first.
fn search(articles: &[Article], pieces: &[Piece], kerf: u64, mut answer: Bought) -> Bought {
    let things = things(pieces, kerf);
    let wanted: u64 = things
        .iter()
        .map(|thing| thing.size[0].saturating_mul(thing.count.to_u64().unwrap_or(u64::MAX)))
        .fold(0, u64::saturating_add);
    let rate = |article: &Article| ratio(article.least_each(), article.length.saturating_add(kerf));
    let mut listing = Listing {
        articles,
        kerf,
        rate: articles.iter().map(rate).fold(f64::INFINITY, f64::min),
        most: answer.price_minor,
        steps: LISTING,
        counts: Vec::new(),
        found: Vec::new(),
    };
    listing.walk(0, 0, wanted);
    let complete = listing.steps > 0 && listing.found.len() < LISTED;
    if !complete {
        return answer;
    }
    let mut purchases = listing.found;
    purchases.sort();
    let mut sure = true;
    let own = (answer.price_minor, answer.bars.len());
    let better = purchases
        .into_iter()
        .filter(|it| (it.price, it.lengths) < own);
    for (number, purchase) in better.enumerate() {
        if number >= TRIED {
            sure = false;
            answer.bound_minor = answer
                .bound_minor
                .max(purchase.price.min(answer.price_minor));
            break;
        }
        if sure {
            answer.bound_minor = answer.bound_minor.max(purchase.price);
        }
        match held(&kinds(articles, &purchase, kerf), &things) {
            Held::Yes(containers) => {
                answer.price_minor = purchase.price;
                answer.bars = super::cutting::bars(&containers, pieces);
                answer.bound_minor = answer.bound_minor.min(purchase.price);
                answer.optimal = sure;
                return answer;
            }
            Held::No => {}
            Held::Unknown => sure = false,
        }
    }
    if sure {
        answer.bound_minor = answer.price_minor;
        answer.optimal = true;
    }
    answer
}

fn ratio(a: u64, b: u64) -> f64 {
    let real = |value: u64| value.to_f64().unwrap_or(f64::INFINITY);
    if b == 0 { 0.0 } else { real(a) / real(b) }
}

fn kinds(articles: &[Article], purchase: &Purchase, kerf: u64) -> Vec<Kind> {
    let counted = articles.iter().zip(&purchase.counts);
    counted
        .map(|(article, count)| Kind {
            room: [article.length.saturating_add(kerf), 0],
            price: article.least_each(),
            available: Some(*count),
        })
        .collect()
}

/// So many of each article; ordered by price, then number, then room.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Purchase {
    price: u64,
    lengths: usize,
    room: u64,
    counts: Vec<usize>,
}

struct Listing<'a> {
    articles: &'a [Article],
    kerf: u64,
    /// What a unit of room costs at least.
    rate: f64,
    /// No purchase is listed that costs more.
    most: u64,
    steps: usize,
    counts: Vec<usize>,
    found: Vec<Purchase>,
}

impl Listing<'_> {
    fn walk(&mut self, spent: u64, room: u64, wanted: u64) {
        self.steps = self.steps.saturating_sub(1);
        let lacks = ratio(wanted.saturating_sub(room), 1);
        let least = ratio(spent, 1) + lacks * self.rate * (1.0 - 1e-9);
        let full = self.found.len() >= LISTED;
        if self.steps == 0 || full || spent > self.most || least > ratio(self.most, 1) {
            return;
        }
        let Some(article) = self.articles.get(self.counts.len()) else {
            if room >= wanted {
                self.found.push(Purchase {
                    price: spent,
                    lengths: self.counts.iter().sum(),
                    room,
                    counts: self.counts.clone(),
                });
            }
            return;
        };
        let each = article.length.saturating_add(self.kerf);
        for (count, cost) in article.worth_buying() {
            let Some(spent) = spent.checked_add(cost).filter(|spent| *spent <= self.most) else {
                break;
            };
            let more = each.saturating_mul(count.to_u64().unwrap_or(u64::MAX));
            self.counts.push(count);
            self.walk(spent, room.saturating_add(more), wanted);
            self.counts.pop();
        }
    }
}
