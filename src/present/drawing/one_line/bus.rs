//! The tree of a control loop: its supply, the points that the cable joins, how far apart they
//! are, and what stands at each.

use super::{EDGE, Part, SMALL, SMALL_LINE, TALL, WIDTH, blank, named_box, parts, small};
use super::{small_lines, text_width};
use crate::allocate::allocated::{BusStretch, Loop, Member, MemberKind};
use crate::model::site::Point;
use crate::present::drawing::sheet::{Sheet, Stroke};
use crate::present::job::Job;
use crate::present::measured::{metres, milliamperes, volts};
use crate::quantity::Length;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::real;

/// How far a point stands to the right of the one before it, while there is room.
const INDENT: f64 = 66.0;
/// Indent from which a stretch's length can stand on its line.
const LENGTH_ROOM: f64 = 62.0;
/// Least room for a point and what stands there.
const LEAST_ROOM: f64 = 260.0;
/// From a box's left edge to the cable that goes on from it.
const ONWARD: f64 = 12.0;
/// Lines of members at one point, at most.
const MOST_LINES: usize = 12;
/// Between two points.
const GAP: f64 = 12.0;

/// A point of the tree.
struct Node<'a> {
    point: &'a Point,
    /// The stretch that leads to it; none for the supply.
    stretch: Option<&'a BusStretch>,
    /// Place in the list of the one before it.
    parent: usize,
    depth: usize,
    /// From the supply.
    way: Length,
    lines: Vec<String>,
}

/// The drawing of a loop.
#[must_use]
pub fn drawing(job: &Job, on: &Loop) -> Vec<Part> {
    let mut nodes = nodes(on);
    let deepest = nodes.iter().map(|node| node.depth).max().unwrap_or(0);
    let indent = ((WIDTH - 2.0 * EDGE - LEAST_ROOM) / real(deepest.max(1))).min(INDENT);
    for node in &mut nodes {
        node.lines = texts(on, node, indent < LENGTH_ROOM);
    }
    let tree = Tree { nodes, indent };
    let head = head(job, on);
    parts(
        &format!("Loop {}", on.name),
        &on.name,
        tree.sheets(&head, WIDTH - 2.0 * EDGE),
    )
}

/// What is said above the tree.
fn head(job: &Job, on: &Loop) -> String {
    let cable = on.cable.as_ref().map_or_else(
        || "no bus cable in the catalogue".to_owned(),
        |cable| {
            format!(
                "{} ({})",
                cable.offer.id,
                crate::present::cable_size::cores(cable)
            )
        },
    );
    format!(
        "{cable}, {} in all, longest {}; {} of {} guaranteed; drop {} with every unit drawing, {} \
         with the supply's whole {}; copper at {:.0} °C. Treat as mains.",
        Figure::new(metres(on.cable_length), Unit::Metre),
        Figure::new(metres(on.longest), Unit::Metre),
        Figure::new(milliamperes(on.current), Unit::Milliampere),
        Figure::new(milliamperes(on.supply_guaranteed), Unit::Milliampere),
        Figure::new(volts(on.drop), Unit::Volt),
        Figure::new(volts(on.drop_full), Unit::Volt),
        Figure::new(milliamperes(on.supply_maximum), Unit::Milliampere),
        crate::present::measured::celsius(job.project.loops.temperature),
    )
}

/// The points of the tree, each after the one before it on the way from the supply.
fn nodes(on: &Loop) -> Vec<Node<'_>> {
    let root = Node {
        point: &on.at,
        stretch: None,
        parent: 0,
        depth: 0,
        way: Length::default(),
        lines: Vec::new(),
    };
    let mut nodes = Vec::new();
    let mut waiting = vec![root];
    // Every stretch is met once: a ring in the list would not bring a point back.
    let mut left: Vec<&BusStretch> = on.tree.iter().collect();
    while let Some(node) = waiting.pop() {
        let index = nodes.len();
        let (onward, others): (Vec<_>, Vec<_>) = left
            .into_iter()
            .partition(|stretch| stretch.from.name == node.point.name);
        left = others;
        for stretch in onward.into_iter().rev() {
            waiting.push(Node {
                point: &stretch.to,
                stretch: Some(stretch),
                parent: index,
                depth: node.depth + 1,
                way: node.way + stretch.length,
                lines: Vec::new(),
            });
        }
        nodes.push(node);
    }
    nodes
}

