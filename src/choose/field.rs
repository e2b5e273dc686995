//! The options for feeding a run, each with the least that it can cost and what came of it.

use super::arrangement::{self, Arrangement};
use super::candidate::Candidate;
use super::cost;
use super::driver::{Demand, fits, gives, pack};
use super::feeding::Feeding;
use super::limits::Checked;
use super::sharing::Sharing;
use super::sized::Section;
use super::trial::{self, Attempt, Trial};
use super::unit::Unit;
use crate::model::cable::Cable;
use crate::model::extra::Per;
use crate::model::run::FeedWish;
use crate::quantity::number::real;
use crate::quantity::{Current, Length, Power};
use rust_decimal::Decimal;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;
use std::sync::Arc;
use uom::si::power::watt;
use uom::si::ratio::ratio;

/// Everything that can be tried on a run.
pub struct Field<'a> {
    /// The run.
    pub feeding: &'a Feeding<'a>,
    /// Arrangements, simplest first; the one that was asked for, if one was.
    pub ways: Vec<Arrangement>,
    /// What drivers can have on at once.
    pub sharings: Vec<Sharing>,
    per_feed: Option<Decimal>,
    per_section: Option<Decimal>,
    /// Of a metre of each cable.
    per_metre: Vec<Option<Decimal>>,
    wired: Wired,
    tried: Tried,
}

/// Indices of units by cable, kind of driver and number of feeds.
type Wired = RefCell<BTreeMap<(usize, Sharing, usize), Rc<[usize]>>>;

/// What came of options, by way, cable and kind of driver.
type Tried = RefCell<BTreeMap<(usize, usize, Sharing), Result<Trial, Checked>>>;

impl<'a> Field<'a> {
    /// Lists it.
    #[must_use]
    pub fn new(feeding: &'a Feeding<'a>) -> Self {
        let run = feeding.run;
        let asked = arrangement::given(&feeding.wish, feeding.segments, run.strip.cut);
        let mut sharings: Vec<Sharing> = feeding.units.iter().map(|unit| unit.sharing).collect();
        if sharings.is_empty() {
            let single = run.strip.channels.count() == 1;
            sharings.push(if single {
                Sharing::Single
            } else {
                Sharing::Full
            });
        }
        sharings.sort_unstable();
        sharings.dedup();
        let accessories = |per| cost::accessories(feeding.project, run, per);
        Field {
            feeding,
            ways: match asked {
                Some(way) => vec![way],
                None => arrangement::candidates(feeding.segments, &feeding.reach),
            },
            sharings,
            per_feed: accessories(Per::Feed),
            per_section: accessories(Per::Section),
            per_metre: feeding
                .cables
                .iter()
                .map(|cable| cost::metre(cable, &feeding.project.pricing))
                .collect(),
            wired: Wired::default(),
            tried: Tried::default(),
        }
    }

