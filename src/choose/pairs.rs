//! Whether two single-channel units stand in for two-channel drivers in a project: where that costs
//! less, and the addresses that it takes need no further loop.

use super::cost;
use super::sized::{SizedDriver, SizedRun, Sizing};
use crate::model::assumption::Assumption;
use crate::model::extra::Per;
use crate::model::project::Project;
use crate::norms::iec_62386;
use crate::quantity::number::real;
use num_traits::ToPrimitive;
use rust_decimal::Decimal;
use uom::si::ratio::ratio;

/// Whether a sizing has such units that were not asked for.
pub(super) fn chosen(project: &Project, sizing: &Sizing) -> bool {
    let asked = |name: &String| {
        let run = project.runs.iter().find(|run| run.name == *name);
        run.is_some_and(|run| run.driver.given().is_some())
    };
    let pairs = sizing.drivers.iter().filter(|driver| driver.half.is_some());
    pairs.flat_map(|driver| &driver.runs).any(|run| !asked(run))
}

/// The better of a sizing with such units and one without: first the one that leaves fewer runs
/// unmet, then the one whose addresses need fewer loops, then the cheaper. Says so where the units
/// would have been cheaper.
pub(super) fn better(project: &Project, two: Sizing, one: Sizing) -> Sizing {
    let unmet = |sizing: &Sizing| sizing.runs.iter().filter(|run| run.unmet.is_some()).count();
    let (unmet_two, unmet_one) = (unmet(&two), unmet(&one));
    if unmet_two != unmet_one {
        return if unmet_two < unmet_one { two } else { one };
    }
    let costs = total(project, &two).zip(total(project, &one));
    if costs.is_some_and(|(two, one)| two >= one) {
        return one;
    }
    let (loops_two, loops_one) = (loops(project, &two), loops(project, &one));
    let allowed = loops_one.max(project.loops.count.unwrap_or(0));
    if loops_two <= allowed {
        return two;
    }
    let mut one = one;
    one.assumptions.push(Assumption {
        subject: "project".to_owned(),
        statement: format!(
            "two-channel drivers are kept where two single-channel units would cost less: their \
             addresses would take {loops_two} loops and not {allowed}"
        ),
        missing: "`driver` in the runs that are to have two units all the same".to_owned(),
        supplied_by: "the designer".to_owned(),
    });
    one.assumptions.sort();
    one
}

/// The fewest loops that the addresses of all drivers take, with the spare that is set.
fn loops(project: &Project, sizing: &Sizing) -> usize {
    let addresses = |driver: &SizedDriver| driver.item.bus.as_ref().map_or(0, |bus| bus.addresses);
    let taken: usize = sizing.drivers.iter().map(addresses).sum();
    let kept = 1.0 - project.loops.spare.get::<ratio>();
    let room = (real(iec_62386::GEAR) * kept + 1e-9).floor().to_usize();
    taken.div_ceil(room.unwrap_or(1).max(1))
}

/// What the drivers, feed cables, feeds and sections cost; `None` when a price is missing.
fn total(project: &Project, sizing: &Sizing) -> Option<Decimal> {
    let drivers: Option<Decimal> = sizing
        .drivers
        .iter()
        .map(|driver| cost::unit(&driver.item.offer, &project.pricing))
        .sum();
    let runs: Option<Decimal> = sizing.runs.iter().map(|run| fixed(project, run)).sum();
    Some(drivers? + runs?)
}

fn fixed(project: &Project, run: &SizedRun) -> Option<Decimal> {
    let feed = cost::accessories(project, &run.run, Per::Feed)?;
    let mut sum = Decimal::ZERO;
    for section in &run.sections {
        sum += cost::accessories(project, &run.run, Per::Section)?;
        for place in &section.feeds {
            sum += cost::cable(&section.cable, place.cable_length, &project.pricing)? + feed;
        }
    }
    Some(sum)
}
