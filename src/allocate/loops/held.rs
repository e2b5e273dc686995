//! Units on the loops that they were issued on. What breaks a limit there, and what is new, is
//! placed: where its group or room is, or else where it takes least cable, or else on new loops.

use super::block::{Block, blocks_among};
use super::capacity::Capacity;
use super::count::{fewest, place};
use super::equipment::Equipment;
use super::placing::Ground;
use super::unit::Unit;
use super::wiring::{Standing, drop_limit, nearest, points, standing};
use crate::allocate::allocated::MemberKind;
use crate::allocate::packing::Sizes;
use crate::model::issued::{IssuedLoop, Record, Released};
use crate::model::project::Project;
use crate::model::site::Point;
use crate::quantity::Length;
use num_traits::ToPrimitive;
use std::collections::BTreeSet;
use std::sync::Arc;
use uom::si::electric_potential::volt;
use uom::si::length::meter;

/// A loop to be made: as it was issued, or new.
#[derive(Debug, Clone)]
pub(super) struct Slot<'a> {
    /// The loop that was issued.
    pub issued: Option<&'a IssuedLoop>,
    /// Its blocks.
    pub blocks: Vec<usize>,
}

impl Slot<'_> {
    /// A new loop with some blocks.
    pub(super) fn new(blocks: Vec<usize>) -> Self {
        Slot {
            issued: None,
            blocks,
        }
    }
}

/// Loops with the blocks on them.
#[derive(Debug, Clone, Default)]
pub(super) struct Holding<'a> {
    /// The loops: those that were issued, then new ones.
    pub slots: Vec<Slot<'a>>,
    /// The blocks that they refer to.
    pub blocks: Vec<Block>,
    /// What could not stay, and why.
    pub released: Vec<Released>,
}

/// What a loop was issued with that can still be had.
pub(super) fn equipment<'o>(
    issued: &IssuedLoop,
    options: &[&'o Equipment],
) -> Option<&'o Equipment> {
    let id = |option: &Equipment| option.controller.as_ref().map(|it| it.offer.id.clone());
    let supply = |option: &Equipment| option.supply.as_ref().map(|it| it.offer.id.clone());
    let same = |option: &&&'o Equipment| {
        id(option) == issued.controller_item && supply(option) == issued.supply
    };
    options.iter().find(same).copied()
}

/// Holds a record. `ground` has no blocks yet.
pub(super) struct Hold<'a, 'g> {
    pub project: &'a Project,
    pub record: &'a Record,
    pub ground: Ground<'g>,
    pub options: &'a [&'a Equipment],
}

