//! Site readings as a document: cautions first, then what is outside its band and why it may be,
//! then what is as expected.

use super::list::title_block;
use super::site_tests::expected;
use super::{Cell, Column, Document, Part, Table};
use crate::model::reading::Found;
use crate::present::cautions;
use crate::present::counts::counted;
use crate::present::readings::bus::BusFinding;
use crate::present::readings::section::SectionFinding;
use crate::present::readings::{Compared, Row, Verdict, words};
use crate::quantity::figure::{Figure, Unit};
use crate::solve::diagnose::{Cause, Diagnosis};

/// Causes that are listed of each section; more where more are not told apart.
const LISTED: usize = 3;

/// The document.
#[must_use]
pub fn document(compared: &Compared) -> Document {
    let job = compared.job;
    let before = cautions::before_measuring(job.project.region);
    let mut parts = vec![Part::prose("Before you measure", before), summary(compared)];
    let of = |verdict| {
        compared
            .rows
            .iter()
            .filter(move |row| row.verdict == verdict)
    };
    parts.extend(table("Outside the band", of(Verdict::Outside)));
    parts.extend(compared.sections.iter().map(causes));
    parts.extend(compared.loops.iter().map(bus));
    let rest = [
        (Verdict::CannotTell, "Cannot tell"),
        (Verdict::Within, "Within the band"),
    ];
    for (verdict, heading) in rest {
        parts.extend(table(heading, of(verdict)));
    }
    Document {
        name: "readings",
        title: "Site readings".to_owned(),
        block: title_block(&job.project),
        currency: job.quote.currency.clone(),
        decimals: job.quote.decimals,
        inside: false,
        parts,
        cautions: cautions::on_sheets(job),
    }
}

fn summary(compared: &Compared) -> Part {
    let outside = compared.count(Verdict::Outside);
    let cannot = compared.count(Verdict::CannotTell);
    let mut text = format!(
        "{} read: {} within, {outside} outside, {cannot} that can't be told; {} on the test sheet \
         not read.",
        counted(compared.rows.len(), "test"),
        compared.count(Verdict::Within),
        counted(compared.not_read, "test"),
    );
    if outside == 0 && !compared.loops.is_empty() {
        text.push_str(" Readings of a loop don't agree with each other.");
    }
    Part::prose("", vec![text])
}

fn table<'a>(heading: &str, rows: impl Iterator<Item = &'a Row>) -> Option<Part> {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::text("test", "Test"),
        Column::text("stage", "Stage").data_only(),
        Column::text("place", "At").data_only(),
        Column::text("subject", "Of").when_wide(),
        Column::long_text("what", "Measured").when_wide(),
        Column::number("expected", "Expected"),
        Column::number("low", "Least"),
        Column::number("high", "Most"),
        Column::number("reading", "Read"),
        Column::text("unit", "Unit").data_only(),
        Column::text("verdict", "Band").data_only(),
        Column::text("given_at", "Written at").data_only(),
    ]);
    for row in rows {
        let [value, low, high, unit] = expected(&row.test.expected);
        table.row(vec![
            row.number.map_or(Cell::Empty, Cell::count),
            Cell::text(&row.test.id),
            Cell::text(row.test.stage.name()),
            Cell::text(&row.test.place),
            Cell::text(&row.test.subject),
            Cell::text(&row.test.what),
            value,
            low,
            high,
            found(row),
            unit,
            Cell::text(row.verdict.name()),
            Cell::text(row.given.place.to_string()),
        ]);
    }
    (!table.rows.is_empty()).then(|| Part::table("readings", heading, table))
}

/// What was read, as it is printed.
fn found(row: &Row) -> Cell {
    use super::site_tests::Expected;
    let unit = match &row.test.expected {
        Expected::Reading { unit, .. } => *unit,
        _ => row.test.instrument.unit(),
    };
    let none = row.test.expected == Expected::Finding("none");
    match row.given.found {
        Found::Number(value) => Cell::figure(value, unit),
        Found::MoreThan(value) if value.is_finite() => {
            Cell::text(format!("> {}", Figure::new(value, unit)))
        }
        Found::MoreThan(_) => Cell::text("open"),
        Found::Yes => Cell::text(if none { "some" } else { "yes" }),
        Found::No => Cell::text(if none { "none" } else { "no" }),
    }
}

fn cause_columns() -> Table {
    Table::new(vec![
        Column::number("cause", "No"),
        Column::text("run", "Run").data_only(),
        Column::text("section", "Section").data_only(),
        Column::long_text("what", "May be"),
        Column::text("where", "Where"),
        Column::text("about", "About"),
        Column::number("misfit", "Misfit"),
        Column::text("fits", "Explains all"),
        Column::long_text("check", "Check first"),
    ])
}

