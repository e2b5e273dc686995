//! What a quotation is held to: validity, options, assumptions with what they cost, and what it has
//! no price for. Each is tried on the demo, changed.

use rust_decimal::Decimal;
use serde_json::Value;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

fn examples() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples")
}

fn read(name: &str) -> String {
    std::fs::read_to_string(examples().join(name)).expect(name)
}

/// The demo with pieces of its project and of its catalogue replaced.
fn folder(project: &[(&str, &str)], catalogue: &[(&str, &str)]) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let files = [
        ("millrace-library.yaml", "project.yaml", project),
        ("trade.yaml", "trade.yaml", catalogue),
    ];
    for (from, to, changes) in files {
        let mut text = read(from);
        for (old, new) in changes {
            assert!(text.contains(old), "{old}");
            text = text.replace(old, new);
        }
        std::fs::write(folder.path().join(to), text).expect("written");
    }
    folder
}

fn run(folder: &TempDir, arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(arguments)
        .current_dir(folder.path())
        .env("COLUMNS", "100")
        .env("LC_ALL", "C.UTF-8")
        .output()
        .expect("the program runs")
}

fn quote(folder: &TempDir) -> Value {
    let output = run(folder, &["quote", "project.yaml", "--format", "json"]);
    let error = String::from_utf8_lossy(&output.stderr);
    serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{error}"))
}

