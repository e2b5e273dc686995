//! First answers: containers filled one after another.

use super::pattern;
use super::relaxation::Relaxation;
use super::work::{Work, add, fitting, float, holds, less, share};
use super::{Container, Contents, Size};

/// Several first answers; none when the containers that can be had ran out in all of them.
pub(super) fn answers(work: &Work, relaxation: &Relaxation) -> Vec<Vec<Container>> {
    let largest = work.kinds.iter().fold([0, 0], |most, kind| {
        [most[0].max(kind.room[0]), most[1].max(kind.room[1])]
    });
    let by_size: Vec<f64> = work
        .things
        .iter()
        .map(|thing| share(thing.size, largest))
        .collect();
    let mut answers: Vec<Vec<Container>> = Vec::new();
    for values in [relaxation.values.clone(), by_size] {
        answers.extend(by_value(work, |_, _| values.clone()));
    }
    for preferred in 0..work.kinds.len() {
        answers.extend(best_fit(work, preferred));
    }
    answers
}

/// Again and again the filling that is worth most for its cost, things being worth what `worth`
/// says of what remains and the kinds that are left.
fn by_value(work: &Work, worth: impl Fn(&[usize], &[usize]) -> Vec<f64>) -> Option<Vec<Container>> {
    let mut remains = work.counts();
    let mut left = work.available();
    let mut containers = Vec::new();
    while remains.iter().any(|&count| count > 0) {
        let values = worth(&remains, &left);
        let next = work
            .kinds
            .iter()
            .enumerate()
            .filter(|(index, _)| left.get(*index).is_some_and(|&left| left > 0))
            .map(|(index, kind)| {
                let best = pattern::best(work, kind.room, &remains, &values);
                (best.value / float(kind.cost), index, best.contents)
            })
            .filter(|(_, _, contents)| !contents.is_empty())
            .max_by(|a, b| a.0.total_cmp(&b.0).then(b.1.cmp(&a.1)));
        let Some((_, kind, mut contents)) = next else {
            return with_worthless(work, containers, remains, left);
        };
        top_up(work, kind, &remains, &mut contents);
        containers.push(take(kind, contents, &mut remains, &mut left));
    }
    Some(shrunk(work, containers))
}

/// What a relaxation gives no value is put where there is room, or else into containers of its own.
fn with_worthless(
    work: &Work,
    mut containers: Vec<Container>,
    remains: Vec<usize>,
    mut left: Vec<usize>,
) -> Option<Vec<Container>> {
    let preferred = 0;
    place_rest(work, preferred, &mut containers, remains, &mut left)?;
    Some(shrunk(work, containers))
}

/// Each thing, largest first, into the fullest container that still holds it; a new one of the
/// preferred kind, or else of the cheapest that holds it.
fn best_fit(work: &Work, preferred: usize) -> Option<Vec<Container>> {
    let mut left = work.available();
    let mut containers = Vec::new();
    place_rest(work, preferred, &mut containers, work.counts(), &mut left)?;
    Some(shrunk(work, containers))
}

fn place_rest(
    work: &Work,
    preferred: usize,
    containers: &mut Vec<Container>,
    remains: Vec<usize>,
    left: &mut [usize],
) -> Option<()> {
    // What each holds, so that it is not added up anew for every thing.
    let each = containers.iter();
    let mut held: Vec<Size> = each.map(|it| work.size_of(&it.contents)).collect();
    for (place, &count) in remains.iter().enumerate() {
        let size = work.things.get(place)?.size;
        for _ in 0..count {
            let at = match fullest(work, containers, &held, size) {
                Some(at) => at,
                None => {
                    let kind = kind_for(work, preferred, place, left)?;
                    if let Some(left) = left.get_mut(kind) {
                        *left -= 1;
                    }
                    containers.push(Container {
                        kind,
                        contents: Contents::default(),
                    });
                    held.push([0, 0]);
                    containers.len() - 1
                }
            };
            if let Some(container) = containers.get_mut(at) {
                container.contents.add(place, 1);
            }
            if let Some(held) = held.get_mut(at) {
                *held = add(*held, size, 1);
            }
        }
    }
    Some(())
}