/// What stands at a point, not yet broken into lines.
fn texts(on: &Loop, node: &Node, is_narrow: bool) -> Vec<String> {
    let here = |kind: MemberKind| {
        on.members
            .iter()
            .filter(move |member| member.kind == kind && member.at.name == node.point.name)
    };
    let mut texts = Vec::new();
    if node.stretch.is_none() {
        let unit = if on.controller.is_empty() {
            "no controller serves this loop".to_owned()
        } else {
            format!("supply: {}, port {}", on.controller, on.port)
        };
        texts.push(unit);
    } else {
        let mut text = format!(
            "{} from the supply",
            Figure::new(metres(node.way), Unit::Metre)
        );
        if let (Some(stretch), true) = (node.stretch, is_narrow) {
            let length = Figure::new(metres(stretch.length), Unit::Metre);
            text = format!("{text}, {length} from {}", stretch.from.title);
        }
        let worst = on.members.iter().filter(|it| it.at.name == node.point.name);
        let worst = worst.map(|it| volts(it.drop)).fold(None, |most, drop| {
            Some(most.map_or(drop, |most: f64| most.max(drop)))
        });
        if let Some(drop) = worst {
            text.push_str(&format!(", drop {}", Figure::new(drop, Unit::Volt)));
        }
        texts.push(text);
    }
    for (kind, word) in [
        (MemberKind::Gear, "gear"),
        (MemberKind::ControlDevice, "devices"),
    ] {
        let members: Vec<&Member> = here(kind).collect();
        if !members.is_empty() {
            texts.push(format!("{word}: {}", listed(&members)));
        }
    }
    texts
}

/// `D-01 at 0, D-02 at 1`; devices of one set together: `hall-sensor (12) at 0 to 11`.
fn listed(members: &[&Member]) -> String {
    let mut sets: Vec<(&str, Vec<usize>)> = Vec::new();
    for member in members {
        let name = match member.kind {
            MemberKind::Gear => member.device.as_str(),
            MemberKind::ControlDevice => stem(&member.device),
        };
        match sets.last_mut() {
            Some((last, addresses)) if *last == name => addresses.extend(&member.addresses),
            _ => sets.push((name, member.addresses.clone())),
        }
    }
    let texts: Vec<String> = sets
        .iter()
        .map(|(name, addresses)| match addresses.as_slice() {
            [] => format!("{name} without an address"),
            [only] => format!("{name} at {only}"),
            [first, .., last] => {
                format!("{name} ({}) at {first} to {last}", addresses.len())
            }
        })
        .collect();
    texts.join(", ")
}

/// The name of the set that a device is numbered in.
fn stem(device: &str) -> &str {
    let unnumbered = device.trim_end_matches(|c: char| c.is_ascii_digit());
    unnumbered.strip_suffix('-').unwrap_or(device)
}

/// The points with the room that each may take to the right.
struct Tree<'a> {
    nodes: Vec<Node<'a>>,
    indent: f64,
}

/// Where a point was put.
#[derive(Clone, Copy)]
struct Put {
    sheet: usize,
    top: f64,
    height: f64,
}

