//! Readings from site: does what was expected come out as expected, and what is wrong as wrong?

use feedpoint::load::readings::readings_from_text;
use feedpoint::model::reading::{Found, Given};
use feedpoint::pipeline;
use feedpoint::present::document::site_tests::{Expected, SiteTest, all};
use feedpoint::present::job::Job;
use feedpoint::present::json::Readings;
use feedpoint::present::readings::{Compared, Verdict, compared, readable};
use feedpoint::present::{csv, document, json};
use feedpoint::quantity::figure::Unit;
use std::path::Path;

fn demo() -> Job {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let path = root.join("catalogue-examples/millrace-library.yaml");
    let job = pipeline::job(path.to_str().expect("a path"), false);
    job.unwrap_or_else(|faults| panic!("{faults:?}")).0
}

fn given(job: &Job, name: &str, text: &str) -> Vec<Given> {
    let read = readings_from_text(name, text, &readable(job));
    read.unwrap_or_else(|faults| panic!("{faults}")).0
}

fn refused(job: &Job, name: &str, text: &str) -> String {
    let read = readings_from_text(name, text, &readable(job));
    read.expect_err("a refusal").to_string()
}

/// The test sheet as `report` writes it, filled in by `fill`; `separator` between its fields.
fn sheet(job: &Job, separator: u8, fill: impl Fn(&SiteTest) -> String) -> String {
    let sheet = document::named("test-sheet", job).expect("a test sheet");
    let files = csv::files(&sheet).expect("files");
    let mut rows = ::csv::Reader::from_reader(files[0].text.as_bytes());
    let headings = rows.headers().expect("headings").clone();
    let reading = headings.iter().position(|it| it == "reading").expect("it");
    let mut out = ::csv::WriterBuilder::new()
        .delimiter(separator)
        .from_writer(Vec::new());
    out.write_record(&headings).expect("written");
    for (row, test) in rows.records().zip(all(job)) {
        let row = row.expect("a row");
        let mut fields: Vec<String> = row.iter().map(str::to_owned).collect();
        fields[reading] = fill(&test);
        out.write_record(fields).expect("written");
    }
    String::from_utf8(out.into_inner().expect("bytes")).expect("text")
}

/// What the sheet expects, as someone would write it into the next column.
fn as_expected(test: &SiteTest) -> String {
    match &test.expected {
        Expected::Reading {
            value, low, high, ..
        } => {
            let shown = value.or(*low).or(*high).expect("a bound");
            shown.to_string()
        }
        Expected::Finding(words) => (*words).to_owned(),
        Expected::Unknown(_) => String::new(),
    }
}

fn count(compared: &Compared, verdict: Verdict) -> usize {
    compared
        .rows
        .iter()
        .filter(|row| row.verdict == verdict)
        .count()
}

#[test]
fn a_sheet_filled_in_with_what_it_expects_is_within_every_band() {
    let job = demo();
    let tests = all(&job);
    let known = tests
        .iter()
        .filter(|it| !matches!(it.expected, Expected::Unknown(_)));
    let known = known.count();
    assert!(known > 200, "{known}");
    let comma = |test: &SiteTest| as_expected(test).replace('.', ",");
    for (separator, text) in [
        (b',', sheet(&job, b',', as_expected)),
        (b';', sheet(&job, b';', comma)),
    ] {
        let given = given(&job, "test-sheet.csv", &text);
        assert_eq!(given.len(), known, "{}", separator as char);
        let compared = compared(&job, &given);
        assert_eq!(count(&compared, Verdict::Within), known);
        assert!(!compared.is_wrong(), "{:?}", compared.loops);
        assert_eq!(compared.not_read, tests.len() - known);
    }
}

/// Meters show steps and cables have tails: a band that is narrower than a step, or a limit of
/// nothing, would call what is sound wrong. A controller that stands in the panel has no cable
/// beyond it, and its circuit is tested all the same.
#[test]
fn every_band_is_wider_than_a_step_of_its_meter() {
    let mut seen = 0;
    for demo in ["millrace-library", "annex-north-america", "annex-aus-nz"] {
        let path = format!("catalogue-examples/{demo}.yaml");
        let (job, _) = pipeline::job(&path, false).unwrap_or_else(|faults| panic!("{faults:?}"));
        for test in all(&job) {
            let Expected::Reading {
                low,
                high: Some(high),
                unit,
                ..
            } = test.expected
            else {
                continue;
            };
            // What good site instruments resolve (common practice, no source): 0.01 Ω, 0.01 V d.c.,
            // 0.01 A; a share is of two readings of 0.1 V.
            let step = match unit {
                Unit::Percent => 0.04,
                _ => 0.01,
            };
            let room = high - low.unwrap_or(0.0);
            assert!(
                room > 2.0 * step,
                "{demo}: {}: {low:?} to {high} {unit:?}",
                test.id
            );
            seen += 1;
        }
    }
    assert!(seen > 200, "{seen}");
    let job = demo();
    let text = "test,reading\nC1/continuity,0.03\nC1/drop,0.04\n";
    let compared = compared(&job, &given(&job, "test-sheet.csv", text));
    assert_eq!(count(&compared, Verdict::Within), 2, "{:#?}", compared.rows);
}

