//! Another arrangement of one run, tried without changing the project.

use super::error::ChooseError;
use super::feeding::Feeding;
use super::layout::Layout;
use super::limits::{self, Checked};
use super::sized::{Fed, SizedRun, Unmet};
use super::sizing::{fed, sized};
use crate::model::project::Project;
use crate::model::run::FeedWish;
use crate::norms::limit::Source;
use crate::quantity::Ratio;
use rust_decimal::Decimal;
use uom::si::ratio::ratio;

/// The run of a name fed as `wish` says; `None` when there is no such run. Its sections have no
/// driver numbers: the other runs are not looked at.
///
/// # Errors
/// Every run of the project that can't be laid out at all.
pub fn try_feed(
    project: &Project,
    run: &str,
    wish: FeedWish,
) -> Result<Option<SizedRun>, Vec<ChooseError>> {
    let layout = Layout::new(project, true)?;
    let Some(feeding) = layout.named(run) else {
        return Ok(None);
    };
    let fed = feeding.and_then(|mut feeding| {
        feeding.wish = wish;
        feeding.issued = None;
        Ok(sized(&feeding, &*fed(&feeding)?))
    });
    fed.map(Some).map_err(|error| vec![error])
}

/// What keeping a light drop limit costs.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitRow {
    /// The limit on light drop; evenness goes with it.
    pub limit: Ratio,
    /// The arrangement in words.
    pub arrangement: String,
    /// Its feed cable.
    pub cable: String,
    /// Light drop that it comes to.
    pub light_drop: Ratio,
    /// What it costs; `None` when a price is missing.
    pub cost: Option<Decimal>,
    /// Why the limit can't be kept, when it can't.
    pub unmet: Option<Unmet>,
}

/// The cheapest way to feed a run at each of several limits on light drop; `None` when there is no
/// such run.
///
/// # Errors
/// Every run of the project that can't be laid out at all.
pub fn limits_table(
    project: &Project,
    run: &str,
    light_drops: &[Ratio],
) -> Result<Option<Vec<LimitRow>>, Vec<ChooseError>> {
    let layout = Layout::new(project, true)?;
    let mut rows = Vec::new();
    for &limit in light_drops {
        let Some(feeding) = layout.named(run) else {
            return Ok(None);
        };
        let row = feeding.and_then(|mut feeding| {
            feeding.wish = FeedWish::Auto;
            feeding.issued = None;
            set(&mut feeding, limit);
            fed(&feeding).map(|run| row(limit, &run))
        });
        rows.push(row.map_err(|error| vec![error])?);
    }
    Ok(Some(no_dearer(rows)))
}

/// What keeps a tighter limit keeps a looser one too: where it costs less than what was found for
/// that, it is taken.
fn no_dearer(mut rows: Vec<LimitRow>) -> Vec<LimitRow> {
    let tighter = rows.clone();
    for row in &mut rows {
        let keeps = |other: &&LimitRow| other.limit <= row.limit && other.unmet.is_none();
        let cheapest = tighter.iter().filter(keeps).filter(|it| it.cost.is_some());
        if let Some(other) = cheapest.min_by(|a, b| a.cost.cmp(&b.cost))
            && (row.unmet.is_some() || row.cost > other.cost)
        {
            let limit = row.limit;
            *row = other.clone();
            row.limit = limit;
        }
    }
    rows
}

fn set(feeding: &mut Feeding, light_drop: Ratio) {
    feeding.limits.light_drop.value = light_drop;
    feeding.limits.light_drop.source = Source::Project;
    feeding.limits.evenness.value = Ratio::new::<ratio>(1.0) - light_drop;
    feeding.limits.evenness.source = Source::Project;
}

fn row(limit: Ratio, run: &Fed) -> LimitRow {
    let cable = run
        .sections
        .first()
        .map(|section| section.cable.offer.id.clone());
    LimitRow {
        limit,
        arrangement: run.reasons.arrangement.clone(),
        cable: cable.unwrap_or_default(),
        light_drop: Ratio::new::<ratio>(1.0) - run.figures.light_least,
        cost: run.reasons.cost,
        unmet: run.unmet.clone(),
    }
}

