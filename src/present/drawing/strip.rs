//! The strip on a sheet: to scale, cut where it is cut, with its feeds and the cupboard that their
//! cables come from.

use super::layout::{EDGE, LETTERS, LINE, across};
use super::sheet::{Bounds, Fill, Sheet, Stroke, clipped, text_width};
use super::stack::{Put, rows, stack};
use super::{Drawing, DrawnFeed, DrawnSection};
use crate::present::printable::printable;
use crate::quantity::figure::{Figure, Unit};
use crate::quantity::number::{real, whole};

/// Height of the strip.
const STRIP: f64 = 10.0;
/// Half the gap that is left where the strip is cut.
const CUT: f64 = 1.5;
/// Height of the cupboard.
const CUPBOARD: f64 = 20.0;
/// Least distance of two ticks.
const LEAST_TICK: f64 = 4.0;
/// Height of the letters at a feed.
const SMALL: f64 = 9.5;
/// Distance of their lines.
const SMALL_LINE: f64 = 11.5;

/// Draws from `top` down; returns where it ends.
pub(super) fn draw(sheet: &mut Sheet, drawing: &Drawing, top: f64) -> f64 {
    let name = printable(&drawing.cupboard);
    let name = clipped(&name, LETTERS, false, 250.0);
    let cupboard = Bounds {
        left: EDGE,
        top,
        width: text_width(&name, LETTERS, false) + 16.0,
        height: CUPBOARD,
    };
    sheet.rectangle(cupboard, Fill::Pale, Stroke::Plain);
    sheet.text((EDGE + 8.0, top + 14.0), LETTERS, name);
    let note = "one cable for each feed; its way is not drawn to scale";
    let beside = cupboard.left + cupboard.width + 12.0;
    sheet.text((beside, top + 14.0), SMALL, note);
    let out = (EDGE + 0.5 * cupboard.width, top + CUPBOARD);
    let bus = out.1 + 8.0;
    let labels = feed_labels(drawing);
    let lines = drawing.feeds.iter().map(|feed| feed.label.len()).max();
    let block = SMALL_LINE * real(lines.unwrap_or(0)) + 5.0;
    let strip_top = bus + 8.0 + block * real(rows(&labels)) + 4.0;
    for feed in &drawing.feeds {
        draw_cable(sheet, across(drawing, feed.at_m), (out, bus, strip_top));
    }
    for (feed, put) in drawing.feeds.iter().zip(&labels) {
        let top = bus + 6.0 + block * real(put.row);
        draw_label(sheet, feed, (put.left, top));
    }
    draw_sections(sheet, drawing, strip_top);
    section_labels(sheet, drawing, strip_top + STRIP + 14.0)
}

/// Where the feeds' labels go: right of their cable, or left of it where the sheet ends.
fn feed_labels(drawing: &Drawing) -> Vec<Put> {
    let wanted: Vec<(f64, f64)> = drawing
        .feeds
        .iter()
        .map(|feed| {
            let (x, width) = (across(drawing, feed.at_m), label_width(feed));
            let beside = 0.5 * width + 5.0;
            let fits = x + beside + 0.5 * width <= sheet_right();
            (if fits { x + beside } else { x - beside }, width)
        })
        .collect();
    stack(&wanted, (EDGE, sheet_right()), 8.0)
}

fn sheet_right() -> f64 {
    super::layout::WIDTH - EDGE
}

fn label_width(feed: &DrawnFeed) -> f64 {
    let widths = feed.label.iter();
    let widths = widths.map(|text| text_width(text, SMALL, false));
    widths.fold(0.0, f64::max)
}

/// From the cupboard along the others, then down to the strip.
fn draw_cable(sheet: &mut Sheet, x: f64, (out, bus, strip_top): ((f64, f64), f64, f64)) {
    let way = vec![out, (out.0, bus), (x, bus), (x, strip_top)];
    sheet.path(way, Stroke::Plain);
    let tip = vec![
        (x - 4.0, strip_top - 7.0),
        (x, strip_top),
        (x + 4.0, strip_top - 7.0),
    ];
    sheet.path(tip, Stroke::Plain);
}

