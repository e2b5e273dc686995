//! Runs that are fed alike: what is known of one need not be worked out for another.
//!
//! Two runs are alike when nothing that [`feed`](super::feed::feed) looks at tells them apart: what
//! [`Feeding`] gathers, what the run itself says but for its name and place, and what the project
//! says of prices, accessories and ways of wiring.

use super::cost;
use super::feeding::Feeding;
use super::layout::Layout;
use super::sized::{Fed, Sizing};
use crate::model::project::Project;
use crate::model::run::Run;
use std::collections::HashMap;
use std::sync::Arc;

/// Where alike runs are looked for: among those of as many segments with as much cable to each end.
type Key = (usize, Option<u64>, Option<u64>);

/// How the runs of a project are fed, to be looked up from a project that differs from it in part.
pub struct Known<'a> {
    runs: Vec<(Feeding<'a>, &'a Arc<Fed>)>,
    places: HashMap<Key, Vec<usize>>,
}

impl<'a> Known<'a> {
    /// What a sizing of a project knows; nothing where its runs can't be laid out.
    #[must_use]
    pub fn of(project: &'a Project, sizing: &'a Sizing) -> Known<'a> {
        let layout = Layout::new(project, sizing.pairs);
        let feedings = layout.map(|layout| layout.each(Ok)).unwrap_or_default();
        let known = feedings.into_iter().zip(&sizing.fed);
        let runs: Vec<(Feeding, &Arc<Fed>)> = known
            .filter_map(|(feeding, fed)| Some((feeding.ok()?, fed)))
            .collect();
        let mut places: HashMap<Key, Vec<usize>> = HashMap::new();
        for (place, (feeding, _)) in runs.iter().enumerate() {
            places.entry(key(feeding)).or_default().push(place);
        }
        Known { runs, places }
    }

    /// How a run alike is fed.
    pub(super) fn fed(&self, feeding: &Feeding) -> Option<Arc<Fed>> {
        let places = self.places.get(&key(feeding))?.iter();
        let mut runs = places.filter_map(|place| self.runs.get(*place));
        let alike = runs.find(|(known, _)| are_alike(known, feeding))?;
        Some(Arc::clone(alike.1))
    }
}

/// For each run the index of the first that is alike, its own where none before it is. Runs that
/// can't be laid out are alike to none.
pub(super) fn leaders<E>(feedings: &[Result<Feeding, E>]) -> Vec<usize> {
    let mut places: HashMap<Key, Vec<(usize, &Feeding)>> = HashMap::new();
    let mut leaders = Vec::with_capacity(feedings.len());
    for (index, feeding) in feedings.iter().enumerate() {
        let Ok(feeding) = feeding else {
            leaders.push(index);
            continue;
        };
        let before = places.entry(key(feeding)).or_default();
        let alike = before.iter().find(|(_, other)| are_alike(other, feeding));
        leaders.push(alike.map_or(index, |(first, _)| *first));
        if alike.is_none() {
            before.push((index, feeding));
        }
    }
    leaders
}

fn key(feeding: &Feeding) -> Key {
    let bits = |cut: usize| feeding.reach.to(cut).map(|length| length.value.to_bits());
    (feeding.segments, bits(0), bits(feeding.segments))
}

fn are_alike(a: &Feeding, b: &Feeding) -> bool {
    // Every field is named, so that one that is added is not forgotten here.
    let Feeding {
        project,
        run,
        wish,
        cupboard,
        segments,
        length,
        reach,
        strip,
        stretches: _,
        whites,
        limits,
        units,
        cables,
        alone,
        assumptions: _,
        issued,
    } = a;
    let same_record = match (issued, b.issued) {
        (None, None) => true,
        (Some(known), Some(its)) => *known == its && run.name == b.run.name,
        _ => false,
    };
    same_record
        && *segments == b.segments
        && *length == b.length
        && *wish == b.wish
        && *alone == b.alone
        && cupboard.ambient == b.cupboard.ambient
        && *reach == b.reach
        && *limits == b.limits
        && *whites == b.whites
        && *units == b.units
        && *cables == b.cables
        && (Arc::ptr_eq(strip, &b.strip) || strip == &b.strip)
        && runs_are_alike(run, b.run)
        && projects_are_alike(project, b.project)
}

/// Whether two runs say the same but for what they are called and where they are.
fn runs_are_alike(a: &Run, b: &Run) -> bool {
    let Run {
        name: _,
        room,
        strip,
        length,
        group: _,
        cupboard: _,
        to_start,
        to_end,
        reach_along,
        feed,
        cable,
        driver,
        profile,
        accessible,
        wet,
        ambient,
        wiring,
        detail,
        limits,
        place: _,
        feed_place: _,
    } = a;
    room.ambient == b.room.ambient
        && (Arc::ptr_eq(strip, &b.strip) || strip == &b.strip)
        && *length == b.length
        && *to_start == b.to_start
        && *to_end == b.to_end
        && *reach_along == b.reach_along
        && *feed == b.feed
        && *cable == b.cable
        && *driver == b.driver
        && *profile == b.profile
        && *accessible == b.accessible
        && *wet == b.wet
        && *ambient == b.ambient
        && *wiring == b.wiring
        && *detail == b.detail
        && *limits == b.limits
}

/// Whether two projects say the same of all that feeding a run asks them beside.
fn projects_are_alike(a: &Project, b: &Project) -> bool {
    std::ptr::eq(a, b)
        || (a.region == b.region
            && cost::compares_alike(&a.pricing, &b.pricing)
            && a.wiring == b.wiring
            && a.catalogue.accessories == b.catalogue.accessories
            && same_record(a, b))
}

/// Whether both are held to the same record, or to none.
fn same_record(a: &Project, b: &Project) -> bool {
    match (a.issued.held(), b.issued.held()) {
        (None, None) => true,
        (Some(a), Some(b)) => std::ptr::eq(a, b),
        _ => false,
    }
}
