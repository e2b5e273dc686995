//! What goes on control loops: drivers with a bus, and control devices.

use crate::allocate::allocated::MemberKind;
use crate::choose::sized::{SizedDriver, Sizing};
use crate::model::project::{DeviceSet, Project};
use crate::model::site::Point;
use crate::norms::iec_62386;
use crate::quantity::Current;
use std::sync::Arc;

/// A unit of a control bus, before it has a loop.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Unit {
    /// Driver number, or the device set's name with a number.
    pub name: String,
    /// Gear or control device.
    pub kind: MemberKind,
    /// Catalogue id.
    pub item: String,
    /// Short addresses it takes.
    pub addresses: usize,
    /// Bus current it draws.
    pub current: Current,
    /// Whether that current is the standard's, because the datasheet is silent.
    pub current_assumed: bool,
    /// Rooms it serves, the first being the one it is listed under.
    pub rooms: Vec<Arc<Point>>,
    /// Where it stands on the bus.
    pub at: Arc<Point>,
    /// Index of the project group it belongs to.
    pub group: Option<usize>,
}

/// All units in the order of the documents: drivers by number, then control devices.
pub(super) fn units(project: &Project, sizing: &Sizing) -> Vec<Unit> {
    let mut units: Vec<Unit> = sizing.drivers.iter().filter_map(gear).collect();
    units.extend(project.devices.iter().flat_map(devices));
    units
}

fn gear(driver: &SizedDriver) -> Option<Unit> {
    let bus = driver.item.bus.as_ref()?;
    let rooms = if driver.rooms.is_empty() {
        vec![Arc::clone(&driver.cupboard)]
    } else {
        driver.rooms.clone()
    };
    Some(Unit {
        name: driver.number.clone(),
        kind: MemberKind::Gear,
        item: driver.item.offer.id.clone(),
        addresses: bus.addresses,
        current: bus.current.unwrap_or_else(iec_62386::gear_current),
        current_assumed: bus.current.is_none(),
        rooms,
        at: Arc::clone(&driver.cupboard),
        group: Some(driver.group.index),
    })
}

fn devices(set: &DeviceSet) -> impl Iterator<Item = Unit> + '_ {
    (1..=set.count).map(|number| Unit {
        name: format!("{}-{number}", set.name),
        kind: MemberKind::ControlDevice,
        item: set.item.offer.id.clone(),
        addresses: set.item.addresses,
        current: set.item.current.unwrap_or_else(iec_62386::gear_current),
        current_assumed: set.item.current.is_none(),
        rooms: vec![Arc::clone(&set.room)],
        at: Arc::clone(&set.room),
        group: None,
    })
}

/// Units for tests.
#[cfg(test)]
pub(super) mod made {
    use super::*;
    use crate::model::sample;
    use crate::model::site::PointKind;

    /// A point at that place in the site.
    pub fn point(index: usize) -> Arc<Point> {
        sample::point(index, &format!("point-{index}"), PointKind::Cupboard)
    }

    /// A unit there that draws nothing.
    pub fn unit(at: &Arc<Point>, kind: MemberKind, addresses: usize) -> Unit {
        Unit {
            name: "unit".to_owned(),
            kind,
            item: "item".to_owned(),
            addresses,
            current: Current::default(),
            current_assumed: false,
            rooms: Vec::new(),
            at: Arc::clone(at),
            group: None,
        }
    }
}