/// What is said of a feed, on paper of its own so that no other cable runs through it.
fn draw_label(sheet: &mut Sheet, feed: &DrawnFeed, (left, top): (f64, f64)) {
    let paper = Bounds {
        left: left - 1.0,
        top,
        width: label_width(feed) + 2.0,
        height: SMALL_LINE * real(feed.label.len()),
    };
    sheet.rectangle(paper, Fill::Paper, Stroke::None);
    for (index, text) in feed.label.iter().enumerate() {
        let y = top + SMALL + SMALL_LINE * real(index);
        sheet.text((left, y), SMALL, printable(text));
    }
}

fn draw_sections(sheet: &mut Sheet, drawing: &Drawing, top: f64) {
    let last = drawing.sections.len().saturating_sub(1);
    for (index, section) in drawing.sections.iter().enumerate() {
        let gap = |is_cut: bool| if is_cut { CUT } else { 0.0 };
        let left = across(drawing, section.from_m) + gap(index > 0);
        let right = across(drawing, section.to_m) - gap(index < last);
        let bounds = Bounds {
            left,
            top,
            width: (right - left).max(1.0),
            height: STRIP,
        };
        sheet.rectangle(bounds, Fill::Pale, Stroke::Plain);
        let foot = top + STRIP;
        for mark in marks(section, ticks(drawing)) {
            let x = across(drawing, mark);
            sheet.line((x, foot - 4.0), (x, foot), Stroke::Hair);
        }
        for joint in &section.joints_m {
            let x = across(drawing, *joint);
            sheet.line((x, top - 2.0), (x, foot + 4.0), Stroke::Heavy);
        }
    }
}

/// Cut marks from one tick to the next, so that ticks can be told apart.
fn ticks(drawing: &Drawing) -> usize {
    let cut = drawing.sections.iter().map(|section| section.cut_m);
    let cut = cut.fold(f64::INFINITY, f64::min);
    let apart = across(drawing, cut) - across(drawing, 0.0);
    let steps = [1, 2, 5, 10, 20, 50, 100, 200, 500];
    let clear = |step: &usize| apart * real(*step) >= LEAST_TICK;
    steps.into_iter().find(clear).unwrap_or(1000)
}

/// Places of every so many cut marks inside a section.
fn marks(section: &DrawnSection, step: usize) -> Vec<f64> {
    let count = whole((section.to_m - section.from_m) / section.cut_m + 0.5).unwrap_or(0);
    let inside = (step..count).step_by(step.max(1));
    inside
        .map(|mark| section.from_m + section.cut_m * real(mark))
        .collect()
}

/// What the ticks on the strip are.
fn tick_words(drawing: &Drawing) -> Option<String> {
    let first = drawing.sections.first()?;
    let cut = Figure::new(1000.0 * first.cut_m, Unit::Millimetre);
    let step = ticks(drawing);
    let every = Figure::new(first.cut_m * real(step), Unit::Metre);
    let words = if step == 1 {
        format!("a tick is a cut mark, every {cut}")
    } else {
        format!("cut marks every {cut}; a tick every {step} of them ({every})")
    };
    let has_joints = drawing
        .sections
        .iter()
        .any(|section| !section.joints_m.is_empty());
    let joints = if has_joints {
        "; a bar across the strip is a joint"
    } else {
        ""
    };
    Some(format!("{words}{joints}"))
}

/// What each section is, under it, and where its joints are.
fn section_labels(sheet: &mut Sheet, drawing: &Drawing, first: f64) -> f64 {
    let most = sheet_right() - EDGE;
    let mut labels: Vec<(f64, String)> = Vec::new();
    for section in &drawing.sections {
        for joint in &section.joints_m {
            let at = Figure::new(*joint, Unit::Metre);
            labels.push((*joint, format!("joint {at}")));
        }
    }
    for section in &drawing.sections {
        let text = clipped(&printable(&section.label), SMALL, false, most);
        labels.push((0.5 * (section.from_m + section.to_m), text));
    }
    let wanted: Vec<(f64, f64)> = labels
        .iter()
        .map(|(at, text)| (across(drawing, *at), text_width(text, SMALL, false)))
        .collect();
    let put = stack(&wanted, (EDGE, sheet_right()), 10.0);
    for ((_, text), put) in labels.into_iter().zip(&put) {
        sheet.text((put.left, first + LINE * real(put.row)), SMALL, text);
    }
    let mut bottom = first + LINE * real(rows(&put).saturating_sub(1));
    if let Some(words) = tick_words(drawing) {
        bottom += LINE;
        sheet.text((EDGE, bottom), SMALL, words);
    }
    bottom + 4.0
}
