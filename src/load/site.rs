//! Points and routes of a project.

use super::desk::Desk;
use super::measure::{Ambient, Extent, Watts};
use super::nearest::hint;
use super::plain::{Flag, Name, NewName, Text};
use super::words::Word;
use super::written::{Reads, Span, Written};
use crate::model::site::{Point, PointKind, Route, Site, Space};
use schemars::JsonSchema;
use serde::Deserialize;
use std::collections::BTreeMap;
use std::sync::Arc;

/// A place where things can stand.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct PointBlock {
    /// Its name in this file.
    #[schemars(required)]
    point: Option<Written<NewName>>,
    /// What stands there.
    #[schemars(required)]
    kind: Option<Written<Word<PointKind>>>,
    /// Its name for people; the name when left out.
    title: Option<Written<Text>>,
    /// Ambient temperature there, the rise in an enclosure included.
    ambient: Option<Written<Ambient>>,
    /// Room for drivers in a cupboard.
    space: Option<SpaceBlock>,
    /// Heat that a cupboard sheds at its ambient.
    sheds: Option<Written<Watts>>,
    /// Whether drivers in a cupboard can be isolated there.
    isolator: Option<Written<Flag>>,
    /// Whether what stands there can be reached and changed without breaking the fabric.
    accessible: Option<Written<Flag>>,
}

/// The surface on which a cupboard's drivers stand.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
struct SpaceBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// Length of the surface.
    #[schemars(required)]
    length: Option<Written<Extent>>,
    /// Its width.
    #[schemars(required)]
    width: Option<Written<Extent>>,
    /// Room above it; no limit when left out.
    height: Option<Written<Extent>>,
}

/// A way of cable between two points, in both directions.
#[derive(Debug, Deserialize, JsonSchema)]
#[schemars(deny_unknown_fields)]
pub struct RouteBlock {
    #[serde(rename = "@")]
    #[schemars(skip)]
    place: Span,
    /// One end.
    #[schemars(required)]
    from: Option<Written<Name>>,
    /// The other end.
    #[schemars(required)]
    to: Option<Written<Name>>,
    /// Length of cable it takes, rises and slack included.
    #[schemars(required)]
    length: Option<Written<Extent>>,
    /// Whether extra-low-voltage cable is kept apart from mains and bus cable along it; as
    /// `wiring.separated` says when left out.
    separated: Option<Written<Flag>>,
}

/// The site, and every name given to a point, readable or not.
#[derive(Debug, Default)]
pub struct Places {
    /// Points and routes.
    pub site: Site,
    names: BTreeMap<String, usize>,
}

/// Reads points and routes.
pub fn read(points: &[PointBlock], routes: &[RouteBlock], desk: &mut Desk) -> Places {
    let mut places = Places::default();
    for block in points {
        places.point(block, desk);
    }
    for block in routes {
        places.route(block, desk);
    }
    places
}

impl Places {
    fn point(&mut self, block: &PointBlock, desk: &mut Desk) {
        let kind = desk.read(&block.kind);
        let title = desk.read(&block.title);
        let ambient = desk.read(&block.ambient);
        let space = block.space.as_ref().and_then(|block| space(block, desk));
        let sheds = desk.read(&block.sheds);
        let isolator = desk.read(&block.isolator);
        let accessible = desk.read(&block.accessible);
        let Some(written) = &block.point else { return };
        let Some(name) = desk.one(written) else {
            return;
        };
        if !first_use(&mut self.names, "point", written, desk) {
            return;
        }
        let Some(kind) = kind else { return };
        if kind != PointKind::Cupboard {
            only_cupboards(block, kind, desk);
        }
        self.site.points.push(Arc::new(Point {
            title: title.unwrap_or_else(|| name.clone()),
            name,
            kind,
            ambient,
            space,
            sheds,
            isolator,
            accessible,
            index: self.site.points.len(),
            place: Some(desk.place(written.at)),
        }));
    }

    fn route(&mut self, block: &RouteBlock, desk: &mut Desk) {
        let length = desk.read(&block.length);
        let separated = desk.read(&block.separated);
        let from = block.from.as_ref();
        let from = from.and_then(|name| self.find(name, "route", &[], desk));
        let to = block.to.as_ref();
        let to = to.and_then(|name| self.find(name, "route", &[], desk));
        let (Some(from), Some(to), Some(length)) = (from, to, length) else {
            return;
        };
        if from.index == to.index {
            let message = format!("a route from `{}` to itself", from.name);
            desk.complain("route-to-itself", message, block.place);
        }
        self.site.routes.push(Route {
            from,
            to,
            length,
            separated,
        });
    }

    /// The point of a name, of one of `kinds` (any, when empty). `None` when there is none (then
    /// there is a complaint, begun with `subject`) or when it could not be read (then there was
    /// one).
    pub fn find(
        &self,
        written: &Written<Name>,
        subject: &str,
        kinds: &[PointKind],
        desk: &mut Desk,
    ) -> Option<Arc<Point>> {
        let name = Name::read(&written.text).ok()?;
        let fits = |point: &Point| kinds.is_empty() || kinds.contains(&point.kind);
        let found = self.site.points.iter().find(|point| point.name == name);
        let wanted: Vec<_> = kinds.iter().map(|kind| kind.name()).collect();
        match found {
            Some(point) if fits(point) => return Some(Arc::clone(point)),
            Some(point) => {
                let kind = point.kind.name();
                let wanted = wanted.join(" or ");
                let message = format!("{subject}: point `{name}` is a {kind}, not a {wanted}");
                desk.complain("wrong-kind", message, written.at);
            }
            None if self.names.contains_key(&name) => {}
            None => {
                let points = self.site.points.iter().filter(|point| fits(point));
                let known: Vec<_> = points.map(|point| point.name.as_str()).collect();
                let hint = hint(&name, &known);
                let message = format!("{subject}: there is no point `{name}`{hint}");
                desk.complain("unknown-id", message, written.at);
            }
        }
        None
    }
}

fn space(block: &SpaceBlock, desk: &mut Desk) -> Option<Space> {
    let length = desk.read(&block.length);
    let width = desk.read(&block.width);
    let height = desk.read(&block.height);
    Some(Space {
        length: length?,
        width: width?,
        height,
    })
}

/// Complains of keys that say something of drivers where none can stand.
fn only_cupboards(block: &PointBlock, kind: PointKind, desk: &mut Desk) {
    let space = block.space.as_ref().map(|space| ("space", space.place));
    let sheds = block.sheds.as_ref().map(|sheds| ("sheds", sheds.at));
    let isolator = block.isolator.as_ref().map(|flag| ("isolator", flag.at));
    for (key, at) in [space, sheds, isolator].into_iter().flatten() {
        let kind = kind.name();
        let message = format!("`{key}` is for a point of `kind: cupboard`, not for a {kind}");
        desk.complain("wrong-kind", message, at);
    }
}

/// Whether this is the first use of a name; when not, there is a complaint.
pub fn first_use(
    names: &mut BTreeMap<String, usize>,
    what: &str,
    written: &Written<NewName>,
    desk: &mut Desk,
) -> bool {
    let start = written.at.range().start;
    let Some(first) = names.insert(written.text.clone(), start) else {
        return true;
    };
    names.insert(written.text.clone(), first);
    let line = desk.source.place(first).line;
    let message = format!("{what} `{}` is there twice", written.text);
    let twice = desk.fault("duplicate-id", message, written.at);
    desk.complaints
        .push(twice.label(format!("first in line {line}")));
    false
}