#[test]
fn the_demos_readings_are_put_down_to_a_joint_at_its_feed() {
    let job = demo();
    let text = include_str!("../catalogue-examples/millrace-readings.yaml");
    let compared = compared(&job, &given(&job, "readings.yaml", text));
    assert!(compared.is_wrong());
    let [section] = compared.sections.as_slice() else {
        panic!("{:?}", compared.sections);
    };
    let diagnosis = section.diagnosis.as_ref().expect("a diagnosis");
    let first = &diagnosis.causes[0];
    // Ohm's law: 47.31 − 45.90 V more lost at 2.7 A is 0.52 Ω, in the plus or the return core.
    assert_eq!(first.fault.key, "joint");
    let ohms = first.number.expect("fitted");
    assert!((0.35..0.70).contains(&ohms), "{ohms}");
    assert!(first.fits, "{first:?}");
    let keys: Vec<_> = diagnosis.first().iter().map(|it| it.fault.key).collect();
    assert_eq!(keys, ["joint", "joint"], "continuity leaves cable out");
    assert!(compared.loops.is_empty());
}

/// 14.2 V at the far end is well within what a receiver takes; but 1.9 V are lost where 0.06 V
/// should be.
#[test]
fn volts_within_their_bands_that_do_not_agree_are_told() {
    let job = demo();
    let text = "format: 1\nreadings:\n  - {test: L1/volts-supply, reading: 16.1 V}\n  \
                - {test: L1/volts-far, reading: 14.2 V}\n";
    let compared = compared(&job, &given(&job, "readings.yaml", text));
    assert_eq!(count(&compared, Verdict::Within), 2);
    assert_eq!(compared.loops.len(), 1);
    assert!(compared.is_wrong());
}

#[test]
fn what_is_more_than_an_instrument_shows_is_taken_as_that() {
    let job = demo();
    let text = "format: 1\nreadings:\n  - {test: C2/insulation, reading: \"> 500 Mohm\"}\n  \
                - {test: C2/continuity, reading: open}\n";
    let given = given(&job, "readings.yaml", text);
    assert_eq!(given[0].found, Found::MoreThan(500.0));
    let compared = compared(&job, &given);
    let verdicts: Vec<_> = compared.rows.iter().map(|row| row.verdict).collect();
    assert!(verdicts.contains(&Verdict::Within) && verdicts.contains(&Verdict::Outside));
}

#[test]
fn a_sheet_that_can_not_be_used_says_why_and_where() {
    let job = demo();
    let blank = sheet(&job, b',', |_| String::new());
    let told = refused(&job, "s.csv", &blank);
    assert!(
        told.contains("nothing-read") && told.contains("s.csv:1:1"),
        "{told}"
    );
    let told = refused(&job, "s.csv", "name,value\na,b\n");
    assert!(
        told.contains("no column `test`") && told.contains("no column `reading`"),
        "{told}"
    );
    let told = refused(&job, "s.csv", "test,reading\nC2/polarty,yes\n");
    assert!(
        told.contains("did you mean `C2/polarity`?") && told.contains("s.csv:2:1"),
        "{told}"
    );
    let mains = "test,reading\nC2/supply,230000\n";
    let told = refused(&job, "s.csv", mains);
    assert!(
        told.contains("write `230000 mV`") && told.contains("s.csv:2:11"),
        "{told}"
    );
    let told = refused(&job, "s.csv", "test,reading\nC2/supply,4 A\n");
    assert!(told.contains("is read in V"), "{told}");
    let twice = "test,reading\nC2/polarity,yes\nC2/polarity,yes\n";
    assert!(refused(&job, "s.csv", twice).contains("line 2"));
}

#[test]
fn readings_of_another_revision_are_read_with_a_warning() {
    let job = demo();
    let text = "format: 1\nrevision: A\nreadings: [{test: C2/polarity, reading: yes}]\n";
    let (_, warnings) = readings_from_text("r.yaml", text, &readable(&job)).expect("read");
    assert!(
        warnings
            .to_string()
            .contains("of revision `A`, the project's is `B`")
    );
}

#[test]
fn json_is_as_its_schema_says() {
    let job = demo();
    let text = include_str!("../catalogue-examples/millrace-readings.yaml");
    let compared = compared(&job, &given(&job, "readings.yaml", text));
    let object = serde_json::to_value(Readings::of(&compared)).expect("json");
    let schema = json::schema_of::<Readings>().expect("a schema");
    let schema = serde_json::from_str(&schema).expect("json");
    let validator = jsonschema::draft202012::new(&schema).expect("a schema");
    assert!(validator.is_valid(&object));
    let all = json::schema().expect("a schema");
    assert!(all.contains("\"Readings\""), "not in `schema output`");
    let read = feedpoint::load::schema::readings();
    let validator = jsonschema::draft202012::new(&read).expect("a schema");
    let file: serde_json::Value = serde_yaml::from_str(text).expect("yaml");
    assert!(validator.is_valid(&file));
}