/// What may be wrong with a section.
fn causes(finding: &SectionFinding) -> Part {
    let heading = format!(
        "What may be wrong: {}{}",
        finding.run.run.name,
        if finding.run.sections.len() > 1 {
            format!(", section {}", finding.number)
        } else {
            String::new()
        }
    );
    let Some(diagnosis) = &finding.diagnosis else {
        let why = "Nothing more can be told: the section has no working point as sized, or nothing \
                   was read on it but what is open.";
        return Part::prose(heading, vec![why.to_owned()]);
    };
    let mut table = cause_columns();
    let shown = LISTED.max(diagnosis.alike);
    for (number, cause) in (1..).zip(diagnosis.causes.iter().take(shown)) {
        table.row(vec![
            Cell::count(number),
            Cell::text(&finding.run.run.name),
            Cell::count(finding.number),
            Cell::text(cause.fault.name),
            Cell::text(words::place(finding, cause)),
            Cell::text(words::number(cause).unwrap_or_default()),
            misfit(cause),
            Cell::text(if cause.fits { "yes" } else { "no" }),
            Cell::text(cause.fault.check),
        ]);
    }
    let mut part = Part::table("causes", heading, table);
    part.block_head = 3;
    part.text = told(finding, diagnosis);
    part.notes = notes(finding);
    part
}

fn misfit(cause: &Cause) -> Cell {
    Cell::figure(cause.misfit, Unit::Plain)
}

/// What the list comes to, in sentences.
#[must_use]
pub fn told(finding: &SectionFinding, diagnosis: &Diagnosis) -> Vec<String> {
    let readings = counted(diagnosis.readings, "reading");
    let Some(first) = diagnosis.causes.first() else {
        return vec!["No single fault that is tried bears on these readings.".to_owned()];
    };
    let mut text = Vec::new();
    let at = words::place(finding, first);
    if !first.fits {
        text.push(format!(
            "No single fault that is tried explains {readings} together: more than one is at \
             work, or a reading is wrong. Read again what is outside before anything is changed."
        ));
    } else if diagnosis.alike < 2 {
        text.push(format!(
            "Check first: {}, {at}. It explains {readings} best, and no other single fault does so as \
             well.",
            first.fault.name
        ));
    } else {
        text.push(format!(
            "Causes 1 to {} are not told apart by {readings}. Check first: {}, {at}.",
            diagnosis.alike, first.fault.name
        ));
        text.push(match &diagnosis.further {
            Some(further) => format!(
                "Read next: {}. With cause 1 it is about {}, with cause {} about {}.",
                words::quantity(finding, further.quantity),
                words::value(further.quantity, further.first),
                further.other + 1,
                words::value(further.quantity, further.second),
            ),
            None => {
                "No reading with these instruments tells them apart: look at each place.".to_owned()
            }
        });
    }
    text
}

fn notes(finding: &SectionFinding) -> Vec<String> {
    let mut notes = vec![
        "Misfit is χ²: squared distance of the readings from what the cause would give, weighed by \
         what strip power, supply, cable length, copper's temperature and the meters may differ by; \
         about the number of readings when all is explained."
            .to_owned(),
    ];
    if let Some(assumed) = &finding.run.light_assumed {
        notes.push(format!(
            "What is expected here rests on an assumption: {}.",
            assumed.statement
        ));
    }
    notes
}

/// What may be wrong with a loop.
fn bus(finding: &BusFinding) -> Part {
    let mut table = Table::new(vec![
        Column::number("cause", "No"),
        Column::text("loop", "Loop").data_only(),
        Column::long_text("what", "May be"),
        Column::long_text("check", "Check first"),
    ]);
    for (number, cause) in (1..).zip(&finding.causes) {
        let (what, check) = words::bus(cause);
        table.row(vec![
            Cell::count(number),
            Cell::text(&finding.name),
            Cell::text(what),
            Cell::text(check),
        ]);
    }
    let heading = format!("What may be wrong: loop {}", finding.name);
    let mut part = Part::table("bus-causes", heading, table);
    part.block_head = 2;
    if let (Some(supply), Some(far)) = (finding.supply, finding.far) {
        let shown = |volts| Figure::new(crate::present::measured::volts(volts), Unit::Volt);
        part.text.push(format!(
            "{} at the supply and {} at {}: {} lost on the way, {} expected with all units drawing.",
            shown(supply),
            shown(far),
            finding.unit,
            shown(supply - far),
            shown(finding.expected_lost),
        ));
    }
    part
}
