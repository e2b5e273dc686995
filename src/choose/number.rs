//! Feed cables by number, in the order of runs, sections and feeds.

use super::feeding::feed_ampacity;
use super::sized::{FeedCable, Section, SizedFeed, SizedRun, Sizing};
use crate::model::project::Project;
use std::sync::Arc;

/// Lists the feed cables of every run.
pub(super) fn cables(project: &Project, sizing: &mut Sizing) {
    let mut cables: Vec<FeedCable> = Vec::new();
    for run in &sizing.runs {
        for (place, section) in (1..).zip(&run.sections) {
            for feed in &section.feeds {
                let mut cable = cable(project, run, place, section, feed);
                cable.number = format!("F-{:03}", cables.len() + 1);
                cables.push(cable);
            }
        }
    }
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