fn said(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

fn amount(value: &Value) -> Decimal {
    let text = value
        .as_str()
        .unwrap_or_else(|| panic!("{value} is no amount"));
    text.parse().expect("a decimal")
}

/// An option comes to what the project comes to when it is written so itself.
#[test]
fn an_option_costs_what_the_project_costs_when_it_is_taken() {
    let demo = quote(&folder(&[], &[]));
    let taken = quote(&folder(&[("light_drop: 10 %", "light_drop: 20 %")], &[]));
    let options = demo["options"].as_array().expect("options");
    let softer = options.iter().find(|it| it["option"] == "softer");
    let outcome = &softer.expect("the option")["outcome"];
    assert_eq!(outcome["net"], taken["totals"]["net"]);
    assert_eq!(outcome["gross"], taken["totals"]["gross"]);
    let difference = amount(&taken["totals"]["net"]) - amount(&demo["totals"]["net"]);
    assert_eq!(amount(&outcome["difference"]), difference);
    for option in options {
        assert!(option["outcome"].is_object(), "{option}");
    }
}

#[test]
fn an_option_that_differs_in_nothing_or_names_nothing_is_refused() {
    let option = "{option: softer, title: Light limit 20 %, limits: {light_drop: 20 %}}";
    for (bad, word) in [
        ("{option: softer}", "differs in nothing"),
        ("{option: softer, without_rooms: [stack]}", "stacks"),
        (
            "{option: softer, without_items: [shelf-24-7]}",
            "is a strip",
        ),
        (
            "{option: softer, without_items: [pair-24]}",
            "in no catalogue",
        ),
        (
            "{option: strip-dearer, limits: {light_drop: 20 %}}",
            "strip-dearer",
        ),
    ] {
        let output = run(&folder(&[(option, bad)], &[]), &["quote", "project.yaml"]);
        assert_eq!(output.status.code(), Some(2), "{bad}");
        assert!(output.stdout.is_empty());
        assert!(said(&output).contains(word), "{bad}: {}", said(&output));
    }
}

#[test]
fn an_option_without_any_run_says_so() {
    let all = "without_rooms: [reading-hall, foyer, stair, stacks, archive, facade]";
    let folder = folder(&[("without_rooms: [stacks]", all)], &[]);
    let quote = quote(&folder);
    let options = quote["options"].as_array().expect("options");
    let none = options.iter().find(|it| it["option"] == "without-stacks");
    let none = none.expect("the option");
    assert_eq!(none["outcome"], Value::Null);
    assert_eq!(none["why_not"], "no run is left");
}

/// Where nothing is said of how a driver mixes its whites, what that is worth is told: with them sharing
/// its power it is the demo, whose drivers do.
#[test]
fn how_whites_are_mixed_is_priced_the_other_way() {
    let shared = quote(&folder(&[], &[]));
    let mut used = 0;
    for (id, output) in [
        (
            "pair-60",
            "power: 60 W, channels: 2, current_per_channel: 2.5 A",
        ),
        (
            "pair-120",
            "power: 120 W, channels: 2, current_per_channel: 5 A",
        ),
        (
            "pair-240",
            "power: 240 W, channels: 2, current_per_channel: 10 A",
        ),
    ] {
        let said = format!("{output}, mixing: shared");
        let silent = quote(&folder(&[], &[(&said, output)]));
        let all = silent["assumptions"].as_array().expect("a list");
        let about = format!("`mixing` in driver `{id}`");
        for told in all.iter().filter(|it| it["missing"] == about.as_str()) {
            assert_eq!(told["otherwise"], "its whites share one output's power");
            let outcome = &told["otherwise_outcome"];
            assert_eq!(outcome["net"], shared["totals"]["net"], "{id}");
            used += 1;
        }
    }
    assert!(used > 0, "no driver of the demo mixes whites");
}

/// Without the sheet's figure a driver and a sensor draw 2 mA, which is told of each item once.
#[test]
fn bus_currents_that_no_sheet_gives_are_told() {
    let silent = folder(
        &[],
        &[
            (
                "bus: {addresses: 1, current: 2 mA, ",
                "bus: {addresses: 1, ",
            ),
            (
                "addresses: 1, current: 6 mA, insulation",
                "addresses: 1, insulation",
            ),
        ],
    );
    let quote = quote(&silent);
    let all = quote["assumptions"].as_array().expect("a list");
    let of_bus = all.iter().filter(|it| {
        it["statement"]
            .to_string()
            .contains("draws 2 mA from the bus")
    });
    let told: Vec<&str> = of_bus.filter_map(|it| it["missing"].as_str()).collect();
    let sensor = "`current` in control device ceiling-sensor";
    assert_eq!(
        told.iter().filter(|it| **it == sensor).count(),
        1,
        "{told:?}"
    );
    let drivers: Vec<&&str> = told
        .iter()
        .filter(|it| it.starts_with("`bus.current` in driver "))
        .collect();
    assert!(
        drivers.len() > 1 && drivers.len() + 1 == told.len(),
        "{told:?}"
    );
    let mut once = drivers.clone();
    once.dedup();
    assert_eq!(once, drivers);
}

/// The rails' resistance is taken out of the datasheet: the assumption names the lines that rest on
/// it, and what rails of half the resistance would save is what they save when they are written in.
#[test]
fn an_assumption_is_priced_the_other_way() {
    let known = "    rails: {common: 0.060 ohm/m, return: 0.060 ohm/m}\n";
    let silent = quote(&folder(&[], &[(known, "")]));
    let assumptions = silent["assumptions"].as_array().expect("assumptions");
    let of_strip = |it: &&Value| {
        it["subject"] == "strip stair-24-5" && it["missing"].to_string().contains("rails")
    };
    let assumption = assumptions.iter().find(of_strip).expect("the assumption");
    let lines = silent["lines"].as_array().expect("lines");
    let numbers = assumption["lines"].as_array().expect("numbers");
    for line in lines.iter().filter(|line| line["item"] == "stair-24-5") {
        assert!(numbers.contains(&line["line"]), "{line}");
    }
    // The poorest common value is 0.25 Ω/m.
    let half = "    rails: {common: 0.125 ohm/m, return: 0.125 ohm/m}\n";
    let written = quote(&folder(&[], &[(known, half)]));
    let outcome = &assumption["otherwise_outcome"];
    assert_eq!(outcome["net"], written["totals"]["net"]);
}

#[test]
fn validity_is_counted_from_the_date_and_prices_that_lapse_before_are_told() {
    let print = |folder: &TempDir| {
        let output = run(folder, &["quote", "project.yaml"]);
        String::from_utf8_lossy(&output.stdout).into_owned()
    };
    assert!(print(&folder(&[], &[])).contains("Valid until 20 Dec 2026."));
    let long = folder(&[("valid_for: 30 days", "valid_until: 2027-06-30")], &[]);
    assert!(print(&long).contains("of the suppliers lapse before"));
    for (bad, word) in [
        (
            "valid_for: 30 days\n  valid_until: 2027-01-01",
            "give one of them",
        ),
        ("valid_until: 2026-01-01", "before the project's date"),
    ] {
        let output = run(
            &folder(&[("valid_for: 30 days", bad)], &[]),
            &["quote", "project.yaml"],
        );
        assert_eq!(output.status.code(), Some(2), "{bad}");
        assert!(said(&output).contains(word), "{bad}: {}", said(&output));
    }
    let dateless = folder(&[("  date: 2026-11-20\n", "")], &[]);
    let output = run(&dateless, &["quote", "project.yaml"]);
    assert!(said(&output).contains("valid_for"), "{}", said(&output));
}

#[test]
fn a_missing_price_is_listed_and_every_total_says_that_it_lacks_it() {
    let folder = folder(&[], &[(", price: 57.50}", "}")]);
    let output = run(&folder, &["quote", "project.yaml"]);
    let text = String::from_utf8_lossy(&output.stdout);
    for wanted in [
        "Not the whole price: 1 line without a price is in no total.",
        "Net, without 1 line",
        "Total, without 1 line",
        "Materials, without 1 line",
        "Not priced, and in no total",
    ] {
        assert!(text.contains(wanted), "{wanted}: {text}");
    }
    for wanted in ["VAT 20 %, without 1 line", "Net price (was without 1 line)"] {
        let documents: [&[&str]; 2] = [
            &["quote", "project.yaml", "--quiet"],
            &["compare", "project.yaml", "priced.yaml", "--quiet"],
        ];
        let priced = read("trade.yaml");
        std::fs::write(folder.path().join("other.yaml"), priced).expect("written");
        let project = read("millrace-library.yaml").replace("[trade.yaml]", "[other.yaml]");
        std::fs::write(folder.path().join("priced.yaml"), project).expect("written");
        let texts = documents.map(|arguments| {
            let output = run(&folder, arguments);
            // Labels go over several lines.
            let text = String::from_utf8_lossy(&output.stdout).into_owned();
            let words: Vec<&str> = text.split_whitespace().collect();
            words.join(" ")
        });
        assert!(
            texts.iter().any(|text| text.contains(wanted)),
            "{wanted}: {texts:?}"
        );
    }
}

/// Writes documents of the project into `out`.
fn report(folder: &TempDir, only: &str) {
    let flags = [
        "report",
        "project.yaml",
        "--out",
        "out",
        "--only",
        only,
        "--quiet",
    ];
    let output = run(folder, &flags);
    assert!(
        output.status.code().is_some_and(|code| code < 2),
        "{}",
        said(&output)
    );
}

/// Every amount that a line without a price is not in says so, in the files that a firm keeps.
#[test]
fn every_total_of_the_costs_says_what_it_lacks() {
    let folder = folder(
        &[("  labour_rate: 42.00\n", "")],
        &[(", price: 57.50}", "}")],
    );
    report(&folder, "materials,summary,order-list");
    // Files of data hold no totals: the pages do.
    let page = |name: &str| {
        std::fs::read_to_string(folder.path().join(format!("out/{name}.html"))).expect(name)
    };
    let costs = page("materials") + &page("order-list");
    let summary = page("summary");
    let quote = quote(&folder);
    let work = quote["totals"]["work_without_price"].as_u64();
    let work = work.expect("a count");
    assert!(work > 1);
    let both = format!("without {} lines", work + 1);
    for start in [
        "Overhead",
        "Contingency",
        "Margin, of the price",
        "Net",
        "VAT 20 %",
        "Total",
    ] {
        assert!(costs.contains(&format!("{start}, {both}")), "{start}");
    }
    for total in [
        "Cost of materials, without 1 line".to_owned(),
        format!("Cost of labour, without {work} lines"),
        "Materials, without 1 line".to_owned(),
        format!("Labour, without {work} lines"),
        "All lines, without 1 line".to_owned(),
    ] {
        assert!(costs.contains(&total), "{total}");
    }
    for total in ["Net price, EUR, ", "Total price, EUR, "] {
        assert!(summary.contains(&format!("{total}{both}")), "{total}");
    }
}

/// Spares that are there already have no price of one, and nothing about them is unknown.
#[test]
fn spares_out_of_offcuts_cost_nothing_and_nothing_of_them_is_unknown() {
    let folder = folder(&[], &[]);
    report(&folder, "materials");
    let path = folder.path().join("out/materials.csv");
    let mut rows = csv::Reader::from_path(path).expect("a table");
    let headings = rows.headers().expect("headings").clone();
    let at = |key: &str| headings.iter().position(|it| it == key).expect(key);
    let mut found = 0;
    for row in rows.records() {
        let row = row.expect("a row");
        if row[at("description")].contains("out of the offcuts") {
            found += 1;
            assert_eq!(
                (&row[at("unit_cost")], &row[at("cost")]),
                ("", "0.00"),
                "{row:?}"
            );
            assert_eq!(&row[at("notes")], "", "{row:?}");
        }
    }
    assert!(found > 0);
}

#[test]
fn commissioning_and_provisional_sums_that_say_nothing_are_refused() {
    for (bad, word) in [
        ("commissioning: {rate: 50.00}", "prices nothing"),
        ("provisional_sums: [{sum: lighting}]", "amount"),
        ("commissioning: {devices: 3 min}", "device"),
    ] {
        let present = match bad.starts_with("commissioning") {
            true => {
                "commissioning: {device: 4 min, loop: 45 min, circuit: 20 min, scene: 15 min, rate: 48.00}"
            }
            false => {
                "provisional_sums:\n    - {sum: temporary light while the reading hall is closed, amount: 650.00}"
            }
        };
        let output = run(&folder(&[(present, bad)], &[]), &["quote", "project.yaml"]);
        assert_eq!(output.status.code(), Some(2), "{bad}");
        assert!(said(&output).contains(word), "{bad}: {}", said(&output));
    }
}

#[test]
fn hours_are_summed_by_trade_and_a_kind_has_one_trade() {
    let quote = quote(&folder(&[], &[]));
    let labour = quote["labour"].as_array().expect("labour");
    for line in labour {
        let rate = match line["trade"].as_str() {
            Some("electrician") => Decimal::from(46),
            Some("lighting fitter") => Decimal::from(42),
            other => panic!("{other:?}"),
        };
        let cost = amount(&line["hours"]) * rate;
        assert_eq!(amount(&line["cost"]), cost.round_dp(2), "{line}");
    }
    let twice = folder(
        &[("fits: [strip, profile", "fits: [strip, driver, profile")],
        &[],
    );
    let output = run(&twice, &["quote", "project.yaml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(said(&output).contains("fitted by trade `electrician` already"));
}

#[test]
fn margin_and_markup_together_are_refused() {
    let both = folder(&[("margin: 22 %", "margin: 22 %\n  markup: 20 %")], &[]);
    let output = run(&both, &["quote", "project.yaml"]);
    assert_eq!(output.status.code(), Some(2));
    assert!(
        said(&output).contains("give one of them"),
        "{}",
        said(&output)
    );
}

/// Cuts follow one another on their reel, on its marks, and offcuts are kept from the length that
/// the project sets.
#[test]
fn cuts_are_on_marks_and_offcuts_are_kept_or_not() {
    let quote = quote(&folder(&[], &[]));
    for cut in quote["cuts"].as_array().expect("cuts") {
        let number = |value: &Value| value.as_f64().expect("a number");
        let mut place = 0.0;
        for piece in cut["pieces"].as_array().expect("pieces") {
            assert!(number(&piece["from_mm"]) >= place, "{cut}");
            let length = number(&piece["to_mm"]) - number(&piece["from_mm"]);
            assert!((length - number(&piece["length_mm"])).abs() < 1e-6, "{cut}");
            place = number(&piece["to_mm"]);
            if let Some(mark) = cut["mark_mm"].as_f64() {
                let marks = place / mark;
                assert!((marks - marks.round()).abs() < 1e-6, "{cut}");
            }
        }
        assert!(place <= number(&cut["stock_mm"]), "{cut}");
        let least = if cut["kind"] == "strip" {
            1000.0
        } else {
            300.0
        };
        let kept = number(&cut["offcut_mm"]) >= least;
        assert_eq!(cut["offcut_kept"], Value::Bool(kept), "{cut}");
    }
}
