//! A run fed as it was issued.

use crate::choose::arrangement::{Arrangement, Piece};
use crate::choose::feeding::Feeding;
use crate::choose::field::Field;
use crate::choose::found::Found;
use crate::choose::sharing::Sharing;
use crate::model::issued::{IssuedRun, IssuedSection};
use crate::model::run::FeedWish;
use crate::quantity::Length;
use crate::quantity::number::whole;
use uom::si::ratio::ratio;

/// The run fed as it was issued, or why that can't stay; `None` when it was not issued.
pub(in crate::choose) fn as_issued(field: &mut Field) -> Option<Result<Found, String>> {
    let issued = field.feeding.issued?;
    Some(found(field, issued))
}

fn found(field: &mut Field, issued: &IssuedRun) -> Result<Found, String> {
    let feeding = field.feeding;
    let way = way(field, issued)?;
    let id = issued
        .sections
        .first()
        .map(|section| section.cable.as_str());
    let cable = feeding.cables.iter().position(|cable| {
        let is = cable.offer.id.as_str();
        id == Some(is)
    });
    let Some(cable) = cable else {
        let id = id.unwrap_or_default();
        return Err(match feeding.run.cable.given() {
            Some(asked) => format!("the project asks for cable {}", asked.offer.id),
            None => format!("cable {id} can't feed it any more"),
        });
    };
    let known = sharing(feeding, issued);
    let mut first = None;
    for sharing in field.sharings.clone() {
        if known.is_some_and(|known| known != sharing) {
            continue;
        }
        let Some(candidate) = field.candidate(way, cable, sharing) else {
            continue;
        };
        let Some(tried) = field.feasible(&candidate) else {
            continue;
        };
        match tried {
            Ok(trial) => {
                let cost = field.cost(&candidate, &trial.sections);
                return Ok(Found {
                    candidate,
                    trial,
                    cost,
                });
            }
            Err(broken) => {
                first.get_or_insert_with(|| format!("{} {}", broken.what, broken.by()));
            }
        }
    }
    Err(first.unwrap_or_else(|| "its driver's kind has left the catalogue".to_owned()))
}

/// The index of the arrangement that was issued: the same places on a run of the same length, or
/// the one of the same name.
fn way(field: &mut Field, issued: &IssuedRun) -> Result<usize, String> {
    let feeding = field.feeding;
    let pieces = pieces(feeding, issued);
    let same = |way: &Arrangement| match &pieces {
        Some(pieces) => way.pieces == *pieces,
        None => way.words == issued.arrangement,
    };
    if let Some(known) = field.ways.iter().position(same) {
        return Ok(known);
    }
    if feeding.wish != FeedWish::Auto {
        return Err("the project says how it is fed".to_owned());
    }
    let Some(pieces) = pieces else {
        return Err(format!(
            "its length no longer allows `{}`",
            issued.arrangement
        ));
    };
    let mut feeds = pieces.iter().flat_map(|piece| &piece.feeds);
    if !feeds.all(|feed| feeding.reach.to(*feed).is_some()) {
        return Err("a feed can't be reached any more".to_owned());
    }
    field.ways.push(Arrangement {
        words: issued.arrangement.clone(),
        pieces,
    });
    Ok(field.ways.len() - 1)
}

/// The pieces that were issued, where they make up the run as it is now.
fn pieces(feeding: &Feeding, issued: &IssuedRun) -> Option<Vec<Piece>> {
    let cuts = |length: Length| whole((length / feeding.run.strip.cut).get::<ratio>() + 0.5);
    let piece = |section: &IssuedSection| {
        Some(Piece {
            start: cuts(section.start)?,
            segments: cuts(section.length).filter(|segments| *segments > 0)?,
            feeds: section
                .feeds
                .iter()
                .map(|feed| cuts(*feed))
                .collect::<Option<Vec<usize>>>()
                .filter(|feeds| !feeds.is_empty())?,
        })
    };
    let pieces: Vec<Piece> = issued.sections.iter().map(piece).collect::<Option<_>>()?;
    let mut at = 0;
    for piece in &pieces {
        let inside = at..=at + piece.segments;
        if piece.start != at || !piece.feeds.iter().all(|feed| inside.contains(feed)) {
            return None;
        }
        at += piece.segments;
    }
    (at == feeding.segments).then_some(pieces)
}

/// What the driver that was issued has on at once; `None` when it can't serve the run any more.
fn sharing(feeding: &Feeding, issued: &IssuedRun) -> Option<Sharing> {
    let record = feeding.project.issued.held()?;
    let driver = record.driver(&issued.sections.first()?.driver)?;
    let unit = feeding
        .units
        .iter()
        .find(|unit| unit.item.offer.id == driver.item)?;
    Some(unit.sharing)
}
