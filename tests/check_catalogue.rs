//! Does `feedpoint check CATALOGUE` find what is impossible and what is missing, and does its table
//! of what each figure is needed for say what the rules do?

use feedpoint::judge::catalogue::entry::{Cause, Found};
use feedpoint::judge::catalogue::figures::FIGURES;
use feedpoint::judge::catalogue::left_out::LEFT_OUT;
use feedpoint::judge::catalogue::{judge, region_of};
use feedpoint::judge::{self, verdict::Outcome};
use feedpoint::load::alone::{self, LISTS};
use feedpoint::load::{self, file, schema};
use feedpoint::model::offer::ItemKind;
use feedpoint::pipeline;
use serde_json::Value as Json;
use serde_yaml::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::process::{Command, Output};

const STARTERS: [&str; 3] = ["iec", "north-america", "aus-nz"];

fn read(path: &str) -> String {
    std::fs::read_to_string(path).expect(path)
}

fn found(text: &str) -> Found {
    let source = file::text(text.as_bytes().to_vec(), "goods.yaml").expect("text");
    assert!(alone::is_catalogue(&source));
    let (alone, _) = alone::read(source).unwrap_or_else(|faults| panic!("{faults}"));
    judge(&alone, region_of(&alone), None)
}

/// The keys of each kind of item that its schema lets one leave out, with dots where they stand
/// within others.
fn optional_keys() -> BTreeSet<(&'static str, String)> {
    let schema = schema::catalogue();
    let mut keys = BTreeSet::new();
    for (list, kind) in LISTS {
        let item = resolved(&schema, &schema["properties"][list]["items"]);
        walk(&schema, item, "", kind.name(), &mut keys);
    }
    assert!(keys.len() > 80, "only {} keys", keys.len());
    keys
}

fn resolved<'a>(schema: &'a Json, node: &'a Json) -> &'a Json {
    match node["$ref"].as_str() {
        Some(path) => schema.pointer(path.trim_start_matches('#')).expect(path),
        None => node,
    }
}

fn walk<'a>(
    schema: &'a Json,
    node: &'a Json,
    before: &str,
    kind: &'static str,
    keys: &mut BTreeSet<(&'static str, String)>,
) {
    let Some(properties) = node["properties"].as_object() else {
        return;
    };
    let required: Vec<&str> = node["required"]
        .as_array()
        .into_iter()
        .flatten()
        .filter_map(Json::as_str)
        .collect();
    for (key, value) in properties {
        let path = format!("{before}{key}");
        let value = resolved(schema, value);
        let inner: Vec<&Json> = std::iter::once(value)
            .chain(value["anyOf"].as_array().into_iter().flatten())
            .map(|one| resolved(schema, one))
            .map(|one| resolved(schema, one.get("items").unwrap_or(one)))
            .filter(|one| one["properties"].is_object())
            .collect();
        let colours = inner
            .iter()
            .any(|one| one["properties"]["warm"].is_object());
        let ladder = key == "price";
        let blocks = inner.iter().filter(|_| !colours && !ladder);
        let known = keys.len();
        for block in blocks {
            walk(schema, block, &format!("{path}."), kind, keys);
        }
        // A block of keys that may all be left out is told by its keys.
        let told_by_its_keys = keys.len() > known && !required.contains(&key.as_str());
        let whole = [
            "reels",
            "bars",
            "drums",
            "tail",
            "rails",
            "copper",
            "longest_run",
            "bench",
            "bend",
        ];
        if !required.contains(&key.as_str())
            && (!told_by_its_keys || whole.contains(&key.as_str()) || key == "emergency")
        {
            keys.insert((kind, path));
        }
    }
}

