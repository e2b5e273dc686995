//! Where named things stand in lists, laid out once beside the lists.

use std::collections::HashMap;
use std::sync::OnceLock;

/// Places by name, laid out when they are first asked for: nothing is added to the lists or named
/// anew after that.
#[derive(Debug)]
pub struct ByName<T>(OnceLock<T>);

impl<T> ByName<T> {
    /// The places, laid out now if they are not yet.
    pub fn places(&self, lay_out: impl FnOnce() -> T) -> &T {
        self.0.get_or_init(lay_out)
    }
}

impl<T> Default for ByName<T> {
    fn default() -> ByName<T> {
        ByName(OnceLock::new())
    }
}

/// A copy of the lists may be changed before it is asked.
impl<T> Clone for ByName<T> {
    fn clone(&self) -> ByName<T> {
        ByName::default()
    }
}

/// It says nothing that the lists do not.
impl<T> PartialEq for ByName<T> {
    fn eq(&self, _: &ByName<T>) -> bool {
        true
    }
}

/// Adds a place to those of a name.
pub fn add(places: &mut HashMap<String, Vec<usize>>, name: &str, place: usize) {
    match places.get_mut(name) {
        Some(places) => places.push(place),
        None => {
            places.insert(name.to_owned(), vec![place]);
        }
    }
}

/// The things at the places of a name, in their order.
pub fn at<'a, T>(
    all: &'a [T],
    places: &'a HashMap<String, Vec<usize>>,
    name: &str,
) -> impl Iterator<Item = &'a T> + use<'a, T> {
    let places = places.get(name).map_or(&[][..], Vec::as_slice);
    places.iter().filter_map(|place| all.get(*place))
}
