//! The issued record: a job as it would be issued, and the file that holds it.

use super::job::Job;
use crate::allocate::issued::snapshot;
use crate::judge::Counts;
use crate::load::format::FORMAT;
use crate::load::issued::guarded;
use crate::model::issued::{
    IssuedCable, IssuedCircuit, IssuedDriver, IssuedLoop, IssuedMember, IssuedNumber, IssuedRun,
    IssuedSection, PriceLine, Prices, Record,
};
use crate::price::priced::{LabourLine, Quote};
use crate::quantity::Length;
use rust_decimal::Decimal;
use uom::si::length::meter;

/// What would be issued of a job.
#[must_use]
pub fn record(job: &Job) -> Record {
    let allocation = &job.allocation;
    let (loops, circuits) = (&allocation.loops, &allocation.circuits);
    let mut record = snapshot(&job.project, &job.sizing, loops, circuits);
    record.faults = Counts::of(&job.verdicts).broken_faults;
    record.prices = prices(&job.quote);
    record
}

/// Selling prices of a quote, line by line.
fn prices(quote: &Quote) -> Prices {
    let materials = quote.lines.iter().map(|line| PriceLine {
        item: match line.spare {
            true => format!("{} (spare)", line.item),
            false => line.item.clone(),
        },
        description: line.description.clone(),
        quantity: line.bought.normalize(),
        price: line.sell,
    });
    let work = |item: &'static str| {
        move |line: &LabourLine| PriceLine {
            item: item.to_owned(),
            description: line.work.clone(),
            quantity: line.hours.round_dp(4).normalize(),
            price: line.sell,
        }
    };
    let labour = quote.labour.iter().map(work("labour"));
    let commissioning = quote.commissioning.iter().map(work("commissioning"));
    let sums = quote.provisional.iter().map(|sum| PriceLine {
        item: "provisional sum".to_owned(),
        description: sum.what.clone(),
        quantity: Decimal::ONE,
        price: Some(sum.sell),
    });
    Prices {
        currency: quote.currency.clone(),
        lines: materials
            .chain(labour)
            .chain(commissioning)
            .chain(sums)
            .collect(),
        net: quote.totals.net,
    }
}

/// The text of a record's file, its guard included.
#[must_use]
pub fn text(record: &Record) -> String {
    guarded(&body(record))
}

/// Whether two records say the same of the same revision, whatever files they were made from and
/// whichever issue they are.
#[must_use]
pub fn same(one: &Record, other: &Record) -> bool {
    let plain = |record: &Record| {
        body(&Record {
            number: 0,
            inputs: String::new(),
            highest: Default::default(),
            ..record.clone()
        })
    };
    plain(one) == plain(other)
}

fn body(record: &Record) -> String {
    let mut text = format!(
        "# Issued record: what was chosen and allocated for {}.\n\
         # Written by `feedpoint issue`; later runs start from it. Not to be changed by hand.\n\
         format: {FORMAT}\nissued:\n",
        one_line(&record.called())
    );
    head(&mut text, record);
    list(&mut text, "runs", &record.runs, run);
    list(&mut text, "drivers", &record.drivers, driver);
    list(&mut text, "cables", &record.cables, cable);
    loops(&mut text, &record.loops);
    list(&mut text, "circuits", &record.circuits, circuit);
    let prices = &record.prices;
    text.push_str("prices:\n");
    entry(&mut text, 2, "currency", &prices.currency);
    entry(&mut text, 2, "net", &prices.net.to_string());
    if !prices.lines.is_empty() {
        text.push_str("  lines:\n");
        for one in &prices.lines {
            text.push_str(&format!("    - {}\n", line(one)));
        }
    }
    text
}

fn head(text: &mut String, record: &Record) {
    entry(text, 2, "project", &quoted(&record.title));
    if let Some(reference) = &record.reference {
        entry(text, 2, "reference", &quoted(reference));
    }
    entry(text, 2, "revision", &quoted(&record.revision));
    if let Some(date) = record.date {
        let day = (date.year(), u8::from(date.month()), date.day());
        entry(
            text,
            2,
            "date",
            &format!("{:04}-{:02}-{:02}", day.0, day.1, day.2),
        );
    }
    entry(text, 2, "number", &record.number.to_string());
    entry(text, 2, "inputs", &quoted(&record.inputs));
    entry(text, 2, "faults", &record.faults.to_string());
    let highest = &record.highest;
    let numbers = Flow::new()
        .count("drivers", highest.drivers)
        .count("cables", highest.cables)
        .count("loops", highest.loops)
        .count("controllers", highest.controllers)
        .count("circuits", highest.circuits);
    entry(text, 2, "highest", &numbers.done());
}

fn entry(text: &mut String, indent: usize, key: &str, value: &str) {
    text.push_str(&format!("{:indent$}{key}: {value}\n", ""));
}

fn list<T>(text: &mut String, key: &str, all: &[T], of: fn(&T) -> String) {
    if all.is_empty() {
        return;
    }
    text.push_str(&format!("{key}:\n"));
    for one in all {
        text.push_str(&format!("  - {}\n", of(one)));
    }
}

fn run(run: &IssuedRun) -> String {
    Flow::new()
        .text("run", &run.run)
        .text("room", &run.room)
        .text("strip", &run.strip)
        .text("group", &run.group)
        .plain("length", &metres(run.length))
        .text("cupboard", &run.cupboard)
        .text("feed", &run.arrangement)
        .plain("sections", &bracketed(run.sections.iter().map(section)))
        .done()
}

