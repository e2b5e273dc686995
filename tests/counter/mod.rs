//! A small job to price, the same for all tests of pricing: invented, with few and round figures, so
//! that a quotation of it can be followed with a calculator.

use serde_json::Value;
use std::path::Path;
use std::process::Command;
use tempfile::TempDir;

const CATALOGUE: &str = "
format: 1
catalogue: {title: Counter, currency: EUR, price_valid_until: 2026-12-31, supplier: counter}
strips:
  - {strip: plain, kind: single colour, voltage: 24 V, power: 4.8 W/m, flux: 400 lm/m, white: 3000 K,
     cut: 50 mm, light_source: resistor, light_starts_at: 16.8 V, joints: yes,
     rails: {common: 0.004 ohm/m, return: 0.004 ohm/m}, STRIP}
drivers:
  - {driver: d100, output: {voltage: 24 V, power: 100 W, channels: 1, current_per_channel: 4.2 A},
     bus: {addresses: 1, current: 2 mA, colour: single}, terminals: {largest: 2.5 mm²},
     mains: {current: 0.30 A, most_per_b16: 28, earth_leakage: 0.4 mA}, ambient: {most: 50 °C},
     safety: [SELV], labour: 25 min, DRIVER}
  - {driver: d30, output: {voltage: 24 V, power: 30 W, channels: 1, current_per_channel: 1.25 A},
     bus: {addresses: 1, current: 2 mA, colour: single}, terminals: {largest: 2.5 mm²},
     mains: {current: 0.20 A, most_per_b16: 40, earth_leakage: 0.3 mA}, ambient: {most: 50 °C},
     safety: [SELV], labour: 25 min, price: 60.00}
cables:
  - {cable: c2, use: strip feed, cores: 2, size: 2.5 mm², conductor: class 5, insulation: 70 °C, CABLE}
MORE
";

const PROJECT: &str = "
format: 1
project: {title: Counter, date: 2026-11-20}
region: iec
catalogues: [catalogue.yaml]
supply: {voltage: 230 V}
points:
  - {point: panel, kind: panel}
  - {point: cupboard, kind: cupboard, ambient: 25 °C}
  - {point: room, kind: room}
routes:
  - {from: panel, to: cupboard, length: 5 m}
  - {from: cupboard, to: room, length: 5 m}
runs:
RUNS
pricing: {PRICING}
";

/// What differs from one job to the next, as the files have it.
pub struct Counter<'a> {
    /// Keys of the strip.
    pub strip: &'a str,
    /// Keys of the driver.
    pub driver: &'a str,
    /// Keys of the cable.
    pub cable: &'a str,
    /// More blocks of the catalogue.
    pub more: &'a str,
    /// Runs, a line each.
    pub runs: String,
    /// Keys of the pricing.
    pub pricing: &'a str,
}

impl Default for Counter<'_> {
    fn default() -> Self {
        Counter {
            strip: "reels: [{length: 5 m, price: 40.00}]",
            driver: "price: 41.50",
            cable: "price: 1.00, labour: 6 min",
            more: "",
            runs: run("shelf", "5 m", "feed: start"),
            pricing: "labour_rate: 42.00",
        }
    }
}

/// A run with 4 m of cable to either end.
pub fn run(name: &str, length: &str, feed: &str) -> String {
    format!(
        "  - {{run: {name}, room: room, strip: plain, length: {length}, cupboard: cupboard, to_start: 4 m, \
         to_end: 4 m, {feed}}}\n"
    )
}

/// So many runs of that length, fed at their start.
pub fn shelves(count: usize, length: &str) -> String {
    (1..=count)
        .map(|number| run(&format!("shelf-{number}"), length, "feed: start"))
        .collect()
}

/// Runs the program on the job in a folder.
pub fn program(folder: &Path, arguments: &[&str]) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(arguments)
        .current_dir(folder)
        .env("LC_ALL", "C.UTF-8")
        .env("COLUMNS", "140")
        .output()
        .expect("the program runs");
    let error = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.code().is_some_and(|code| code < 2), "{error}");
    String::from_utf8(output.stdout).expect("text")
}

impl Counter<'_> {
    /// The files in a folder.
    pub fn folder(&self) -> TempDir {
        let folder = tempfile::tempdir().expect("a folder");
        let catalogue = CATALOGUE
            .replace("STRIP", self.strip)
            .replace("DRIVER", self.driver)
            .replace("CABLE", self.cable)
            .replace("MORE", self.more);
        let project = PROJECT
            .replace("RUNS", &self.runs)
            .replace("PRICING", self.pricing);
        std::fs::write(folder.path().join("catalogue.yaml"), catalogue).expect("written");
        std::fs::write(folder.path().join("project.yaml"), project).expect("written");
        folder
    }

    /// Its quotation.
    pub fn quote(&self) -> Value {
        let folder = self.folder();
        let text = program(
            folder.path(),
            &["quote", "project.yaml", "--format", "json", "--quiet"],
        );
        serde_json::from_str(&text).expect("JSON")
    }
}

/// The first line of an item.
pub fn line<'a>(quote: &'a Value, item: &str) -> &'a Value {
    let lines = quote["lines"].as_array().expect("lines");
    lines.iter().find(|line| line["item"] == item).expect(item)
}
