//! Groups that dim together, and scenes.

use crate::diagnostic::Place;
use crate::quantity::{FluxPerLength, Ratio, Temperature, Time};
use std::sync::Arc;

/// Runs that dim together.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Its name in files.
    pub name: String,
    /// Its name for people.
    pub title: String,
    /// Its position in the project's list of groups.
    pub index: usize,
}

/// What a scene asks of a group.
#[derive(Debug, Clone, PartialEq)]
pub struct SceneSetting {
    /// The group.
    pub group: Arc<Group>,
    /// Light, as a share of full.
    pub light: Ratio,
    /// White asked for; `None` leaves it as it is.
    pub white: Option<Temperature>,
    /// Least light asked of each metre of its strip at that.
    pub at_least: Option<FluxPerLength>,
    /// Where it stands in the project file.
    pub place: Place,
}

/// A scene.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Its name.
    pub name: String,
    /// What it sets, in file order.
    pub settings: Vec<SceneSetting>,
    /// Fade time; `None` leaves it to the controller.
    pub fade: Option<Time>,
    /// Where it stands in the project file.
    pub place: Place,
}
