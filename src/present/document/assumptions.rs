//! What was assumed, and what the price leaves out.

use super::quote::amount;
use super::{Cell, Column, Part, Table, terms};
use crate::present::job::Job;
use crate::price::priced::Stake;

/// What quotations of this work usually leave out (common practice, no source).
const USUAL_EXCLUSIONS: &str = "The project lists no exclusions: everything is taken to be in the \
    price. Usually left out are making good, builder's work, scaffolding and access, fire \
    stopping, upgrades of the supply, attendance on others, and carting waste away; name them \
    under `exclusions`.";

/// The parts: assumptions, then exclusions.
pub(super) fn parts(job: &Job) -> Vec<Part> {
    vec![assumptions(job), exclusions(job)]
}

fn assumptions(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::text("subject", "Of"),
        Column::long_text("statement", "Assumed"),
        Column::long_text("missing", "Because this is missing"),
        Column::long_text("supplied_by", "Who can supply it"),
        Column::text("lines", "Lines that rest on it"),
        Column::long_text("otherwise", "If it turns out otherwise"),
        Column::number("otherwise_difference", "Difference then").data_only(),
    ]);
    let stakes = job.quote.stakes.iter();
    let both = job.quote.assumptions.iter().zip(stakes);
    for (index, (assumption, stake)) in both.enumerate() {
        let lines: Vec<String> = stake.lines.iter().map(ToString::to_string).collect();
        let (words, difference) = otherwise(job, stake);
        table.row(vec![
            Cell::count(index + 1),
            Cell::text(&assumption.subject),
            Cell::text(&assumption.statement),
            Cell::text(&assumption.missing),
            Cell::text(&assumption.supplied_by),
            Cell::text(match lines.as_slice() {
                [] => match assumption.subject.strip_prefix("trade ") {
                    Some(trade) => format!("labour: {trade}"),
                    None => "the job as a whole".to_owned(),
                },
                lines => lines.join(", "),
            }),
            Cell::text(words),
            difference,
        ]);
    }
    let mut part = Part::table("assumptions", "Assumptions", table);
    part.block_head = 2;
    part.notes.push(
        if job.quote.assumptions.is_empty() {
            "Nothing was assumed: the files give every figure that was needed."
        } else {
            "Otherwise: the whole job sized and priced again, where the other way can be computed."
        }
        .to_owned(),
    );
    part
}

/// The other way with what it costs, in words, and that difference by itself.
fn otherwise(job: &Job, stake: &Stake) -> (String, Cell) {
    let Some(other) = &stake.otherwise else {
        let words =
            "not computed: the other way can be anything; size the job again when it is known";
        return (words.to_owned(), Cell::Empty);
    };
    let words = &other.words;
    let reckoned = match &other.outcome {
        Ok(reckoned) => reckoned,
        Err(why) => return (format!("{words}: can't be sized then: {why}"), Cell::Empty),
    };
    let amount = amount(job, reckoned.difference.abs());
    let change = match reckoned.difference {
        none if none.is_zero() => "no difference of price".to_owned(),
        less if less.is_sign_negative() => format!("{amount} less, net"),
        _ => format!("{amount} more, net"),
    };
    let remarks = match terms::remarks(reckoned).as_str() {
        "" => String::new(),
        remarks => format!("; {remarks}"),
    };
    let words = format!("{words}: {change}{remarks}");
    (words, Cell::Money(reckoned.difference))
}

fn exclusions(job: &Job) -> Part {
    let mut table = Table::new(vec![
        Column::number("number", "No"),
        Column::long_text("exclusion", "Not in the price"),
    ]);
    for (index, exclusion) in job.quote.exclusions.iter().enumerate() {
        table.row(vec![Cell::count(index + 1), Cell::text(exclusion)]);
    }
    let mut part = Part::table("exclusions", "Exclusions", table);
    if job.quote.exclusions.is_empty() {
        part.notes.push(USUAL_EXCLUSIONS.to_owned());
    }
    part
}
