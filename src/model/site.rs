//! The site: points where things stand, and the routes by which cable gets between them.

use crate::diagnostic::Place;
use crate::quantity::{Length, Power, Temperature};
use std::sync::Arc;

/// What stands at a point.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PointKind {
    /// A distribution board.
    Panel,
    /// A driver cupboard.
    Cupboard,
    /// A room.
    Room,
    /// A place that cable passes: a riser, a tray junction.
    Junction,
}

impl PointKind {
    /// The word used in files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            PointKind::Panel => "panel",
            PointKind::Cupboard => "cupboard",
            PointKind::Room => "room",
            PointKind::Junction => "junction",
        }
    }
}

/// A point on site.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Its name in the project file.
    pub name: String,
    /// Name for people; the name when none is given.
    pub title: String,
    /// What stands there.
    pub kind: PointKind,
    /// Ambient temperature there, enclosure rise included.
    pub ambient: Option<Temperature>,
    /// Room for drivers in a cupboard; `None` when it was not measured.
    pub space: Option<Space>,
    /// Heat that a cupboard sheds at that ambient; `None` when it is not known.
    pub sheds: Option<Power>,
    /// Whether drivers there can be isolated locally; `None` when it is not said.
    pub isolator: Option<bool>,
    /// Whether what stands there can be reached and changed without breaking the fabric.
    pub accessible: Option<bool>,
    /// Its position in [`Site::points`].
    pub index: usize,
    /// Where it stands in the project file; `None` when no file says it.
    pub place: Option<Place>,
}

/// The surface on which a cupboard's drivers stand, and the room above it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Space {
    /// Length of the surface.
    pub length: Length,
    /// Its width.
    pub width: Length,
    /// Room above it; `None` when that does not limit.
    pub height: Option<Length>,
}

/// A stretch of cable route between two points, usable both ways.
#[derive(Debug, Clone, PartialEq)]
pub struct Route {
    /// One end.
    pub from: Arc<Point>,
    /// The other end.
    pub to: Arc<Point>,
    /// Length of cable it takes, rises and slack included.
    pub length: Length,
    /// Whether extra-low-voltage cable is kept apart from mains and bus cable along it, in place
    /// of what holds for the whole project.
    pub separated: Option<bool>,
}

/// All points and routes.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Site {
    /// Points, in file order.
    pub points: Vec<Arc<Point>>,
    /// Routes, in file order.
    pub routes: Vec<Route>,
}