#[test]
fn every_key_that_may_be_left_out_is_a_figure_or_says_what_that_means() {
    let mut told: BTreeMap<(&str, String), usize> = BTreeMap::new();
    let keys = optional_keys();
    for figure in FIGURES {
        for kind in figure.kinds {
            for key in figure.keys {
                *told.entry((kind.name(), (*key).to_owned())).or_default() += 1;
            }
        }
    }
    for (kinds, key, means) in LEFT_OUT {
        assert!(!means.is_empty());
        for kind in *kinds {
            let key = (kind.name(), (*key).to_owned());
            assert!(!told.contains_key(&key), "{key:?} is a figure as well");
            told.insert(key, 1);
        }
    }
    let untold: Vec<_> = keys.iter().filter(|key| !told.contains_key(key)).collect();
    assert!(
        untold.is_empty(),
        "in the schema, not in the table: {untold:#?}"
    );
    let unknown: Vec<_> = told.keys().filter(|key| !keys.contains(key)).collect();
    assert!(
        unknown.is_empty(),
        "in the table, not in the schema: {unknown:#?}"
    );
    for figure in FIGURES {
        for rule in figure.rules {
            assert!(judge::rule(rule).is_some(), "{:?}: {rule}", figure.keys);
        }
        let told = figure.rules.len() + usize::from(figure.result.is_some());
        assert!(
            told + usize::from(figure.assumed.is_some()) > 0,
            "{:?}",
            figure.keys
        );
    }
}

/// Takes a key out, with dots where it stands within another.
fn remove(node: &mut Value, key: &str) {
    match (key.split_once('.'), node) {
        (Some((part, rest)), node) => {
            if let Some(inner) = node.get_mut(part) {
                remove(inner, rest);
            }
        }
        (None, Value::Mapping(entries)) => {
            entries.remove(key);
        }
        (None, _) => {}
    }
}

/// A catalogue without a key, wherever an item of the kind has it.
fn without(catalogue: &str, kind: ItemKind, keys: &[&str]) -> String {
    let mut file: Value = serde_yaml::from_str(catalogue).expect("YAML");
    let (list, _) = LISTS.iter().find(|(_, one)| *one == kind).expect("a list");
    if let Some(Value::Sequence(items)) = file.get_mut(*list) {
        for item in items {
            for key in keys {
                remove(item, key);
            }
        }
    }
    serde_yaml::to_string(&file).expect("YAML")
}

/// The rules that can't be told of a job, with their subjects' count.
fn untold(project: &str, catalogue: &str) -> BTreeSet<String> {
    let loaded =
        load::project_from_texts("project.yaml", project, &[("catalogue.yaml", catalogue)]);
    let loaded = loaded.unwrap_or_else(|faults| panic!("{faults}"));
    let (job, _) = pipeline::run(loaded).unwrap_or_else(|faults| panic!("{faults}"));
    let open = job.verdicts.iter();
    let open = open.filter(|one| matches!(one.outcome, Outcome::CannotTell { .. }));
    open.map(|one| one.rule.to_string()).collect()
}

/// A starter whose project asks more than it does as written: a day on which things are needed, a
/// wet place, cable in insulation and beside mains, the bus as Class 2 wiring.
fn asking_more(region: &str) -> (String, String) {
    let (mut project, catalogue) = starter(region);
    for (old, new) in [
        ("date: 2026-11-20", "date: 2026-11-20\n  needed: 2026-12-20"),
        ("wet: no", "wet: yes"),
        ("in_insulation: none", "in_insulation: 0.3 m"),
        ("separated: yes", "separated: no"),
    ] {
        assert!(project.contains(old), "{old}");
        project = project.replacen(old, new, 1);
    }
    let project = project.replace("wiring: class 1", "wiring: class 2");
    (project, with_lead_times(&catalogue))
}

/// The catalogue with a lead time of every item.
fn with_lead_times(catalogue: &str) -> String {
    let mut file: Value = serde_yaml::from_str(catalogue).expect("YAML");
    for (list, _) in LISTS {
        for item in file[list].as_sequence_mut().expect("a list") {
            item["lead_time"] = "5 days".into();
        }
    }
    serde_yaml::to_string(&file).expect("YAML")
}