impl Tree<'_> {
    fn left(&self, node: &Node) -> f64 {
        EDGE + self.indent * real(node.depth)
    }

    fn lines(&self, node: &Node) -> Vec<String> {
        let room = WIDTH - EDGE - self.left(node) - ONWARD - 10.0;
        let texts = node.lines.iter();
        texts
            .flat_map(|text| small_lines(text, room, MOST_LINES))
            .collect()
    }

    /// Sheet and height of each point.
    fn places(&self, first: f64) -> Vec<Put> {
        let mut put = Vec::new();
        let (mut sheet, mut y) = (0, first);
        for node in &self.nodes {
            let height = 20.0 + 4.0 + SMALL_LINE * real(self.lines(node).len());
            if y + height > TALL && y > first {
                (sheet, y) = (sheet + 1, first);
            }
            put.push(Put {
                sheet,
                top: y,
                height,
            });
            y += height + GAP;
        }
        put
    }

    fn sheets(&self, head: &str, room: f64) -> Vec<Sheet> {
        let lines = small_lines(head, room, 3);
        let first = SMALL_LINE * real(lines.len()) + 14.0;
        let places = self.places(first);
        let count = places.last().map_or(1, |last| last.sheet + 1);
        (0..count)
            .map(|number| {
                let mut sheet = blank();
                for (index, line) in lines.iter().enumerate() {
                    let y = SMALL + SMALL_LINE * real(index);
                    sheet.text((EDGE, y), SMALL, line.clone());
                }
                self.draw(&mut sheet, number, first, &places);
                sheet
            })
            .collect()
    }

    fn draw(&self, sheet: &mut Sheet, number: usize, first: f64, places: &[Put]) {
        let here = places.iter().filter(|put| put.sheet == number);
        let bottom = here.map(|put| put.top + put.height).fold(first, f64::max);
        sheet.height = bottom + 6.0;
        for (node, put) in self.nodes.iter().zip(places) {
            let parent = self.nodes.get(node.parent).zip(places.get(node.parent));
            if let (Some((before, from)), Some(stretch)) = (parent, node.stretch) {
                let x = self.left(before) + ONWARD;
                let leaves = match from.sheet.cmp(&number) {
                    std::cmp::Ordering::Less => Some(first - 8.0),
                    std::cmp::Ordering::Equal => Some(from.top + 20.0),
                    std::cmp::Ordering::Greater => None,
                };
                let reaches = match put.sheet.cmp(&number) {
                    std::cmp::Ordering::Less => None,
                    std::cmp::Ordering::Equal => Some(put.top + 10.0),
                    std::cmp::Ordering::Greater => Some(bottom + 6.0),
                };
                if let (Some(leaves), Some(reaches)) = (leaves, reaches) {
                    sheet.line((x, leaves), (x, reaches), Stroke::Plain);
                }
                if put.sheet == number {
                    self.draw_arrival(sheet, x, (node, put), stretch);
                }
            }
            if put.sheet == number {
                self.draw_node(sheet, node, put);
            }
        }
    }

    /// The last stretch of cable to a point, with its length.
    fn draw_arrival(
        &self,
        sheet: &mut Sheet,
        x: f64,
        (node, put): (&Node, &Put),
        stretch: &BusStretch,
    ) {
        let (left, y) = (self.left(node), put.top + 10.0);
        sheet.line((x, y), (left, y), Stroke::Plain);
        let length = Figure::new(metres(stretch.length), Unit::Metre).to_string();
        if text_width(&length, SMALL, false) <= left - x - 6.0 {
            sheet.text((x + 4.0, y - 3.0), SMALL, length);
        }
    }

    fn draw_node(&self, sheet: &mut Sheet, node: &Node, put: &Put) {
        let left = self.left(node);
        let most = WIDTH - EDGE - left;
        named_box(sheet, (left, put.top), most, &node.point.title);
        for (index, line) in self.lines(node).iter().enumerate() {
            let y = put.top + 20.0 + 2.0 + SMALL_LINE * real(index + 1) - 2.0;
            let at = (left + ONWARD + 8.0, y);
            small(sheet, at, WIDTH - EDGE - at.0, line);
        }
    }
}