fn section(section: &IssuedSection) -> String {
    let driver = Some(&section.driver).filter(|driver| !driver.is_empty());
    let feeds = section.feeds.iter().map(|feed| metres(*feed));
    Flow::new()
        .plain("start", &metres(section.start))
        .plain("length", &metres(section.length))
        .text("cable", &section.cable)
        .maybe("driver", driver)
        .maybe("beside", section.beside.as_ref())
        .count("output", section.output)
        .plain("feeds", &bracketed(feeds))
        .done()
}

fn driver(driver: &IssuedDriver) -> String {
    Flow::new()
        .text("driver", &driver.driver)
        .text("item", &driver.item)
        .text("cupboard", &driver.cupboard)
        .text("group", &driver.group)
        .done()
}

fn cable(cable: &IssuedCable) -> String {
    let driver = Some(&cable.driver).filter(|driver| !driver.is_empty());
    Flow::new()
        .text("cable", &cable.cable)
        .maybe("driver", driver)
        .text("run", &cable.run)
        .count("section", cable.section)
        .count("feed", cable.feed)
        .text("item", &cable.item)
        .plain("length", &metres(cable.length))
        .done()
}

fn loops(text: &mut String, loops: &[IssuedLoop]) {
    if loops.is_empty() {
        return;
    }
    text.push_str("loops:\n");
    for on in loops {
        text.push_str(&format!("  - loop: {}\n", quoted(&on.name)));
        let named = [
            ("controller", on.controller.as_ref()),
            ("controller_item", on.controller_item.as_ref()),
            ("supply", on.supply.as_ref()),
            ("at", Some(&on.at)),
            ("cable", on.cable.as_ref()),
        ];
        for (key, value) in named {
            if let Some(value) = value {
                entry(text, 4, key, &quoted(value));
            }
        }
        entry(text, 4, "port", &on.port.to_string());
        for (key, numbers) in [("groups", &on.groups), ("scenes", &on.scenes)] {
            if !numbers.is_empty() {
                entry(text, 4, key, &bracketed(numbers.iter().map(number)));
            }
        }
        if !on.members.is_empty() {
            text.push_str("    members:\n");
        }
        for one in &on.members {
            text.push_str(&format!("      - {}\n", member(one)));
        }
    }
}

fn number(one: &IssuedNumber) -> String {
    Flow::new()
        .count("number", one.number)
        .text("name", &one.name)
        .done()
}

fn member(member: &IssuedMember) -> String {
    let mut flow = Flow::new().text("device", &member.device);
    if member.control_device {
        flow = flow.plain("control_device", "yes");
    }
    let addresses = member.addresses.iter().map(ToString::to_string);
    flow.plain("addresses", &bracketed(addresses)).done()
}

fn circuit(circuit: &IssuedCircuit) -> String {
    let names = |all: &[String]| bracketed(all.iter().map(|name| quoted(name)));
    Flow::new()
        .text("circuit", &circuit.name)
        .maybe("panel", circuit.panel.as_ref())
        .text("breaker", &circuit.breaker)
        .count("phase", circuit.phase)
        .maybe("cable", circuit.cable.as_ref())
        .plain("drivers", &names(&circuit.drivers))
        .plain("supplies", &names(&circuit.supplies))
        .done()
}

fn line(line: &PriceLine) -> String {
    let price = line.price.as_ref().map(Decimal::to_string);
    let mut flow = Flow::new()
        .text("item", &line.item)
        .text("description", &line.description)
        .plain("quantity", &line.quantity.to_string());
    if let Some(price) = price {
        flow = flow.plain("price", &price);
    }
    flow.done()
}

/// A mapping on one line.
struct Flow {
    parts: Vec<String>,
}

impl Flow {
    fn new() -> Flow {
        Flow { parts: Vec::new() }
    }

    fn plain(mut self, key: &str, value: &str) -> Flow {
        self.parts.push(format!("{key}: {value}"));
        self
    }

    fn text(self, key: &str, value: &str) -> Flow {
        let value = quoted(value);
        self.plain(key, &value)
    }

    fn maybe(self, key: &str, value: Option<&String>) -> Flow {
        match value {
            Some(value) => self.text(key, value),
            None => self,
        }
    }

    fn count(self, key: &str, value: usize) -> Flow {
        self.plain(key, &value.to_string())
    }

    fn done(self) -> String {
        format!("{{{}}}", self.parts.join(", "))
    }
}

fn bracketed(parts: impl Iterator<Item = String>) -> String {
    format!("[{}]", parts.collect::<Vec<_>>().join(", "))
}

/// A length to the micrometre.
fn metres(length: Length) -> String {
    let metres = (length.get::<meter>() * 1e6).round() / 1e6;
    format!("{metres} m")
}

/// Text as YAML reads it back: in quotes unless it is a plain word.
fn quoted(text: &str) -> String {
    let first = text.chars().next();
    let plain = first.is_some_and(|c| c.is_ascii_alphabetic())
        && text
            .chars()
            .all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.'));
    let meant = ["null", "true", "false", "yes", "no", "on", "off", "y", "n"];
    if plain && !meant.contains(&text.to_ascii_lowercase().as_str()) {
        return text.to_owned();
    }
    // JSON's quotes and escapes are YAML's too; a text always has a JSON form.
    serde_json::to_string(text).unwrap_or_default()
}

fn one_line(text: &str) -> String {
    text.chars().filter(|c| !c.is_control()).collect()
}