/// Rules that none of these jobs opens, each with the reason.
const NOT_OPENED: [(&str, &str); 13] = [
    (
        "strip-end-minimum-volts",
        "no strip of the starters is regulated",
    ),
    ("mix-flux", "no scene asks for lumens"),
    ("bend-radius", "no run is bent"),
    (
        "driver-total-power-both-whites",
        "the drivers have power to spare",
    ),
    ("outputs-not-paralleled", "no strip is on two units"),
    ("bus-emergency-part", "no driver has one"),
    (
        "driver-not-class2-wiring",
        "the starters' drivers are Class 2",
    ),
    ("cable-ampacity", "the tables have every cable"),
    ("cable-overload-protected", "the tables have every cable"),
    ("cable-in-insulation", "the tables have every cable"),
    ("breaker-cable", "the tables have every cable"),
    (
        "circuit-load",
        "a controller or driver opens it; no bus supply is needed",
    ),
    (
        "breaker-spare",
        "a controller or driver opens it; no bus supply is needed",
    ),
];

fn starter(region: &str) -> (String, String) {
    let project = read(&format!("src/command/init/{region}/project.yaml"));
    let catalogue = read(&format!("src/command/init/{region}/catalogue.yaml"));
    (project, catalogue)
}

/// Rules that sum up others: every figure opens them.
const SUMS: [&str; 2] = ["value-missing", "value-assumed"];

