//! Things put into given containers by exchanges among them, drawn from a fixed sequence.
//!
//! What does not fit is counted, and an exchange is made where that grows by no more than a threshold,
//! which falls (threshold accepting: Dueck and Scheuer, Journal of Computational Physics 90, 1990).
//! What is left over at the end of a round is looked at in threes: a container that holds too much and
//! two others are filled anew, in every way. That finds a way into containers that have to be filled
//! almost to the last where a search that fills them one by one does not come to an end; it can't tell
//! that there is none.

mod three;

use super::draws::Draws;
use super::work::Work;
use super::{Container, Contents};
use num_traits::ToPrimitive;
use three::Three;

/// Exchanges tried in a round.
const ROUND: usize = 50_000;
/// Between two changes of the threshold.
const STEP: usize = ROUND / 64;
/// The threshold at the beginning of a round, as one part in so many of a middling thing.
const FIRST: i64 = 10;
/// What is left of the threshold at each change, in hundredths.
const FALL: i64 = 93;
/// Threes looked at for a container that holds too much.
const THREES: usize = 300;
/// Things and containers that are exchanged at most: of more each, a round sees too few.
const MOST: usize = 250;
/// Beyond this products of sizes are too large to reckon with.
const LARGEST: i64 = 1 << 50;

/// Whether there are few enough things for it.
pub(super) fn takes(work: &Work) -> bool {
    work.counts().iter().sum::<usize>() <= MOST
}

/// Puts everything into containers of which so many can be had as are `available`, in so many rounds.
/// `None` when no way was found.
pub(super) fn filled(work: &Work, rounds: usize) -> Option<Vec<Container>> {
    let mut exchange = Exchange::new(work)?;
    let mut draws = Draws::new();
    for _ in 0..rounds {
        let mut threshold = exchange.middling / FIRST;
        for tried in 0..ROUND {
            if exchange.over == 0 {
                return Some(exchange.containers());
            }
            if tried % STEP == STEP - 1 {
                threshold = threshold * FALL / 100;
            }
            exchange.tries(&mut draws, threshold);
        }
        exchange.refill(&mut draws);
    }
    (exchange.over == 0).then(|| exchange.containers())
}

/// A size or a room, in the two dimensions.
type Size = [i64; 2];

struct Thing {
    /// Which of the problem's.
    place: usize,
    size: Size,
    /// The container it is in.
    within: usize,
}

struct Bin {
    kind: usize,
    room: Size,
    held: Size,
}

impl Bin {
    /// How much `held` is beyond its room.
    fn too_much(&self, held: Size, weights: Size) -> i64 {
        (held[0] - self.room[0]).max(0) * weights[0] + (held[1] - self.room[1]).max(0) * weights[1]
    }
}

struct Exchange {
    things: Vec<Thing>,
    bins: Vec<Bin>,
    /// What one in each dimension counts: what all things take in the other.
    weights: Size,
    /// What a middling thing counts in one dimension.
    middling: i64,
    /// How much there is in containers beyond their room.
    over: i64,
}

/// Things that change containers: each to where another comes from.
struct Change {
    from: usize,
    to: usize,
    /// What `to` gains and `from` loses.
    size: Size,
    /// Those that go to `to`, and those that come from there.
    there: [Option<usize>; 2],
    back: [Option<usize>; 2],
}

impl Exchange {
    /// Everything in the containers where it is least too much, largest first; `None` when there is
    /// nothing to exchange, or too much.
    fn new(work: &Work) -> Option<Exchange> {
        if !takes(work) {
            return None;
        }
        let mut bins = Vec::new();
        for (kind, it) in work.kinds.iter().enumerate() {
            let room = [it.room[0].to_i64()?, it.room[1].to_i64()?];
            let held = [0, 0];
            bins.extend((0..it.available).map(|_| Bin { kind, room, held }));
        }
        let mut things = Vec::new();
        for (place, it) in work.things.iter().enumerate() {
            let size = [it.size[0].to_i64()?, it.size[1].to_i64()?];
            let within = 0;
            things.extend((0..it.count).map(|_| Thing {
                place,
                size,
                within,
            }));
        }
        if bins.len() < 2 || bins.len() > MOST {
            return None;
        }
        let all = work.size();
        let weights = [all[1].to_i64()?.max(1), all[0].to_i64()?.max(1)];
        let product = weights[0].checked_mul(weights[1])?;
        if product > LARGEST {
            return None;
        }
        let mut exchange = Exchange {
            middling: product / things.len().to_i64()?.max(1),
            things,
            bins,
            weights,
            over: 0,
        };
        exchange.spread();
        Some(exchange)
    }

    fn spread(&mut self) {
        let weights = self.weights;
        for at in 0..self.things.len() {
            let Some(size) = self.things.get(at).map(|it| it.size) else {
                continue;
            };
            let more = |(at, it): (usize, &Bin)| {
                let more =
                    it.too_much(plus(it.held, size), weights) - it.too_much(it.held, weights);
                let left = it.room[0] - it.held[0];
                (more, -left, at)
            };
            let least = self.bins.iter().enumerate().map(more).min();
            let Some((more, _, to)) = least else { continue };
            self.over += more;
            if let (Some(thing), Some(into)) = (self.things.get_mut(at), self.bins.get_mut(to)) {
                thing.within = to;
                into.held = plus(into.held, size);
            }
        }
    }