/// A change that would make a run keep its limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Remedy {
    /// The arrangement in words: "both ends".
    pub arrangement: String,
    /// The feed cable's id.
    pub cable: String,
    /// Light drop that it comes to.
    pub light_drop: Ratio,
    /// The limit on it.
    pub limit: Checked,
    /// What it costs more than the present arrangement; `None` when a price is missing.
    pub cost_difference: Option<Decimal>,
}

/// The cheapest way to feed a run that keeps every limit within its reach, for one that breaks a
/// limit as it is fed; `None` when there is none but the present one.
#[must_use]
pub fn remedy(project: &Project, present: &SizedRun) -> Option<Remedy> {
    let layout = Layout::new(project, true).ok()?;
    let mut feeding = layout.named(&present.run.name)?.ok()?;
    feeding.wish = FeedWish::Auto;
    feeding.issued = None;
    feeding.allow_any_cable();
    let better = fed(&feeding).ok()?;
    if better.unmet.is_some() || same(&better, present) {
        return None;
    }
    let row = row(feeding.limits.light_drop.value, &better);
    Some(Remedy {
        limit: limits::light_drop(&feeding.limits, better.figures.light_least),
        arrangement: row.arrangement,
        cable: row.cable,
        light_drop: row.light_drop,
        cost_difference: row
            .cost
            .zip(present.reasons.cost)
            .map(|(new, old)| new - old),
    })
}

/// Whether two ways of feeding a run are the same.
fn same(a: &Fed, b: &SizedRun) -> bool {
    a.sections.len() == b.sections.len()
        && a.sections.iter().zip(&b.sections).all(|(a, b)| {
            a.start == b.start
                && a.cable.offer.id == b.cable.offer.id
                && a.feeds.len() == b.feeds.len()
                && a.feeds.iter().zip(&b.feeds).all(|(a, b)| a.at == b.at)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::ratio::percent;

    fn found(limit: f64, arrangement: &str, cost: Option<i64>) -> LimitRow {
        LimitRow {
            limit: Ratio::new::<percent>(limit),
            arrangement: arrangement.to_owned(),
            cable: "feed".to_owned(),
            light_drop: Ratio::new::<percent>(limit),
            cost: cost.map(Decimal::from),
            unmet: None,
        }
    }

    fn told(rows: Vec<LimitRow>) -> Vec<(String, Option<Decimal>)> {
        no_dearer(rows)
            .into_iter()
            .map(|row| (row.arrangement, row.cost))
            .collect()
    }

    // What keeps 10 % for 25 keeps 20 % too, where 30 had been found; 5 % costs what it costs.
    #[test]
    fn a_looser_limit_costs_no_more_than_a_tighter_one() {
        let rows = vec![
            found(20.0, "start", Some(30)),
            found(10.0, "both ends", Some(25)),
            found(5.0, "middle", Some(40)),
        ];
        assert_eq!(
            told(rows.clone()),
            [
                ("both ends".to_owned(), Some(Decimal::from(25))),
                ("both ends".to_owned(), Some(Decimal::from(25))),
                ("middle".to_owned(), Some(Decimal::from(40))),
            ]
        );
        let limits = no_dearer(rows);
        let limits: Vec<f64> = limits
            .iter()
            .map(|row| row.limit.get::<percent>())
            .collect();
        for (limit, expected) in limits.iter().zip([20.0, 10.0, 5.0]) {
            assert!((limit - expected).abs() < 1e-9);
        }
    }

    #[test]
    fn what_has_no_price_is_not_the_cheapest() {
        let rows = vec![
            found(20.0, "start", Some(30)),
            found(10.0, "both ends", None),
        ];
        assert_eq!(
            told(rows),
            [
                ("start".to_owned(), Some(Decimal::from(30))),
                ("both ends".to_owned(), None),
            ]
        );
    }
}
