//! Whether what a price rests on is told, and what it costs if it is not so: each assumption appears
//! where the files are silent, goes where they speak, and its other way costs what the project costs
//! when that is written into it.

use crate::counter::{Counter, program, run};

use rust_decimal::Decimal;
use serde_json::Value;
use std::path::Path;

/// Everything said that can be.
const TERMS: &str = "labour_rate: 42.00, margin: 20 %, cable_waste: 0 %, \
    trades: [{trade: fitter, fits: [driver], rate: 42.00}], commissioning: {device: 6 min, rate: 42.00}";

const MORE: &str = "  - {cable: m2, use: mains, cores: 2, size: 1.5 mm², conductor: class 1, insulation: 70 °C, price: 1.00}
profiles:
  - {profile: channel, bars: [{length: 2004 mm, price: 10.00}], kerf: 3 mm}";

const REST: &str = "wiring: {slack: included}
limits: {light_drop: 10 %, driver_load: 85 %}
";

fn written() -> (String, String) {
    let counter = Counter {
        more: MORE,
        cable: "price: 1.00",
        runs: (1..=4)
            .map(|number| {
                let keys = "feed: auto, profile: channel";
                run(&format!("shelf-{number}"), "1 m", keys)
            })
            .collect(),
        pricing: TERMS,
        ..Counter::default()
    };
    let folder = counter.folder();
    let read = |name: &str| std::fs::read_to_string(folder.path().join(name)).expect(name);
    let project = read("project.yaml").replace(
        "supply: {voltage: 230 V}",
        "supply: {voltage: 230 V, upstream_drop: 0 %}",
    );
    (project + REST, read("catalogue.yaml"))
}

fn quote(project: &str, catalogue: &str) -> Value {
    let folder = tempfile::tempdir().expect("a folder");
    let put = |name: &str, text: &str| {
        std::fs::write(Path::new(folder.path()).join(name), text).expect("written");
    };
    put("project.yaml", project);
    put("catalogue.yaml", catalogue);
    let text = program(
        folder.path(),
        &["quote", "project.yaml", "--format", "json", "--quiet"],
    );
    serde_json::from_str(&text).expect("JSON")
}

/// What is silent without the first text, the second in its place when it turns out otherwise, a
/// word of the assumption, and what the lines are of that rest on it.
const SILENCES: [(&str, &str, &str, &[&str]); 9] = [
    (
        "cable_waste: 0 %, ",
        "cable_waste: 5 %, ",
        "no cable is lost",
        &["c2", "m2"],
    ),
    (
        "wiring: {slack: included}\n",
        "wiring: {slack: 10 %}\n",
        "hold rises, drops and slack",
        &["c2", "m2"],
    ),
    (
        ", upstream_drop: 0 %",
        ", upstream_drop: 1 %",
        "before the panel",
        &["m2"],
    ),
    (
        "light_drop: 10 %, ",
        "light_drop: 20 %, ",
        "the light may fall by 10 %",
        &[],
    ),
    (
        ", driver_load: 85 %",
        ", driver_load: 70 %",
        "loaded to 85 %",
        &["d100"],
    ),
    (
        ", ambient: 25 °C}",
        ", ambient: 50 °C}",
        "no warmer there",
        &["d100"],
    ),
    (
        ", kerf: 3 mm",
        ", kerf: 5 mm",
        "a saw cut takes 3 mm",
        &["channel"],
    ),
    (
        ", rate: 42.00}]",
        ", rate: 46.20}]",
        "an hour costs as much",
        &[],
    ),
    (
        ", rate: 42.00}}",
        ", rate: 46.20}}",
        "an hour of commissioning",
        &[],
    ),
];

#[test]
fn what_the_files_do_not_say_is_told_and_priced_the_other_way() {
    let (project, catalogue) = written();
    let complete = quote(&project, &catalogue);
    let net = |quote: &Value| quote["totals"]["net"].clone();
    let assumptions = |quote: &Value| quote["assumptions"].as_array().expect("a list").clone();
    let mut with_difference = 0;
    for (said, other, word, resting) in SILENCES {
        let of = |it: &&Value| it["statement"].to_string().contains(word);
        let told = assumptions(&complete);
        assert_eq!(told.iter().find(of), None, "{word}");
        let change = |to: &str| {
            let both = format!("{project}{catalogue}");
            assert!(both.contains(said), "{said}");
            // A key that ends its block keeps the end.
            let end: String = said
                .chars()
                .rev()
                .take_while(|it| "}]".contains(*it))
                .collect();
            let to = match to {
                "" => end.chars().rev().collect(),
                to => to.to_owned(),
            };
            quote(
                &project.replacen(said, &to, 1),
                &catalogue.replacen(said, &to, 1),
            )
        };
        let silent = change("");
        let all = assumptions(&silent);
        let Some(one) = all.iter().find(of) else {
            panic!("nothing is told of {word}: {all:?}");
        };
        let outcome = &one["otherwise_outcome"];
        assert_eq!(outcome["net"], net(&change(other)), "{word}");
        let lines = one["lines"].as_array().expect("numbers");
        let all = silent["lines"].as_array().expect("lines");
        let items = all.iter().filter(|line| lines.contains(&line["line"]));
        let items: Vec<&str> = items.filter_map(|line| line["item"].as_str()).collect();
        assert_eq!(items, resting, "{word}");
        let difference: Decimal = outcome["difference"]
            .as_str()
            .expect("an amount")
            .parse()
            .expect("a decimal");
        with_difference += usize::from(!difference.is_zero());
    }
    assert!(with_difference >= 4, "{with_difference}");
}