/// The fullest of containers, which hold so much each, that still holds a thing of a size.
fn fullest(work: &Work, containers: &[Container], held: &[Size], size: Size) -> Option<usize> {
    let with_held = containers.iter().zip(held).enumerate();
    with_held
        .filter_map(|(index, (container, held))| {
            let room = work.kinds.get(container.kind)?.room;
            let with = add(*held, size, 1);
            holds(room, with).then(|| (share(less(room, with, 1), room), index))
        })
        .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
        .map(|(_, index)| index)
}

fn kind_for(work: &Work, preferred: usize, place: usize, left: &[usize]) -> Option<usize> {
    let size = work.things.get(place)?.size;
    work.kinds
        .iter()
        .zip(left)
        .enumerate()
        .filter(|(_, (kind, left))| **left > 0 && holds(kind.room, size))
        .min_by_key(|(index, (kind, _))| (*index != preferred, kind.cost))
        .map(|(index, _)| index)
}

/// Adds what remains and still fits, largest first.
fn top_up(work: &Work, kind: usize, remains: &[usize], contents: &mut Contents) {
    let Some(kind) = work.kinds.get(kind) else {
        return;
    };
    let mut room = less(kind.room, work.size_of(contents), 1);
    for (place, (thing, &there)) in work.things.iter().zip(remains).enumerate() {
        if fitting(room, thing.size, there) > 0 {
            let more = fitting(room, thing.size, there - contents.at(place));
            contents.add(place, more);
            room = less(room, thing.size, more);
        }
    }
}

fn take(kind: usize, contents: Contents, remains: &mut [usize], left: &mut [usize]) -> Container {
    contents.take_from(remains);
    if let Some(left) = left.get_mut(kind) {
        *left -= 1;
    }
    Container { kind, contents }
}

/// Each container replaced by the cheapest kind that holds what is in it.
pub(super) fn shrunk(work: &Work, mut containers: Vec<Container>) -> Vec<Container> {
    containers.retain(|container| !container.contents.is_empty());
    let mut left = work.available();
    for container in &containers {
        if let Some(left) = left.get_mut(container.kind) {
            *left = left.saturating_sub(1);
        }
    }
    for container in &mut containers {
        let size = work.size_of(&container.contents);
        let now = work.kinds.get(container.kind).map_or(0, |kind| kind.cost);
        let cheaper = work
            .kinds
            .iter()
            .zip(&left)
            .enumerate()
            .filter(|(_, (kind, left))| **left > 0 && kind.cost < now && holds(kind.room, size))
            .min_by_key(|(_, (kind, _))| kind.cost)
            .map(|(index, _)| index);
        if let Some(index) = cheaper {
            if let Some(back) = left.get_mut(container.kind) {
                *back += 1;
            }
            if let Some(taken) = left.get_mut(index) {
                *taken -= 1;
            }
            container.kind = index;
        }
    }
    containers
}

#[cfg(test)]
mod tests {
    use super::super::{Kind, Thing};
    use super::*;

    /// Of the small container, which can be had once, the first that it holds gets it; one that is empty
    /// is left out.
    #[test]
    fn what_a_cheaper_container_holds_goes_into_it_while_there_are_any() {
        let kind = |room: u64, price: u64, available: Option<usize>| Kind {
            room: [room, 4],
            price,
            available,
        };
        let kinds = [kind(100, 10, None), kind(50, 6, Some(1))];
        let thing = |size: u64| Thing {
            size: [size, 1],
            count: 1,
        };
        let things = [thing(60), thing(40), thing(30)];
        let work = Work::new(&kinds, &things).expect("it fits");
        let large = work.kinds.iter().position(|kind| kind.room[0] == 100);
        let small = work.kinds.iter().position(|kind| kind.room[0] == 50);
        let (large, small) = (large.unwrap(), small.unwrap());
        let of = |contents: Contents| Container {
            kind: large,
            contents,
        };
        let answer = vec![
            of(Contents::of(0, 1)),
            of(Contents::default()),
            of(Contents::of(1, 1)),
            of(Contents::of(2, 1)),
        ];
        let kinds: Vec<usize> = shrunk(&work, answer).iter().map(|it| it.kind).collect();
        assert_eq!(kinds, [large, small, large]);
    }
}
