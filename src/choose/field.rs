//! The options for feeding a run, each with the least that it can cost and what came of it.

use super::arrangement::{self, Arrangement, Shape};
use super::candidate::Candidate;
use super::cost;
use super::demand::{Demand, fits, gives};
use super::driver::pack;
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
    /// Of each driver that could serve it.
    of_units: Vec<Option<f64>>,
    /// Watts of a segment at nominal voltage, of each channel.
    watts: Vec<f64>,
    wired: RefCell<Wired>,
    tried: Tried,
}

/// Indices of drivers that may be wired with a cable.
#[derive(Default)]
struct Wired {
    /// By cable, kind of driver and what the cable may carry.
    carrying: BTreeMap<(usize, Sharing, Option<u64>), Rc<[usize]>>,
    /// By cable, kind of driver and number of feeds.
    feeding: BTreeMap<(usize, Sharing, usize), Rc<[usize]>>,
}

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
            of_units: feeding
                .units
                .iter()
                .map(|unit| unit.cost.map(cost::real))
                .collect(),
            watts: run
                .strip
                .channels
                .list()
                .iter()
                .map(|channel| (channel.power * run.strip.cut).get::<watt>())
                .collect(),
            wired: RefCell::default(),
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
        for (way, arrangement) in self.ways.iter().enumerate() {
            let shape = arrangement.shape(&self.feeding.reach);
            for cable in 0..self.feeding.cables.len() {
                for &sharing in &self.sharings {
                    let option = self.option(&shape, way, cable, sharing);
                    all.extend(option.filter(|option| self.takes(option, shape.longest())));
                }
            }
        }
        all.sort_by(|a, b| a.compare(a.floor, b, b.floor));
        all
    }

    /// An option with the least that it can cost.
    #[must_use]
    pub fn candidate(&self, way: usize, cable: usize, sharing: Sharing) -> Option<Candidate> {
        let shape = self.ways.get(way)?.shape(&self.feeding.reach);
        self.option(&shape, way, cable, sharing)
    }

    /// The option of an arrangement of a shape that is, or is to be, the field's of an index.
    #[must_use]
    pub fn option(
        &self,
        shape: &Shape,
        way: usize,
        cable: usize,
        sharing: Sharing,
    ) -> Option<Candidate> {
        let item = self.feeding.cables.get(cable)?;
        let mut candidate = Candidate {
            way,
            cable,
            sharing,
            floor: None,
            sections: shape.sections,
            feeds: shape.feeds,
            cable_length: shape.cable_length,
            copper: item.size.area().value * shape.cable_length.value,
        };
        let drivers = self.least_shares(&candidate, shape);
        let fixed = self.fixed(&candidate);
        candidate.floor = fixed.zip(drivers).map(|(fixed, drivers)| fixed + drivers);
        Some(candidate)
    }

    /// The least share of drivers' costs that goes with all sections.
    fn least_shares(&self, candidate: &Candidate, shape: &Shape) -> Option<Decimal> {
        let of_pieces = shape.pieces.iter().map(|&(segments, count)| {
            let power = self.least_power(segments, candidate.sharing);
            Some(self.share(candidate, power)? * Decimal::from(count))
        });
        of_pieces.sum()
    }

    /// The least that any option costs with a candidate's cable and its length, its sections and
    /// feeds, wherever these are.
    pub(super) fn least(&self, candidate: &Candidate) -> Option<Decimal> {
        let fixed = self.fixed(candidate)?;
        if self.feeding.units.is_empty() || self.is_asked() {
            return Some(fixed);
        }
        let power = self.least_power(self.feeding.segments, candidate.sharing);
        let wired = self.wired(candidate);
        let shares = self.fitting(&wired, Power::default());
        let shares = shares.filter_map(|(unit, cost)| {
            let part = (power / unit.loadable).get::<ratio>();
            cost::decimal(cost? * part)
        });
        Some(fixed + shares.min()?)
    }

    /// Whether the arrangement was asked for.
    pub(super) fn is_given(&self) -> bool {
        self.feeding.wish != FeedWish::Auto
    }

    /// Whether some driver could take each of its sections, of which the longest has so many segments.
    fn takes(&self, candidate: &Candidate, longest: usize) -> bool {
        let free = self.feeding.units.is_empty() || self.is_asked();
        let power = self.least_power(longest, candidate.sharing);
        free || self.fits_some(candidate, power)
    }

    /// Whether the terminals of some driver take its cable, and the cable stands what that driver
    /// gives; also when there is no driver to ask.
    #[must_use]
    pub fn wires(&self, candidate: &Candidate) -> bool {
        self.feeding.units.is_empty() || self.fits_some(candidate, Power::default())
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
        let watts = self.watts.iter().copied();
        let nominal = if sharing.adds_up() {
            watts.sum::<f64>()
        } else {
            watts.fold(0.0, f64::max)
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
        let wired = self.wired(candidate);
        let shares = self.fitting(&wired, power).filter_map(|(unit, cost)| {
            let part = (power / unit.loadable).get::<ratio>();
            Some(cost? * part)
        });
        shares.min_by(f64::total_cmp).and_then(cost::decimal)
    }

    /// Drivers of some that could take a power, each with its cost.
    fn fitting<'b>(
        &'b self,
        wired: &'b [usize],
        power: Power,
    ) -> impl Iterator<Item = (&'b Unit, Option<f64>)> {
        let units = wired.iter().filter_map(|unit| {
            let cost = self.of_units.get(*unit).copied().flatten();
            Some((self.feeding.units.get(*unit)?, cost))
        });
        units.filter(move |(unit, _)| gives(unit, power))
    }

    /// Whether some driver could take a power over the candidate's cable.
    fn fits_some(&self, candidate: &Candidate, power: Power) -> bool {
        let wired = self.wired(candidate);
        self.fitting(&wired, power).next().is_some()
    }

    /// Drivers of the candidate's kind that may be wired with its cable, worked out once for as many
    /// feeds, and once for feeds that leave the cable to carry as much.
    fn wired(&self, candidate: &Candidate) -> Rc<[usize]> {
        let Wired { carrying, feeding } = &mut *self.wired.borrow_mut();
        let (cable, sharing) = (candidate.cable, candidate.sharing);
        let list = feeding
            .entry((cable, sharing, candidate.feeds))
            .or_insert_with(|| {
                let Some(item) = self.feeding.cables.get(cable) else {
                    return Rc::default();
                };
                let ampacity = self.ampacity(candidate, item);
                let carried = ampacity.map(|current| current.value.to_bits());
                let list = carrying.entry((cable, sharing, carried));
                Rc::clone(list.or_insert_with(|| self.fit(sharing, item, ampacity)))
            });
        Rc::clone(list)
    }

    /// Drivers of a kind that may be wired with a cable that may carry so much.
    fn fit(&self, sharing: Sharing, cable: &Arc<Cable>, ampacity: Option<Current>) -> Rc<[usize]> {
        let demand = Demand {
            power: Power::default(),
            current: Current::default(),
            channels: Vec::new(),
            cable: Arc::clone(cable),
            ampacity,
            longest_feed: Length::default(),
        };
        let units = self.feeding.units.iter().enumerate();
        units
            .filter(|(_, unit)| unit.sharing == sharing && fits(unit, &demand))
            .map(|(index, _)| index)
            .collect()
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
        if self.fits_some(candidate, power) {
            return None;
        }
        let all = || self.feeding.units.iter();
        let wired = self.wired(candidate);
        let unwired = all().filter(|_| !self.wires(candidate));
        let largest = self
            .fitting(&wired, Power::default())
            .map(|(unit, _)| unit)
            .chain(unwired)
            .filter(|unit| unit.sharing == candidate.sharing && unit.loadable.value > 0.0)
            .max_by(|a, b| a.loadable.value.total_cmp(&b.loadable.value))?;
        let times = (power / largest.loadable).get::<ratio>();
        cost::decimal(cost::real(largest.cost?) * times)
    }
}
