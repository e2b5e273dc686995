//! Why nothing keeps every limit, and what would cure it.

use super::feeding::Feeding;
use super::found::Found;
use super::sized::{Sizing, Unmet};
use crate::model::Choice;
use crate::model::run::FeedWish;
use crate::quantity::figure::{Figure, Unit};
use uom::si::electric_potential::volt;
use uom::si::ratio::percent;

/// What the nearest option misses; `None` when it was all asked for (it is then judged, not
/// excused) or misses nothing.
#[must_use]
pub fn nearest(feeding: &Feeding, found: &Found) -> Option<Unmet> {
    let run = feeding.run;
    let asked =
        feeding.wish != FeedWish::Auto && run.cable != Choice::Auto && run.driver != Choice::Auto;
    let each = found.trial.each_broken();
    let (broken, others) = each.split_first().filter(|_| !asked)?;
    let also = others.iter();
    Some(Unmet {
        limit: broken.what.to_owned(),
        by: broken.by(),
        also: also
            .map(|other| format!("{} {}", other.what, other.by()))
            .collect(),
        cure: cure(feeding, broken.what),
    })
}

/// The lack of any driver for the strip.
#[must_use]
pub fn without_driver(feeding: &Feeding) -> Option<Unmet> {
    feeding.units.is_empty().then(|| Unmet {
        limit: "driver".to_owned(),
        by: format!(
            "no driver in the catalogue gives {} V on {} channels to this strip",
            feeding.run.strip.voltage.get::<volt>(),
            feeding.run.strip.channels.count()
        ),
        also: Vec::new(),
        cure: "add such a driver to the catalogue".to_owned(),
    })
}

/// Says it of runs whose drivers the program chose and that load them too little all the same: no
/// packing of what may share a driver loads the smallest enough.
pub fn under_loaded(sizing: &mut Sizing) {
    for driver in &sizing.drivers {
        let share = driver.load / driver.item.output.power;
        let Some(least) = driver.item.least_load.filter(|least| share < *least) else {
            continue;
        };
        let percents = |share| Figure::new(share, Unit::Percent);
        for sized in &mut sizing.runs {
            let chosen = sized.run.driver == Choice::Auto && driver.runs.contains(&sized.run.name);
            if chosen && sized.unmet.is_none() {
                sized.unmet = Some(Unmet {
                    limit: "least load of its driver".to_owned(),
                    by: format!(
                        "{} (least {})",
                        percents(share.get::<percent>()),
                        percents(least.get::<percent>())
                    ),
                    also: Vec::new(),
                    cure: "a smaller driver in the catalogue, or a longer run, or more runs in \
                           its group and cupboard"
                        .to_owned(),
                });
            }
        }
    }
}

fn cure(feeding: &Feeding, limit: &str) -> String {
    let mut ways = Vec::new();
    if feeding.wish != FeedWish::Auto {
        ways.push("another feed (`feed: auto`)");
    }
    if !feeding.reach.along {
        ways.push("cable beside the strip (`reach_along: yes`)");
    }
    ways.extend(match limit {
        "driver output current" | "driver load" => [
            "a driver with more power and current on an output",
            "a strip of less power",
        ],
        "driver current on one feed cable" => {
            ["a thicker feed cable", "a driver that gives less current"]
        }
        "cable current" => ["a thicker feed cable", "a strip of less power"],
        "conductor size at the driver" => [
            "a driver with larger terminals",
            "a cupboard nearer to the run",
        ],
        "current into the strip at one feed" | "connector current" => [
            "a strip that carries more at a feed",
            "a strip of higher voltage",
        ],
        _ => [
            "a strip of higher voltage or less power",
            "a cupboard nearer to the run",
        ],
    });
    ways.join(", or ")
}