#[test]
fn a_figure_taken_out_of_a_job_opens_no_rule_that_its_entry_does_not_name() {
    let mut seen: BTreeSet<(&str, String)> = BTreeSet::new();
    let mut wrong = Vec::new();
    for region in STARTERS {
        let (project, catalogue) = asking_more(region);
        let before = untold(&project, &catalogue);
        for figure in FIGURES {
            for kind in figure.kinds {
                let spoilt = without(&catalogue, *kind, figure.keys);
                let after = untold(&project, &spoilt);
                for rule in after
                    .difference(&before)
                    .filter(|rule| !SUMS.contains(&rule.as_str()))
                {
                    if !figure.rules.contains(&rule.as_str()) {
                        wrong.push(format!(
                            "{region}: {} {:?} opens {rule}",
                            kind.name(),
                            figure.keys
                        ));
                    }
                    seen.insert((kind.name(), format!("{} {rule}", figure.keys[0])));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    let named = FIGURES.iter().flat_map(|figure| {
        let kinds = figure.kinds.iter().map(|kind| kind.name());
        kinds.flat_map(move |kind| {
            let rules = figure.rules.iter();
            rules.map(move |rule| (kind, format!("{} {rule}", figure.keys[0])))
        })
    });
    let excused = |rule: &str| NOT_OPENED.iter().any(|(one, _)| *one == rule);
    let unseen: Vec<_> = named
        .filter(|(_, pair)| !seen.iter().any(|(_, one)| one == pair))
        .filter(|(_, pair)| !excused(pair.rsplit(' ').next().unwrap_or_default()))
        .collect();
    assert!(unseen.is_empty(), "never opened: {unseen:#?}");
    assert!(seen.len() > 40, "only {} seen", seen.len());
}

/// What is found of the iec starter's catalogue in which `old` is replaced, as cause, subject, key.
fn spoilt(old: &str, new: &str) -> Vec<(Cause, String, String, String)> {
    let (_, catalogue) = starter("iec");
    assert!(catalogue.contains(old), "{old}");
    let before = found(&catalogue).entries;
    let after = found(&catalogue.replacen(old, new, 1)).entries;
    let new = after.into_iter().filter(|entry| {
        let same = |one: &feedpoint::judge::catalogue::entry::Entry| {
            (one.cause, &one.subject, &one.key) == (entry.cause, &entry.subject, &entry.key)
        };
        !before.iter().any(same)
    });
    new.map(|entry| {
        (
            entry.cause,
            entry.subject,
            entry.key,
            entry.place.to_string(),
        )
    })
    .collect()
}

/// One slip in the starter's catalogue is one entry at its place.
#[test]
fn each_slip_is_one_entry_at_its_place() {
    // Old text, new text, cause, subject, key.
    let slips = [
        (
            "current_per_channel: 3.1 A",
            "current_per_channel: 1.3 A",
            Cause::Impossible,
            "driver duo-75",
            "output.power",
        ),
        (
            "mains: {voltage: [220 V, 240 V], current: 0.38 A",
            "mains: {voltage: [220 V, 240 V], current: 0.08 A",
            Cause::Impossible,
            "driver duo-75",
            "mains.current",
        ),
        (
            "most_per_b16: 22",
            "most_per_b16: 22, most_on: [{breaker: B10, count: 30}]",
            Cause::Impossible,
            "driver duo-75",
            "mains.most_on",
        ),
        (
            "flux: 600 lm/m",
            "flux: 6000 lm/m",
            Cause::Impossible,
            "strip white-24-6",
            "flux",
        ),
        (
            "flux: 600 lm/m",
            "flux: 1800 lm/m",
            Cause::Odd,
            "strip white-24-6",
            "flux",
        ),
        (
            "led_pitch: 8 mm",
            "led_pitch: 80 mm",
            Cause::Impossible,
            "strip pair-24-12",
            "led_pitch",
        ),
        (
            "reels: [{length: 5 m, price: 22.50}]",
            "reels: [{length: 5020 mm, price: 22.50}]",
            Cause::Odd,
            "strip white-24-6",
            "reels",
        ),
        (
            "{length: 10 m, price: 99.00}",
            "{length: 10 m, price: 990.00}",
            Cause::Odd,
            "strip pair-24-12",
            "reels",
        ),
        (
            "most_feed_current: 4 A",
            "most_feed_current: 0.4 A",
            Cause::Odd,
            "strip white-24-6",
            "most_feed_current",
        ),
        (
            "rails: {common: 0.040 ohm/m, return: 0.040 ohm/m}",
            "bench: {length: 5 m, volts_in: 24.0 V, volts_out: 23.7 V, current: 12.5 A}",
            Cause::Odd,
            "strip white-24-6",
            "bench.current",
        ),
        (
            "power: 6 W/m\n    flux: 600 lm/m",
            "power: 2 W/m\n    flux: 200 lm/m",
            Cause::Odd,
            "strip white-24-6",
            "power",
        ),
        (
            "terminals: {largest: 2.5 mm²}",
            "terminals: {largest: 0.5 mm²}",
            Cause::Odd,
            "driver duo-75",
            "terminals.largest",
        ),
        (
            "ambient: {most: 50 °C}\n    least_load",
            "ambient: {most: 50 °C}\n    derating: [{at: 45 °C, share: 80 %}]\n    least_load",
            Cause::Odd,
            "driver duo-75",
            "derating",
        ),
        (
            "bus: {addresses: 1, current: 2 mA, colour: single}",
            "bus: {addresses: 1, current: 2 mA, colour: single, emergency: {addresses: 2, tested: yes}}",
            Cause::Impossible,
            "driver solo-60",
            "bus.emergency.addresses",
        ),
        (
            "maximum: 245 mA",
            "maximum: 2450 mA",
            Cause::Impossible,
            "bus supply bus-supply-200",
            "maximum",
        ),
        (
            "size: 1.5 mm², conductor: class 5",
            "size: 1.5 mm², also_marked: 12 AWG, conductor: class 5",
            Cause::Impossible,
            "cable feed-2x1.5",
            "also_marked",
        ),
        (
            "bars: [{length: 2 m,",
            "bars: [{length: 2 mm,",
            Cause::Impossible,
            "profile slim-12",
            "bars",
        ),
        (
            "price: 215.00",
            "price: 0",
            Cause::Odd,
            "controller loop-controller-1",
            "price",
        ),
        (
            "{from: 10, price: 39.50}",
            "{from: 10, price: 93.50}",
            Cause::Odd,
            "driver solo-60",
            "price",
        ),
        (
            "    price: 215.00\n",
            "",
            Cause::NoPrice,
            "controller loop-controller-1",
            "price",
        ),
        (
            "reels: [{length: 5 m, price: 22.50}]",
            "reels: [{length: 5 m}]",
            Cause::NoPrice,
            "strip white-24-6",
            "reels",
        ),
        (
            ", price_valid_until: 2027-06-30",
            "",
            Cause::NoFigure,
            "the catalogue",
            "price_valid_until",
        ),
        (
            "    least_load: 5 %\n",
            "",
            Cause::NoFigure,
            "driver duo-75",
            "least_load",
        ),
    ];
    let mut wrong = Vec::new();
    for (old, new, cause, subject, key) in slips {
        let told = spoilt(old, new);
        let [(found, about, at, place)] = told.as_slice() else {
            wrong.push(format!("{new}: {told:#?}"));
            continue;
        };
        if (*found, about.as_str(), at.as_str()) != (cause, subject, key) {
            wrong.push(format!("{new}: {told:#?}"));
        }
        let (_, catalogue) = starter("iec");
        let line = catalogue.replacen(old, new, 1);
        let line_number: usize = place
            .split(':')
            .nth(1)
            .expect("a line")
            .parse()
            .expect("a number");
        let line = line
            .lines()
            .nth(line_number - 1)
            .expect("the line")
            .to_owned();
        let id = subject.rsplit(' ').next().expect("an id");
        let last = key.rsplit('.').next().expect("a key");
        assert!(line.contains(last) || line.contains(id), "{place}: {line}");
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// 5 m at 52.00 are 10.40 a metre: 10 m are odd above 12.48 a metre, a fifth more (common practice, no
/// source).
#[test]
fn a_longer_reel_is_odd_from_a_fifth_more_by_the_metre() {
    let reel = "{length: 10 m, price: 99.00}";
    for (price, odd) in [("124.70", false), ("124.90", true)] {
        let found = spoilt(reel, &format!("{{length: 10 m, price: {price}}}"));
        let told = found.iter().any(|(cause, subject, key, _)| {
            (*cause, subject.as_str(), key.as_str()) == (Cause::Odd, "strip pair-24-12", "reels")
        });
        assert_eq!(told, odd, "{price}: {found:?}");
    }
}

/// Every block of the file is counted once, among its own kind.
#[test]
fn items_are_counted_by_kind() {
    let (_, catalogue) = starter("iec");
    let found = found(&catalogue);
    let of = |key: &str| {
        catalogue.matches(&format!("- {key}: ")).count()
            + catalogue.matches(&format!("- {{{key}: ")).count()
    };
    let mut all = 0;
    for (kind, count) in &found.items {
        let key = kind.name().replace(' ', "_");
        assert_eq!(*count, of(&key), "{key}");
        all += count;
    }
    assert_eq!(found.count(), all);
    assert!(found.items.len() >= 5, "{:?}", found.items);
}

/// Connectors stand at feeds: what they carry is asked of those, and of nothing else.
#[test]
fn only_what_stands_at_a_feed_is_asked_what_it_carries() {
    let (_, catalogue) = starter("iec");
    let silent = "most_current: 6 A, ";
    assert!(catalogue.contains(&format!("per: feed, channels: 1, {silent}")));
    let entries = found(&catalogue.replacen(silent, "", 1)).entries;
    let asked = entries.iter().filter(|entry| entry.key == "most_current");
    let asked: Vec<&str> = asked
        .map(|entry| entry.subject.as_str())
        .filter(|subject| subject.starts_with("accessory "))
        .collect();
    assert_eq!(asked, ["accessory tail-2"]);
}

#[test]
fn two_items_alike_and_one_id_twice_are_told() {
    let (_, catalogue) = starter("iec");
    let row = "  - {cable: feed-2x1.5,";
    let line = catalogue
        .lines()
        .find(|line| line.starts_with(row))
        .expect("the cable");
    let again = line.replace("feed-2x1.5", "feed-two");
    let double = catalogue.replacen(line, &format!("{line}\n{again}"), 1);
    let told = found(&double).entries;
    let alike = told
        .iter()
        .find(|entry| entry.found.contains("`feed-2x1.5` in all but its id"));
    assert_eq!(
        alike.map(|entry| entry.subject.as_str()),
        Some("cable feed-two"),
        "{told:#?}"
    );
    let twice = catalogue.replacen(line, &format!("{line}\n{line}"), 1);
    let source = file::text(twice.into_bytes(), "goods.yaml").expect("text");
    let faults = alone::read(source).expect_err("refused").to_string();
    assert!(faults.contains("id `feed-2x1.5` is used twice"), "{faults}");
}

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(arguments)
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env("LC_ALL", "C.UTF-8")
        .env_remove("COLUMNS")
        .output()
        .expect("the program runs")
}

fn said(output: &Output) -> &str {
    std::str::from_utf8(&output.stdout).expect("UTF-8")
}

#[test]
fn the_demos_catalogues_have_nothing_impossible_and_the_command_says_so() {
    for path in [
        "trade.yaml",
        "trade-north-america.yaml",
        "trade-aus-nz.yaml",
    ] {
        let output = run(&["check", &format!("catalogue-examples/{path}")]);
        assert_eq!(output.status.code(), Some(0), "{path}: {}", said(&output));
        assert!(said(&output).contains("0 broken, "), "{}", said(&output));
    }
    let trade = "catalogue-examples/trade.yaml";
    let strict = run(&["check", trade, "--strict"]);
    assert_eq!(strict.status.code(), Some(1), "figures are missing");
    let late = run(&["check", trade, "--date", "2027-04-01"]);
    assert_eq!(late.status.code(), Some(1));
    assert!(
        said(&late).contains("held until 2027-03-31"),
        "{}",
        said(&late)
    );
    let last = run(&["check", trade, "--date", "2027-03-31"]);
    assert_eq!(last.status.code(), Some(0), "the last day counts");
}

#[test]
fn its_json_agrees_with_the_schema_and_names_real_rules() {
    let output = run(&["check", "catalogue-examples/trade.yaml", "--format", "json"]);
    let object: Json = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(object["format"], 1);
    let schema = run(&["schema", "output"]);
    let schema: Json = serde_json::from_slice(&schema.stdout).expect("JSON");
    let mut part = serde_json::json!({"$ref": "#/$defs/Catalogue"});
    part["$defs"] = schema["$defs"].clone();
    let validator = jsonschema::validator_for(&part).expect("a usable schema");
    let faults: Vec<_> = validator
        .iter_errors(&object)
        .map(|it| it.to_string())
        .collect();
    assert!(faults.is_empty(), "{faults:?}");
    let entries = object["entries"].as_array().expect("a list");
    assert_eq!(
        object["counts"]["cannot_tell"].as_u64().expect("a count") as usize,
        entries
            .iter()
            .filter(|one| one["verdict"] == "cannot tell")
            .count()
    );
    // Its head says until when all of its prices hold.
    let items = &object["counts"]["items"];
    let held = serde_json::json!([{"until": "2027-03-31", "items": items}]);
    assert_eq!(object["prices"], held);
    for entry in entries {
        let causes = match entry["verdict"].as_str() {
            Some("broken") => ["impossible", "odd", "past its date"].as_slice(),
            _ => ["no price", "no figure"].as_slice(),
        };
        let cause = entry["cause"].as_str().expect("a word");
        assert!(causes.contains(&cause), "{entry}");
        for rule in entry["untold_rules"].as_array().expect("a list") {
            assert!(
                judge::rule(rule.as_str().expect("a name")).is_some(),
                "{rule}"
            );
        }
        assert!(entry["place"]["line"].as_u64() > Some(3), "{entry}");
    }
}

#[test]
fn what_is_for_a_catalogue_is_refused_for_a_project_and_the_other_way() {
    let demo = "catalogue-examples/millrace-library.yaml";
    for flags in [["--date", "2026-11-20"], ["--region", "iec"]] {
        let output = run(&["check", demo, flags[0], flags[1]]);
        assert_eq!(output.status.code(), Some(2));
        let message = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(
            message.contains(flags[0]) && message.contains("catalogue"),
            "{message}"
        );
    }
    let output = run(&["check", "catalogue-examples/trade.yaml", "--afresh"]);
    assert_eq!(output.status.code(), Some(2));
}
