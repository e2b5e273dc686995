//! Feed cables by number, in the order of runs, sections and feeds; those that were issued keep
//! theirs.

use super::feeding::feed_ampacity;
use super::held::Numbers;
use super::sized::{FeedCable, Section, SizedFeed, SizedRun, Sizing};
use crate::model::issued::number_in;
use crate::model::project::Project;
use std::sync::Arc;

/// Lists the feed cables of every run.
pub(super) fn cables(project: &Project, sizing: &mut Sizing) {
    let mut cables: Vec<FeedCable> = Vec::new();
    let mut numbers = Numbers::of(project.issued.held());
    for run in &sizing.runs {
        for (place, section) in (1..).zip(&run.sections) {
            for (at, feed) in (1..).zip(&section.feeds) {
                let mut cable = cable(project, run, place, section, feed);
                cable.number = numbers.number(&run.run.name, place, at);
                cables.push(cable);
            }
        }
    }
    cables.sort_by_key(|cable| number_in(&cable.number));
    sizing.cables = cables;
}

fn cable(
    project: &Project,
    run: &SizedRun,
    place: usize,
    section: &Section,
    feed: &SizedFeed,
) -> FeedCable {
    let feeds = run.sections.iter().map(|section| section.feeds.len()).sum();
    let ampacity = feed_ampacity(project, &run.run, &run.cupboard, &section.cable, feeds);
    let (most, source) = ampacity.unzip();
    FeedCable {
        number: String::new(),
        driver: section.driver.clone(),
        beside: section.beside.clone(),
        run: run.run.name.clone(),
        section: place,
        at: feed.at,
        item: Arc::clone(&section.cable),
        length: feed.cable_length,
        current: feed.current,
        ampacity: most,
        ampacity_source: source,
        drop: section.ladder.supply - feed.volts,
    }
}