impl<'a> Hold<'a, '_> {
    /// Every unit on a loop.
    pub(super) fn slots(&self) -> Holding<'a> {
        let units = self.ground.units;
        let mut holding = Holding::default();
        let mut lists: Vec<(&IssuedLoop, Vec<usize>)> = Vec::new();
        let mut placed: BTreeSet<usize> = BTreeSet::new();
        for on in &self.record.loops {
            let here = |index: &usize| units.get(*index).is_some_and(|unit| is_on(unit, on));
            let mut list: Vec<usize> = (0..units.len()).filter(here).collect();
            list.retain(|index| placed.insert(*index));
            self.relieve(on, &mut list, &mut holding.released);
            lists.push((on, list));
        }
        let staying: BTreeSet<usize> = lists.iter().flat_map(|(_, list)| list.clone()).collect();
        let free: Vec<usize> = (0..units.len()).filter(|i| !staying.contains(i)).collect();
        let whole = self.project.loops.keep_rooms_whole;
        let mut waiting = blocks_among(units, &free, whole, &self.ground.capacity);
        waiting.sort_by_key(|block| {
            let share = self.ground.capacity.share(&block.sizes);
            (std::cmp::Reverse(share), block.units.first().copied())
        });
        let mut left: Vec<Block> = Vec::new();
        for block in waiting {
            match self.home(&lists, &block) {
                Some(place) => {
                    if let Some((_, list)) = lists.get_mut(place) {
                        list.extend(&block.units);
                        list.sort_unstable();
                    }
                }
                None => left.push(block),
            }
        }
        let room = self
            .project
            .loops
            .count
            .map(|count| count.saturating_sub(lists.len()));
        if room == Some(0) && !left.is_empty() {
            self.force(&mut lists, std::mem::take(&mut left));
        }
        for (on, list) in lists {
            if list.is_empty() {
                continue;
            }
            let sizes = self.sizes(&list);
            holding.slots.push(Slot {
                issued: Some(on),
                blocks: vec![holding.blocks.len()],
            });
            holding.blocks.push(Block { units: list, sizes });
        }
        left.sort_by(|a, b| a.units.cmp(&b.units));
        let offset = holding.blocks.len();
        let ground = Ground {
            blocks: &left,
            ..self.ground
        };
        let fewest = fewest(ground.units, &left, &ground.capacity);
        for list in place(&ground, &fewest).0.loops {
            holding.slots.push(Slot {
                issued: None,
                blocks: list.iter().map(|block| block + offset).collect(),
            });
        }
        holding.blocks.extend(left);
        holding
    }

    fn sizes(&self, list: &[usize]) -> Sizes {
        self.ground.capacity.sizes(self.units(list))
    }

    /// Whether some units have more scenes than a loop has numbers for.
    fn scenes_over(&self, list: &[usize]) -> bool {
        let units: Vec<&Unit> = self.units(list).collect();
        self.ground.scenes_over(&units) > 0
    }

    fn units<'l>(&'l self, list: &'l [usize]) -> impl Iterator<Item = &'l Unit> {
        let all = self.ground.units;
        list.iter().filter_map(|index| all.get(*index))
    }

    /// What a loop takes at most, and what it takes with the spare kept.
    fn capacities(&self, on: &IssuedLoop) -> (Capacity, Capacity) {
        let spare = self.project.loops.spare;
        match equipment(on, self.options) {
            Some(equipment) => (
                Capacity::new(equipment.guaranteed(), Default::default()),
                Capacity::new(equipment.guaranteed(), spare),
            ),
            None => (self.ground.capacity, self.ground.capacity),
        }
    }

    /// Takes units off a loop until it keeps its limits: those that came last in the documents
    /// while it holds too much, those furthest away while its cable is too long or loses too much.
    fn relieve(&self, on: &IssuedLoop, list: &mut Vec<usize>, released: &mut Vec<Released>) {
        let (most, _) = self.capacities(on);
        let mut off: Vec<usize> = Vec::new();
        let mut why = String::new();
        while list.len() > 1 {
            let sizes = self.sizes(list);
            if !most.takes(&sizes) {
                why = over(&on.name, &sizes, &most);
                off.extend(list.pop());
                continue;
            }
            if self.scenes_over(list) {
                why = format!("{} would have more scenes than there are numbers", on.name);
                off.extend(list.pop());
                continue;
            }
            let Some((reason, furthest)) = self.strained(on, list) else {
                break;
            };
            why = reason;
            list.retain(|index| {
                let at = self.ground.units.get(*index).map(|unit| unit.at.index);
                let stays = at != Some(furthest);
                if !stays {
                    off.push(*index);
                }
                stays
            });
        }
        for unit in off.iter().filter_map(|index| self.ground.units.get(*index)) {
            released.push(Released::new(format!("address {}", unit.name), &why));
        }
    }

    /// Why a loop's cable breaks a limit, and the point of the site that is furthest on it; `None`
    /// when it keeps them, or when there is nowhere else for a unit to go.
    fn strained(&self, on: &IssuedLoop, list: &[usize]) -> Option<(String, usize)> {
        let ground = &self.ground;
        let cable = ground.cable?;
        let units: Vec<&Unit> = self.units(list).collect();
        let here = points(units.iter().copied());
        if here.len() < 2 {
            return None;
        }
        let wiring = nearest(&self.roots(on), &here, |root, points| {
            ground.routes.nearest_tree(root, points)
        })?;
        let found = wiring.figures(&units, ground.maximum, cable, ground.settings)?;
        if standing(Some(&found), cable) != Standing::Breaks {
            return None;
        }
        let far = |point: &Arc<Point>| {
            let way = ground.routes.shortest(&wiring.root, point);
            way.unwrap_or(Length::new::<meter>(f64::INFINITY)).value
        };
        let furthest = here.iter().max_by(|a, b| far(a).total_cmp(&far(b)))?;
        let reason = if drop_limit().allows(found.drop) {
            let length = found.longest.get::<meter>();
            format!(
                "on {} it would be {length:.0} m to the furthest member",
                on.name
            )
        } else {
            let drop = found.drop.get::<volt>();
            format!("{} would lose {drop:.2} V", on.name)
        };
        Some((reason, furthest.index))
    }

    fn roots(&self, on: &IssuedLoop) -> Vec<Arc<Point>> {
        roots(on, self.ground.roots)
    }

    /// The loop that a block goes on: one with its groups or rooms while that has any room at all,
    /// or one that keeps its spare; of these the one on which it takes least cable more.
    fn home(&self, lists: &[(&IssuedLoop, Vec<usize>)], block: &Block) -> Option<usize> {
        let mut best: Option<((bool, u64), usize)> = None;
        for (place, (on, list)) in lists.iter().enumerate() {
            let (most, spared) = self.capacities(on);
            let mut both = list.clone();
            both.extend(&block.units);
            let sizes = self.sizes(&both);
            let tied = self.is_tied(list, block);
            if list.is_empty() || !most.takes(&sizes) || !(tied || spared.takes(&sizes)) {
                continue;
            }
            if self.strained(on, &both).is_some() || self.scenes_over(&both) {
                continue;
            }
            let more = self.cable(on, &both).saturating_sub(self.cable(on, list));
            let key = (!tied, more);
            if best.as_ref().is_none_or(|(known, _)| key < *known) {
                best = Some((key, place));
            }
        }
        best.map(|(_, place)| place)
    }

    fn is_tied(&self, list: &[usize], block: &Block) -> bool {
        let whole = self.project.loops.keep_rooms_whole;
        let of = |indices: &[usize]| -> BTreeSet<(u8, usize)> {
            self.units(indices)
                .flat_map(|unit| {
                    let rooms = unit.rooms.iter().map(|room| (0, room.index));
                    let rooms = rooms.filter(|_| whole);
                    rooms.chain(unit.group.map(|group| (1, group)))
                })
                .collect()
        };
        !of(list).is_disjoint(&of(&block.units))
    }

    /// Cable of a loop in millimetres.
    fn cable(&self, on: &IssuedLoop, list: &[usize]) -> u64 {
        let wiring = nearest(
            &self.roots(on),
            &points(self.units(list)),
            |root, points| self.ground.routes.nearest_tree(root, points),
        );
        wiring.map_or(0, |wiring| super::placing::millimetres(wiring.tree.length))
    }

    /// Puts blocks where they make least too much: no further loop is allowed.
    fn force(&self, lists: &mut [(&IssuedLoop, Vec<usize>)], blocks: Vec<Block>) {
        for block in blocks {
            let fullest = |(_, list): &&mut (&IssuedLoop, Vec<usize>)| {
                let both: Vec<usize> = list.iter().chain(&block.units).copied().collect();
                self.ground.capacity.share(&self.sizes(&both))
            };
            if let Some((_, list)) = lists.iter_mut().min_by_key(fullest) {
                list.extend(&block.units);
                list.sort_unstable();
            }
        }
    }
}

