//! What several feed cable rules share: the kinds of cable in use, each with the runs it feeds.

use super::rule::Evidence;
use crate::choose::sized::{FeedCable, SizedRun};
use crate::model::cable::Cable;
use std::collections::{BTreeMap, HashSet};

/// A kind of feed cable and where it is used.
pub struct Feeds<'a> {
    /// The catalogue item.
    pub item: &'a Cable,
    /// Its cables.
    pub cables: Vec<&'a FeedCable>,
    /// The runs that they feed.
    pub runs: Vec<&'a SizedRun>,
}

/// The kinds of feed cable in use, by id.
pub fn by_item<'a>(evidence: &Evidence<'a>) -> Vec<Feeds<'a>> {
    let mut kinds: BTreeMap<&str, Vec<&FeedCable>> = BTreeMap::new();
    for cable in &evidence.sizing.cables {
        kinds
            .entry(cable.item.offer.id.as_str())
            .or_default()
            .push(cable);
    }
    kinds
        .into_values()
        .filter_map(|cables| {
            let runs = evidence.sizing.runs.iter();
            let names: HashSet<&str> = cables.iter().map(|cable| cable.run.as_str()).collect();
            let fed = |sized: &&SizedRun| names.contains(sized.run.name.as_str());
            let item = &*cables.first()?.item;
            Some(Feeds {
                item,
                runs: runs.filter(fed).collect(),
                cables,
            })
        })
        .collect()
}

/// Names in a list that stays readable: the first few, and how many more.
pub fn named<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    const SHOWN: usize = 4;
    let all: Vec<&str> = names.into_iter().collect();
    let mut text = all
        .iter()
        .take(SHOWN)
        .copied()
        .collect::<Vec<_>>()
        .join(", ");
    if all.len() > SHOWN {
        text.push_str(&format!(" and {} more", all.len() - SHOWN));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::named;

    #[test]
    fn four_names_are_told_and_then_how_many_more() {
        assert_eq!(named([]), "");
        assert_eq!(named(["a", "b", "c", "d"]), "a, b, c, d");
        assert_eq!(named(["a", "b", "c", "d", "e"]), "a, b, c, d and 1 more");
        assert_eq!(
            named(["a", "b", "c", "d", "e", "f"]),
            "a, b, c, d and 2 more"
        );
    }
}