    /// What a candidate stands for.
    #[must_use]
    pub fn attempt<'b>(&'b self, candidate: &Candidate) -> Option<Attempt<'b>> {
        Some(Attempt {
            way: self.ways.get(candidate.way)?,
            cable: self.feeding.cables.get(candidate.cable)?,
            sharing: candidate.sharing,
        })
    }

    /// A candidate solved and checked until the first limit is broken, at the first time that it is
    /// asked for; `None` when it stands for nothing.
    ///
    /// # Errors
    /// The first broken limit.
    #[must_use]
    pub fn feasible(&self, candidate: &Candidate) -> Option<Result<Trial, Checked>> {
        let attempt = self.attempt(candidate)?;
        let key = (candidate.way, candidate.cable, candidate.sharing);
        let mut tried = self.tried.borrow_mut();
        let result = tried
            .entry(key)
            .or_insert_with(|| trial::feasible(self.feeding, attempt));
        Some(result.clone())
    }

    /// Every option that some driver could take, in the order in which they are looked at.
    #[must_use]
    pub fn candidates(&self) -> Vec<Candidate> {
        let mut all = Vec::new();
        for way in 0..self.ways.len() {
            for cable in 0..self.feeding.cables.len() {
                for &sharing in &self.sharings {
                    all.extend(self.candidate(way, cable, sharing));
                }
            }
        }
        all.retain(|candidate| self.takes(candidate));
        all.sort_by(|a, b| a.compare(a.floor, b, b.floor));
        all
    }

    /// An option with the least that it can cost.
    #[must_use]
    pub fn candidate(&self, way: usize, cable: usize, sharing: Sharing) -> Option<Candidate> {
        self.option(self.ways.get(way)?, way, cable, sharing)
    }

    /// The option of an arrangement that is, or is to be, the field's of an index.
    #[must_use]
    pub fn option(
        &self,
        arrangement: &Arrangement,
        way: usize,
        cable: usize,
        sharing: Sharing,
    ) -> Option<Candidate> {
        let item = self.feeding.cables.get(cable)?;
        let cable_length = arrangement.cable_length(&self.feeding.reach);
        let mut candidate = Candidate {
            way,
            cable,
            sharing,
            floor: None,
            sections: arrangement.pieces.len(),
            feeds: arrangement.feeds(),
            cable_length,
            copper: item.size.area().value * cable_length.value,
        };
        let drivers = self.least_shares(&candidate, arrangement);
        let fixed = self.fixed(&candidate);
        candidate.floor = fixed.zip(drivers).map(|(fixed, drivers)| fixed + drivers);
        Some(candidate)
    }

    /// The least share of drivers' costs that goes with all sections. Those of one length, which are
    /// most of them, are reckoned once.
    fn least_shares(&self, candidate: &Candidate, arrangement: &Arrangement) -> Option<Decimal> {
        let mut known: Vec<(usize, Decimal)> = Vec::new();
        let mut sum = Decimal::ZERO;
        for piece in &arrangement.pieces {
            let before = known
                .iter()
                .find(|(segments, _)| *segments == piece.segments);
            sum += match before {
                Some((_, share)) => *share,
                None => {
                    let power = self.least_power(piece.segments, candidate.sharing);
                    let share = self.share(candidate, power)?;
                    known.push((piece.segments, share));
                    share
                }
            };
        }
        Some(sum)
    }

    /// The least that any option costs with a candidate's cable and its length, its sections and
    /// feeds, wherever these are.
    pub(super) fn least(&self, candidate: &Candidate) -> Option<Decimal> {
        let fixed = self.fixed(candidate)?;
        if self.feeding.units.is_empty() || self.is_asked() {
            return Some(fixed);
        }
        let power = self.least_power(self.feeding.segments, candidate.sharing);
        let fitting = self.fitting(candidate, Power::default());
        let shares = fitting.into_iter().filter_map(|unit| {
            let part = (power / unit.loadable).get::<ratio>();
            cost::decimal(cost::real(unit.cost?) * part)
        });
        Some(fixed + shares.min()?)
    }

    /// Whether the arrangement was asked for.
    pub(super) fn is_given(&self) -> bool {
        self.feeding.wish != FeedWish::Auto
    }

    /// Whether some driver could take each of its sections.
    fn takes(&self, candidate: &Candidate) -> bool {
        let free = self.feeding.units.is_empty() || self.is_asked();
        let pieces = self.ways.get(candidate.way).map(|way| &way.pieces);
        let longest = pieces
            .into_iter()
            .flatten()
            .map(|piece| piece.segments)
            .max();
        let power = self.least_power(longest.unwrap_or(0), candidate.sharing);
        free || !self.fitting(candidate, power).is_empty()
    }

    /// Whether the terminals of some driver take its cable, and the cable stands what that driver
    /// gives; also when there is no driver to ask.
    #[must_use]
    pub fn wires(&self, candidate: &Candidate) -> bool {
        let nothing = Power::default();
        self.feeding.units.is_empty() || !self.fitting(candidate, nothing).is_empty()
    }

    fn is_asked(&self) -> bool {
        self.feeding.run.driver.given().is_some()
    }

    /// Cable, labour and accessories.
    fn fixed(&self, candidate: &Candidate) -> Option<Decimal> {
        let metre = (*self.per_metre.get(candidate.cable)?)?;
        let cable = metre * cost::metres(candidate.cable_length);
        let feeds = self.per_feed? * Decimal::from(candidate.feeds);
        let sections = self.per_section? * Decimal::from(candidate.sections);
        Some(cable + feeds + sections)
    }

    /// A section that keeps the limits takes no less: the driver gives the strip's own voltage, and
    /// light falls no less than current does.
    fn least_power(&self, segments: usize, sharing: Sharing) -> Power {
        let strip = &self.feeding.run.strip;
        let channels = strip.channels.list();
        let powers = channels
            .iter()
            .map(|channel| (channel.power * strip.cut).get::<watt>());
        let nominal = if sharing.adds_up() {
            powers.sum::<f64>()
        } else {
            powers.fold(0.0, f64::max)
        };
        let limits = &self.feeding.limits;
        let light = limits.light_drop.value.get::<ratio>();
        let share = (1.0 - light).max(0.0);
        Power::new::<watt>(nominal * real(segments) * share)
    }

    /// The least share of a driver's cost that goes with a power; nothing when the driver is asked
    /// for or there is none, `None` when those that could take it have no price.
    fn share(&self, candidate: &Candidate, power: Power) -> Option<Decimal> {
        if self.feeding.units.is_empty() || self.is_asked() {
            return Some(Decimal::ZERO);
        }
        let fitting = self.fitting(candidate, power).into_iter();
        fitting
            .filter_map(|unit| {
                let part = (power / unit.loadable).get::<ratio>();
                Some(cost::real(unit.cost?) * part)
            })
            .min_by(f64::total_cmp)
            .and_then(cost::decimal)
    }

    /// Drivers that could take a power over the candidate's cable.
    fn fitting(&self, candidate: &Candidate, power: Power) -> Vec<&Unit> {
        let wired = self.wired(candidate);
        let units = wired
            .iter()
            .filter_map(|unit| self.feeding.units.get(*unit));
        units.filter(|unit| gives(unit, power)).collect()
    }

    /// Drivers of the candidate's kind that may be wired with its cable, worked out once for as many
    /// feeds.
    fn wired(&self, candidate: &Candidate) -> Rc<[usize]> {
        let key = (candidate.cable, candidate.sharing, candidate.feeds);
        let mut known = self.wired.borrow_mut();
        let list = known.entry(key).or_insert_with(|| {
            let Some(cable) = self.feeding.cables.get(candidate.cable) else {
                return Rc::default();
            };
            let demand = Demand {
                power: Power::default(),
                current: Current::default(),
                channels: Vec::new(),
                cable: Arc::clone(cable),
                ampacity: self.ampacity(candidate, cable),
                longest_feed: Length::default(),
            };
            let units = self.feeding.units.iter().enumerate();
            units
                .filter(|(_, unit)| unit.sharing == candidate.sharing && fits(unit, &demand))
                .map(|(index, _)| index)
                .collect()
        });
        Rc::clone(list)
    }

    /// What the candidate's cable may carry among its feeds.
    fn ampacity(&self, candidate: &Candidate, cable: &Cable) -> Option<Current> {
        let ampacity = self.feeding.ampacity(cable, candidate.feeds);
        ampacity.map(|(current, _)| current)
    }

    /// What it costs: with drivers of its own when it has them to itself, with its share of them
    /// when other runs can use them too.
    #[must_use]
    pub fn cost(&self, candidate: &Candidate, sections: &[Section]) -> Option<Decimal> {
        let fixed = self.fixed(candidate)?;
        if self.feeding.units.is_empty() {
            return Some(fixed);
        }
        if self.feeding.alone || self.is_asked() {
            let demand =
                |section: &Section| Demand::of(section, self.ampacity(candidate, &section.cable));
            let demands: Vec<Demand> = sections.iter().map(demand).collect();
            let units: Vec<Unit> = self
                .feeding
                .units
                .iter()
                .filter(|unit| unit.sharing == candidate.sharing)
                .cloned()
                .collect();
            return Some(fixed + pack(&units, &demands).cost?);
        }
        let shares: Option<Decimal> = sections
            .iter()
            .map(|section| {
                let share = self.share(candidate, section.power);
                share.or_else(|| self.share_of_largest(candidate, section.power))
            })
            .sum();
        Some(fixed + shares?)
    }

    /// What goes with a power that no driver can take: so many times the largest, of those that can
    /// be wired if there are any. `None` when it has no price, or some driver could take the power.
    fn share_of_largest(&self, candidate: &Candidate, power: Power) -> Option<Decimal> {
        if !self.fitting(candidate, power).is_empty() {
            return None;
        }
        let all = || self.feeding.units.iter();
        let wired = self.fitting(candidate, Power::default());
        let unwired = all().filter(|_| wired.is_empty());
        let largest = wired
            .iter()
            .copied()
            .chain(unwired)
            .filter(|unit| unit.sharing == candidate.sharing && unit.loadable.value > 0.0)
            .max_by(|a, b| a.loadable.value.total_cmp(&b.loadable.value))?;
        let times = (power / largest.loadable).get::<ratio>();
        cost::decimal(cost::real(largest.cost?) * times)
    }
}
