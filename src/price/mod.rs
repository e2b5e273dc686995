//! Materials, packs, price ladders, labour, totals.
//!
//! Knows nothing of documents.

mod accessory;
mod assumed;
mod buy;
mod cable;
mod counts;
mod labour;
mod line;
pub mod money;
pub mod priced;
mod profile;
mod splits;
pub mod stake;
mod stock;
pub mod strip;
mod totals;
mod unsaid;

use crate::allocate::allocated::Allocation;
use crate::choose::sized::Sizing;
use crate::model::pricing::Pricing;
use crate::model::project::Project;
use assumed::Findings;
use counts::{Counts, exact_metres};
use line::Desk;
use priced::{CutStock, Line, Measured, Provisional, Quote};
use rust_decimal::Decimal;
use stock::Cutting;
use totals::Sections;

/// Prices a job: counts what the sized model needs, buys it, adds labour and totals.
#[must_use]
pub fn price(project: &Project, sizing: &Sizing, allocation: &Allocation) -> Quote {
    let desk = Desk {
        pricing: &project.pricing,
        date: project.heading.date,
    };
    let mut counts = Counts::default();
    counts::equipment(&mut counts, project, sizing, allocation);
    let drums = cable::count_cable(&mut counts, &project.pricing, sizing, allocation);
    let (strips, too_long) = strip::cut_strip(&mut counts, sizing);
    let profiles = profile::cut_profile(&mut counts, sizing);
    accessory::accessories(&mut counts, project, sizing, allocation);
    let cuttings: Vec<&Cutting> = strips
        .iter()
        .chain(&drums.cuttings)
        .chain(&profiles)
        .collect();

    let mut lines: Vec<Line> = counts.iter().flat_map(|c| desk.counted(c)).collect();
    lines.extend(cuttings.iter().flat_map(|cutting| desk.stocked(cutting)));
    lines.extend(too_long.iter().filter_map(|t| desk.too_long(t, sizing)));
    number(&mut lines);
    let works = labour::works(&counts, &cuttings);
    let fitting = labour::lines(&works, &desk);
    let commissioning = labour::commissioning(project, allocation, &desk);
    let provisional = provisional(&desk);
    let findings = Findings {
        too_long: &too_long,
        cuttings: &cuttings,
        joined: &drums.joined,
        works: &works,
        lines: &lines,
    };
    let assumptions = assumed::assumptions(project, sizing, allocation, &findings);
    Quote {
        currency: project.catalogue.currency.clone(),
        decimals: project.pricing.decimals,
        cuts: cuts(&cuttings, &lines, &project.pricing),
        cut_proofs: cuttings
            .iter()
            .map(|cutting| (cutting.offer.id.clone(), cutting.proved, cutting.bound))
            .collect(),
        totals: totals::totals(
            &Sections {
                materials: &lines,
                labour: &fitting,
                commissioning: &commissioning,
                provisional: &provisional,
            },
            &desk,
        ),
        longest_lead_time: longest_lead_time(&lines),
        stakes: assumptions
            .iter()
            .map(|assumption| stake::of(assumption, &lines, project))
            .collect(),
        options: Vec::new(),
        assumptions,
        exclusions: project.exclusions.clone(),
        labour: fitting,
        commissioning,
        provisional,
        lines,
    }
}

/// The provisional sums as they are printed.
fn provisional(desk: &Desk) -> Vec<Provisional> {
    let sums = desk.pricing.provisional.iter();
    sums.map(|sum| Provisional {
        what: sum.what.clone(),
        sell: desk.rounder().round(sum.amount),
    })
    .collect()
}

/// Orders lines by kind and id, spares after what they are spares of, and numbers them.
fn number(lines: &mut [Line]) {
    lines.sort_by(|a, b| (a.kind, &a.item, a.spare).cmp(&(b.kind, &b.item, b.spare)));
    for (line, number) in lines.iter_mut().zip(1..) {
        line.number = number;
    }
}

/// The cutting list of the workshop.
fn cuts(cuttings: &[&Cutting], lines: &[Line], pricing: &Pricing) -> Vec<CutStock> {
    let listed = cuttings
        .iter()
        .filter(|cutting| stock::listed(cutting.offer.kind));
    let mut cuts: Vec<CutStock> = listed.flat_map(|cutting| cutting.cuts.clone()).collect();
    for cut in &mut cuts {
        let least = pricing.keep_offcut.get(&cut.kind);
        cut.kept = least.map(|least| cut.offcut >= *least);
    }
    for line in lines.iter().filter(|line| line.is_there_already()) {
        keep_spare(&mut cuts, line);
    }
    cuts.sort_by(|a, b| (a.kind, &a.item, a.number).cmp(&(b.kind, &b.item, b.number)));
    cuts
}

/// Keeps the longest offcuts of an item that hold its spares, however short.
fn keep_spare(cuts: &mut [CutStock], spare: &Line) {
    if spare.measured != Measured::Metre {
        return;
    }
    let mut own: Vec<&mut CutStock> = cuts
        .iter_mut()
        .filter(|cut| cut.item == spare.item)
        .collect();
    own.sort_by(|a, b| b.offcut.value.total_cmp(&a.offcut.value));
    let mut wanted = spare.needed;
    for cut in own {
        if wanted <= Decimal::ZERO {
            return;
        }
        wanted -= exact_metres(cut.offcut);
        cut.kept = Some(true);
    }
}

/// The longest lead time of what is bought, with the item that has it; the first line among equals.
fn longest_lead_time(lines: &[Line]) -> Option<(u32, String)> {
    let mut longest: Option<(u32, String)> = None;
    for line in lines {
        let Some(days) = line.lead_time_days else {
            continue;
        };
        if longest.as_ref().is_none_or(|(known, _)| days > *known) {
            longest = Some((days, line.item.clone()));
        }
    }
    longest
}