    /// Draws an exchange, and makes it unless too much more would be beyond its room.
    fn tries(&mut self, draws: &mut Draws, threshold: i64) {
        let Some(change) = self.drawn(draws) else {
            return;
        };
        let pair = self.bins.get(change.from).zip(self.bins.get(change.to));
        let Some((from, to)) = pair else { return };
        let lower = minus(from.held, change.size);
        let higher = plus(to.held, change.size);
        let weights = self.weights;
        let after = from.too_much(lower, weights) + to.too_much(higher, weights);
        let more = after - from.too_much(from.held, weights) - to.too_much(to.held, weights);
        if more > threshold {
            return;
        }
        self.over += more;
        if let Some(from) = self.bins.get_mut(change.from) {
            from.held = lower;
        }
        if let Some(to) = self.bins.get_mut(change.to) {
            to.held = higher;
        }
        let there = change.there.into_iter().flatten().map(|it| (it, change.to));
        let back = change.back.into_iter().flatten();
        for (thing, to) in there.chain(back.map(|it| (it, change.from))) {
            if let Some(thing) = self.things.get_mut(thing) {
                thing.within = to;
            }
        }
    }

    /// One thing goes over, or changes places with another, or one changes places with two.
    fn drawn(&self, draws: &mut Draws) -> Option<Change> {
        let many = self.things.len();
        let first = draws.below(many);
        let thing = self.things.get(first)?;
        let (from, mut size) = (thing.within, thing.size);
        let (mut there, mut back) = ([Some(first), None], [None, None]);
        let way = draws.below(8);
        if way == 0 {
            let to = draws.below(self.bins.len());
            return (to != from).then_some(Change {
                from,
                to,
                size,
                there,
                back,
            });
        }
        let second = draws.below(many);
        let other = self.things.get(second)?;
        let to = other.within;
        if to == from {
            return None;
        }
        size = minus(size, other.size);
        back[0] = Some(second);
        if way > 4 {
            let third = draws.below(many);
            let other = self.things.get(third)?;
            if third == first || third == second {
                return None;
            }
            if other.within == to {
                size = minus(size, other.size);
                back[1] = Some(third);
            } else if other.within == from {
                size = plus(size, other.size);
                there[1] = Some(third);
            } else {
                return None;
            }
        }
        Some(Change {
            from,
            to,
            size,
            there,
            back,
        })
    }

    /// Fills containers that hold too much anew, each with two others, where all three then fit.
    fn refill(&mut self, draws: &mut Draws) {
        let count = self.bins.len();
        for full in 0..count {
            for _ in 0..THREES {
                let over = |it: &Bin| it.too_much(it.held, self.weights) > 0;
                if !self.bins.get(full).is_some_and(over) {
                    break;
                }
                let three = [full, draws.below(count), draws.below(count)];
                if three[1] != full && three[2] != full && three[1] != three[2] {
                    self.fill_anew(three);
                }
            }
        }
    }

    fn fill_anew(&mut self, three: [usize; 3]) {
        let of_three = |at: &usize| self.bins.get(*at);
        let bins: Vec<&Bin> = three.iter().filter_map(of_three).collect();
        let room = bins.iter().map(|it| it.room).fold([0, 0], plus);
        let held = bins.iter().map(|it| it.held).fold([0, 0], plus);
        if held[0] > room[0] || held[1] > room[1] {
            return;
        }
        let things = self.things.iter().enumerate();
        let mut inside: Vec<(Size, usize)> = things
            .filter(|(_, thing)| three.contains(&thing.within))
            .map(|(index, thing)| (thing.size, index))
            .collect();
        inside.sort_by(|a, b| b.cmp(a));
        let rooms = bins.iter().map(|it| it.room).collect();
        let Some(goes) = Three::filled(rooms, &inside) else {
            return;
        };
        for bin in three {
            if let Some(bin) = self.bins.get_mut(bin) {
                self.over -= bin.too_much(bin.held, self.weights);
                bin.held = [0, 0];
            }
        }
        for ((size, index), at) in inside.iter().zip(goes) {
            let Some(&to) = three.get(at) else { continue };
            if let (Some(thing), Some(bin)) = (self.things.get_mut(*index), self.bins.get_mut(to)) {
                thing.within = to;
                bin.held = plus(bin.held, *size);
            }
        }
    }

    fn containers(&self) -> Vec<Container> {
        let mut filled: Vec<Container> = self
            .bins
            .iter()
            .map(|it| Container {
                kind: it.kind,
                contents: Contents::default(),
            })
            .collect();
        for thing in &self.things {
            if let Some(within) = filled.get_mut(thing.within) {
                within.contents.add(thing.place, 1);
            }
        }
        filled.retain(|it| !it.contents.is_empty());
        filled
    }
}

fn plus(a: Size, b: Size) -> Size {
    [a[0] + b[0], a[1] + b[1]]
}

fn minus(a: Size, b: Size) -> Size {
    [a[0] - b[0], a[1] - b[1]]
}

#[cfg(test)]
mod tests;
