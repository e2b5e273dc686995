//! The editor's schema, held against a general-purpose validator: it accepts what the program
//! reads, and refuses what the program refuses.

use feedpoint::load::schema;
use jsonschema::Validator;
use serde_json::{Value, json};

const PROJECTS: [&str; 4] = [
    "catalogue-examples/millrace-library.yaml",
    "src/command/init/aus-nz/project.yaml",
    "src/command/init/iec/project.yaml",
    "src/command/init/north-america/project.yaml",
];
const CATALOGUES: [&str; 5] = [
    "catalogue-examples/trade.yaml",
    "src/command/init/aus-nz/catalogue.yaml",
    "src/command/init/iec/catalogue.yaml",
    "src/command/init/north-america/catalogue.yaml",
    "tests/data/catalogue.yaml",
];

fn validator(schema: &Value) -> Validator {
    jsonschema::draft202012::new(schema).expect("a schema after draft 2020-12")
}

/// A file as an editor's YAML reader sees it.
fn read(path: &str) -> Value {
    let text = std::fs::read_to_string(path).expect(path);
    serde_yaml::from_str(&text).expect(path)
}

fn faults(validator: &Validator, value: &Value) -> Vec<String> {
    let faults = validator.iter_errors(value);
    faults
        .map(|fault| format!("{}: {fault}", fault.instance_path()))
        .collect()
}

#[test]
fn the_schemas_accept_what_the_program_reads() {
    for (schema, paths) in [
        (schema::project(), &PROJECTS[..]),
        (schema::catalogue(), &CATALOGUES[..]),
    ] {
        let validator = validator(&schema);
        for path in paths {
            let faults = faults(&validator, &read(path));
            assert!(faults.is_empty(), "{path}: {faults:#?}");
        }
    }
    for path in PROJECTS {
        feedpoint::load::project(path).expect(path);
    }
    for path in CATALOGUES {
        feedpoint::load::catalogue(path).expect(path);
    }
}

/// A change to a good project, and what is wrong with it then.
#[test]
fn the_project_schema_refuses_what_the_program_refuses() {
    let validator = validator(&schema::project());
    let good = read(PROJECTS[1]);
    let changes: [(&str, Value, &str); 10] = [
        ("/colour", json!("red"), "unknown key"),
        ("/runs/0/lenght", json!("4 m"), "unknown key in a run"),
        ("/runs/0/length", json!(18.4), "bare number"),
        ("/runs/0/length", json!("18.4"), "no unit"),
        ("/runs/0/length", json!("18.4 W"), "unit of another kind"),
        ("/runs/0/wet", json!("maybe"), "neither yes nor no"),
        ("/points/0/kind", json!("attic"), "unknown word"),
        ("/format", json!(2), "newer format"),
        ("/runs", json!([]), "no runs"),
        ("/limits/light_drop", json!(["10 %"]), "wrong shape"),
    ];
    for (pointer, value, why) in changes {
        let mut changed = good.clone();
        let (parent, key) = pointer.rsplit_once('/').expect("a path");
        let parent = changed.pointer_mut(parent).expect("there");
        parent[key] = value;
        assert!(!validator.is_valid(&changed), "{why}: {pointer}");
    }
}

#[test]
fn the_schemas_refuse_a_file_that_lacks_what_is_needed() {
    let catalogue = validator(&schema::catalogue());
    assert!(!catalogue.is_valid(&json!({"format": 1})));
    let strip_without_volts = json!({
        "format": 1,
        "catalogue": {"title": "t", "currency": "EUR"},
        "strips": [{"strip": "a"}]
    });
    assert!(!catalogue.is_valid(&strip_without_volts));
    let project = validator(&schema::project());
    assert!(!project.is_valid(&json!({"format": 1, "project": {"title": "t"}})));
}

/// Every key is described, so that an editor can say what it is for.
#[test]
fn every_key_is_described() {
    for schema in [schema::project(), schema::catalogue()] {
        let mut undescribed = Vec::new();
        keys(&schema, "", &mut undescribed);
        assert!(undescribed.is_empty(), "{undescribed:?}");
    }
}

fn keys(schema: &Value, path: &str, undescribed: &mut Vec<String>) {
    let parts = schema.as_object().into_iter().flatten();
    for (name, part) in parts {
        let path = format!("{path}/{name}");
        if name == "properties" {
            let properties = part.as_object().expect("properties");
            for (key, property) in properties {
                if property.get("description").is_none() {
                    undescribed.push(format!("{path}/{key}"));
                }
            }
        }
        if part.is_object() {
            keys(part, &path, undescribed);
        }
    }
}