/// Where a loop that was issued may begin: where it did, while that is allowed.
pub(super) fn roots(on: &IssuedLoop, all: &[Arc<Point>]) -> Vec<Arc<Point>> {
    match all.iter().find(|point| point.name == on.at) {
        Some(same) => vec![Arc::clone(same)],
        None => all.to_vec(),
    }
}

fn is_on(unit: &Unit, on: &IssuedLoop) -> bool {
    let gear = unit.kind == MemberKind::Gear;
    on.members
        .iter()
        .any(|member| member.device == unit.name && member.control_device != gear)
}

/// What there is too much of.
fn over(name: &str, sizes: &Sizes, most: &Capacity) -> String {
    let [gear, devices, current, groups] = *sizes;
    let [gear_most, devices_most, current_most, groups_most] = most.0;
    if gear > gear_most {
        format!("{name} would have {gear} addresses of gear, of {gear_most}")
    } else if devices > devices_most {
        format!("{name} would have {devices} addresses of control devices, of {devices_most}")
    } else if groups > groups_most {
        format!("{name} would have {groups} groups, of {groups_most}")
    } else {
        let milliamperes = |nano: u128| nano.to_f64().unwrap_or(0.0) / 1e6;
        format!(
            "{name} would draw {:.0} mA, and is given {:.0} mA",
            milliamperes(current),
            milliamperes(current_most)
        )
    }
}
