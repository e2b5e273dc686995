//! How a run that was issued is fed when the project is worked out again.

use crate::invented;

use feedpoint::allocate::allocate;
use feedpoint::allocate::issued::snapshot;
use feedpoint::choose::size;
use feedpoint::choose::sized::SizedRun;
use feedpoint::model::project::Project;
use feedpoint::model::run::FeedWish;
use feedpoint::quantity::Length;
use invented::{Wanted, project, strip};
use std::sync::Arc;
use uom::si::length::meter;

/// 18.4 m of two whites, fed as it is wished.
fn cove(feed: FeedWish) -> Project {
    let pair = strip("pair-19", 24.0, &[9.6, 9.6]);
    project(&[Wanted {
        feed,
        ..Wanted::new("cove", &pair, 18.4)
    }])
}

fn sized(project: &Project) -> SizedRun {
    let sizing = size(project).expect("it can be laid out");
    sizing.runs[0].clone()
}

/// Where its feeds are, in metres from its start.
fn feeds(sized: &SizedRun) -> Vec<f64> {
    let feeds = sized.sections.iter().flat_map(|section| &section.feeds);
    feeds.map(|feed| feed.at.get::<meter>()).collect()
}

/// It was asked to be fed at odd places, and issued so; then the wish was taken out. It stays as it
/// was, and what would be the cheapest is told beside it.
#[test]
fn a_run_stays_fed_at_the_odd_places_where_it_was_issued() {
    let places = [3.35, 8.9, 15.65];
    let asked = cove(FeedWish::At(
        places.iter().map(|at| Length::new::<meter>(*at)).collect(),
    ));
    let sizing = size(&asked).expect("it can be laid out");
    let allocation = allocate(&asked, &sizing);
    let record = snapshot(&asked, &sizing, &allocation.loops, &allocation.circuits);
    let free = sized(&cove(FeedWish::Auto));

    let mut project = cove(FeedWish::Auto);
    project.issued.record = Some(Arc::new(record));
    let held = sized(&project);
    assert_eq!(held.reasons.released, None);
    let found = feeds(&held);
    assert_eq!(found.len(), places.len(), "{found:?}");
    for (found, place) in found.iter().zip(places) {
        assert!((found - place).abs() < 1e-9, "{found} m for {place} m");
    }
    assert_ne!(feeds(&free), found);
    let (_, cost) = held.reasons.runner_up.expect("another way");
    assert_eq!(Some(cost), free.reasons.cost);
}
