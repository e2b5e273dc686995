//! Items that a take-off names, matched against a catalogue: by id or description, however they
//! are spaced and capitalised.

use super::fields::plain;
use super::{Filled, Lack, TakeOff};
use crate::load::nearest::hint;
use crate::model::catalogue::Catalogue;
use crate::model::offer::Offer;

/// Gives runs the catalogue's own ids. What is in no catalogue stays as written, and the run lacks it.
pub fn items(taken: &mut TakeOff, catalogue: &Catalogue) {
    let mut filled = Vec::new();
    for (key, offers) in kinds(catalogue) {
        for run in &mut taken.runs {
            let Some((_, value)) = run.keys.iter_mut().find(|(own, _)| *own == key) else {
                continue;
            };
            match id(value, &offers) {
                _ if value == "auto" => {}
                Some(id) if id == value => {}
                Some(id) => {
                    let from = format!("`{value}` in the catalogue's words");
                    *value = id.to_owned();
                    filled.push(Filled {
                        row: run.row,
                        key,
                        value: id.to_owned(),
                        from,
                    });
                }
                None => {
                    let ids: Vec<&str> = offers.iter().map(|offer| offer.id.as_str()).collect();
                    let cure = format!("`{value}` is not in the catalogue{}", hint(value, &ids));
                    run.lacks.push(Lack { key, cure });
                }
            }
        }
    }
    taken.filled.append(&mut filled);
    taken.filled.sort_by_key(|filled| filled.row);
}

fn kinds(catalogue: &Catalogue) -> [(&'static str, Vec<&Offer>); 4] {
    [
        (
            "strip",
            catalogue.strips.iter().map(|item| &item.offer).collect(),
        ),
        (
            "driver",
            catalogue.drivers.iter().map(|item| &item.offer).collect(),
        ),
        (
            "cable",
            catalogue.cables.iter().map(|item| &item.offer).collect(),
        ),
        (
            "profile",
            catalogue.profiles.iter().map(|item| &item.offer).collect(),
        ),
    ]
}

/// The id that a text means: one item's and no other's.
fn id<'a>(text: &str, offers: &[&'a Offer]) -> Option<&'a str> {
    if let Some(offer) = offers.iter().find(|offer| offer.id == text) {
        return Some(&offer.id);
    }
    let wanted = plain(text);
    let means = |offer: &&&Offer| plain(&offer.id) == wanted || plain(&offer.description) == wanted;
    let mut meant = offers.iter().filter(means);
    match (meant.next(), meant.next()) {
        (Some(one), None) => Some(&one.id),
        _ => None,
    }
}
