//! Do the formats say what the job says?

use crate::sample;

use feedpoint::norms::region::Region;
use feedpoint::present::csv::{NOTES, files};
use feedpoint::present::document::{self, Cell, RowKind, Showing};
use feedpoint::present::json;
use feedpoint::present::terminal::{Look, list, write};
use rust_decimal::Decimal;
use std::collections::BTreeMap;
use unicode_width::UnicodeWidthStr;

fn plain(width: usize) -> Look {
    Look {
        width,
        colour: false,
        ascii: false,
    }
}

type Record = BTreeMap<String, String>;

/// The rows of a CSV file by its name.
fn csv_rows(name: &str) -> Vec<Record> {
    let job = sample::job();
    let files: Vec<_> = document::all(&job)
        .iter()
        .flat_map(|document| files(document).expect("tables as CSV"))
        .filter(|file| file.name == name)
        .collect();
    assert_eq!(files.len(), 1, "files named {name}");
    csv::Reader::from_reader(files[0].text.as_bytes())
        .deserialize()
        .map(|row| row.expect("a row"))
        .collect()
}

fn json_report() -> serde_json::Value {
    serde_json::to_value(json::Report::of(&sample::job())).expect("a report as JSON")
}

#[test]
fn every_row_has_a_cell_for_each_column_in_the_columns_unit() {
    let jobs = Region::ALL.map(sample::job_in);
    for document in jobs.iter().flat_map(document::all) {
        for table in document.parts.iter().filter_map(|part| part.table.as_ref()) {
            for row in table.rows.iter().filter(|row| row.kind != RowKind::Group) {
                assert_eq!(row.cells.len(), table.columns.len(), "{}", document.name);
                for (column, cell) in table.columns.iter().zip(&row.cells) {
                    if let (Some(unit), Cell::Figure(figure)) = (column.unit, cell) {
                        assert_eq!(figure.unit, unit, "{} {}", document.name, column.key);
                    }
                }
            }
        }
    }
}

#[test]
fn north_america_reads_lengths_in_feet_beside_the_metres() {
    let job = sample::job_in(Region::NorthAmerica);
    let document = document::named("run-schedule", &job).expect("a run schedule");
    let files = files(&document).expect("tables as CSV");
    let runs = files.iter().find(|file| file.name == "run-schedule");
    let mut reader = csv::Reader::from_reader(runs.expect("runs").text.as_bytes());
    let row: Record = reader.deserialize().next().expect("a row").expect("a row");
    // 18.4 m ÷ 0.3048 m = 60.367 ft; 0.367 ft × 12 = 4.41 in, to the nearest eighth.
    assert_eq!(row["length_m"], "18.4");
    assert_eq!(row["length_ft_in"], "60 ft 4 3/8 in");
}

#[test]
fn columns_of_figures_say_their_unit_in_their_key() {
    for document in document::all(&sample::job()) {
        for table in document.parts.iter().filter_map(|part| part.table.as_ref()) {
            for column in &table.columns {
                let Some(unit) = column.unit else { continue };
                let suffix = match unit.sign() {
                    "%" => "_percent".to_owned(),
                    "°C" => "_c".to_owned(),
                    sign => format!("_{}", sign.to_lowercase()),
                };
                assert!(
                    column.key.ends_with(&suffix),
                    "{} lacks {suffix}",
                    column.key
                );
            }
        }
    }
}

#[test]
fn csv_holds_the_jobs_figures() {
    let job = sample::job();
    let rows = csv_rows("run-schedule");
    assert_eq!(rows.len(), job.sizing.runs.len());
    for sized in &job.sizing.runs {
        let row = rows
            .iter()
            .find(|row| row["run"] == sized.run.name)
            .expect("the run's row");
        let number = |key: &str| row[key].parse::<f64>();
        assert_eq!(number("length_m"), Ok(sized.length.value));
        assert_eq!(row["fed"], sized.reasons.arrangement);
        if sized.figures.works {
            let light = number("light_least_percent").expect("a number");
            assert!((light - sized.figures.light_least.value * 100.0).abs() < 1e-9);
        } else {
            assert_eq!(row["light_least_percent"], "?");
            assert!(row[NOTES].contains("light_least_percent: the strip has no working point"));
        }
    }
}

#[test]
fn csv_of_all_loops_is_one_file_with_every_member_once() {
    let job = sample::job();
    let rows = csv_rows("loop-members");
    let members: Vec<(String, String)> = job
        .allocation
        .loops
        .iter()
        .flat_map(|on| {
            on.members
                .iter()
                .map(|it| (on.name.clone(), it.device.clone()))
        })
        .collect();
    let written: Vec<(String, String)> = rows
        .iter()
        .map(|row| (row["loop"].clone(), row["device"].clone()))
        .collect();
    assert_eq!(written, members);
    assert!(
        !rows[0].contains_key("found"),
        "columns to be filled by hand are for paper"
    );
}

#[test]
fn csv_money_adds_up_and_a_missing_price_is_no_zero() {
    let job = sample::job();
    let rows = csv_rows("quote-lines");
    let priced = rows.iter().filter(|row| row["price"] != "?");
    let sum: Decimal = priced
        .map(|row| row["price"].parse::<Decimal>().expect("money"))
        .sum();
    assert_eq!(sum, job.quote.totals.materials);
    let missing: Vec<_> = rows.iter().filter(|row| row["price"] == "?").collect();
    assert_eq!(missing.len(), job.quote.totals.lines_without_price);
    assert!(missing[0][NOTES].contains("no price"));
}

#[test]
fn no_text_in_a_csv_file_begins_as_a_formula() {
    let mut guarded = 0;
    for document in document::all(&sample::job()) {
        for file in files(&document).expect("tables as CSV") {
            let mut reader = csv::Reader::from_reader(file.text.as_bytes());
            for record in reader.records() {
                for field in record.expect("a row").iter() {
                    assert!(!field.chars().any(char::is_control), "{field:?}");
                    let is_number = field.parse::<f64>().is_ok();
                    assert!(
                        is_number || !field.starts_with(['=', '+', '-', '@']),
                        "{}: {field}",
                        file.name
                    );
                    guarded += usize::from(field.starts_with("'="));
                }
            }
        }
    }
    assert!(guarded > 0, "the sample's formula is somewhere");
}

#[test]
fn json_holds_the_jobs_figures_under_the_promised_keys() {
    let job = sample::job();
    let report = json_report();
    assert_eq!(report["format"], 1);
    for (written, sized) in report["size"]["runs"]
        .as_array()
        .expect("a list")
        .iter()
        .zip(&job.sizing.runs)
    {
        assert_eq!(written["run"], sized.run.name.as_str());
        assert_eq!(written["length_m"].as_f64(), Some(sized.length.value));
        let feeds: usize = sized
            .sections
            .iter()
            .map(|section| section.feeds.len())
            .sum();
        assert_eq!(written["feeds"].as_array().map(Vec::len), Some(feeds));
        let light = written["light_least_percent"].as_f64();
        assert_eq!(light.is_some(), sized.figures.works);
    }
    assert_eq!(report["quote"]["totals"]["gross"], "861.98");
    assert_eq!(
        report["quote"]["lines"][3]["price"],
        serde_json::Value::Null
    );
    assert_eq!(report["loops"]["loops"][0]["members"][2]["address"], 0);
    assert_eq!(report["check"]["counts"]["broken"], 2);
}

/// The keys that programs may rely on.
#[test]
fn json_has_every_promised_key() {
    let report = json_report();
    let promised: [(&str, &str); 8] = [
        (
            "/size/runs/0",
            "run room strip length_m segments feeds volts_least_v feed_drop_v feed_drop_percent \
             light_least_percent light_evenness_percent colour_shift_steps states",
        ),
        (
            "/size/runs/0/feeds/0",
            "at_m driver output cable cable_length_m current_a volts_v",
        ),
        (
            "/size/drivers/0",
            "driver item cupboard load_w load_percent group runs",
        ),
        (
            "/loops/loops/0",
            "loop controller gear control_devices current_ma supply_ma drop_v longest_m cable_m \
             members",
        ),
        ("/loops/loops/0/members/0", "device address room"),
        (
            "/loops/circuits/0",
            "circuit breaker drivers current_a inrush_share_percent leakage_ma drop_percent",
        ),
        ("/quote", "lines cuts labour totals assumptions exclusions"),
        (
            "/check/verdicts/0",
            "rule subject verdict severity found limit spare_percent source remedy",
        ),
    ];
    for (at, keys) in promised {
        let object = report.pointer(at).and_then(|it| it.as_object()).expect(at);
        for key in keys.split_whitespace() {
            assert!(object.contains_key(key), "{at} has no {key}");
        }
    }
    assert!(report["check"]["counts"].is_object() && report["check"]["cautions"].is_array());
    assert!(report["size"]["cables"].is_array());
    assert_eq!(report["size"]["runs"][0]["states"][0]["lit"], "warm");
}

#[test]
fn json_agrees_with_its_schema() {
    let schema = serde_json::from_str(&json::schema().expect("a schema")).expect("JSON");
    let validator = jsonschema::validator_for(&schema).expect("a usable schema");
    let report = json_report();
    let faults: Vec<String> = validator
        .iter_errors(&report)
        .map(|fault| fault.to_string())
        .collect();
    assert!(faults.is_empty(), "{faults:?}");
    let mut spoilt = report;
    spoilt["size"]["runs"][0]["length_m"] = "18.4 m".into();
    assert!(!validator.is_valid(&spoilt));
}

#[test]
fn terminal_lines_fit_their_width() {
    let job = sample::job();
    for width in [80, 100, 132, 200] {
        let text = write(&document::all(&job), plain(width));
        for line in text.lines() {
            assert!(line.width() <= width, "{width}: {} {line}", line.width());
        }
    }
}

#[test]
fn nothing_from_a_file_reaches_the_terminal_as_a_command() {
    let job = sample::job();
    let mut text = write(&document::all(&job), plain(80));
    text.push_str(&list("Cautions", &[sample::HOSTILE.to_owned()], plain(80)));
    let sent = text.chars().find(|c| c.is_control() && *c != '\n');
    assert_eq!(sent, None);
    assert!(!text.contains('\u{202e}'));
    assert!(text.contains("�[31mred"), "what was replaced is seen");
}

#[test]
fn colour_adds_and_takes_nothing_away() {
    let job = sample::job();
    let coloured = Look {
        colour: true,
        ..plain(80)
    };
    let mut kept = String::new();
    let text = write(&document::all(&job), coloured);
    let mut rest = text.as_str();
    while let Some(at) = rest.find('\u{1b}') {
        kept.push_str(&rest[..at]);
        let end = rest[at..].find('m').expect("the end of a colour");
        rest = &rest[at + end + 1..];
    }
    kept.push_str(rest);
    let trimmed = |text: &str| {
        text.lines()
            .map(str::trim_end)
            .collect::<Vec<_>>()
            .join("\n")
    };
    assert_eq!(
        trimmed(&kept),
        trimmed(&write(&document::all(&job), plain(80)))
    );
}

#[test]
fn a_terminal_without_unicode_gets_ascii() {
    let ascii = Look {
        ascii: true,
        ..plain(80)
    };
    assert!(write(&document::all(&sample::job()), ascii).is_ascii());
}

#[test]
fn what_people_see_is_as_it_was_agreed() {
    let job = sample::job();
    for name in ["quote", "circuit-schedule", "checks"] {
        let document = document::named(name, &job).expect(name);
        let path = format!("{}/tests/golden/{name}.txt", env!("CARGO_MANIFEST_DIR"));
        let text = write(&[document], plain(80));
        // To agree on something new: WRITE_GOLDEN=1 cargo test present_formats
        if std::env::var_os("WRITE_GOLDEN").is_some() {
            std::fs::write(&path, &text).expect(&path);
        }
        let golden = std::fs::read_to_string(&path).expect(&path);
        assert_eq!(text, golden, "{name}");
    }
}

#[test]
fn documents_to_wire_from_carry_the_cautions_in_every_region() {
    for region in Region::ALL {
        let job = sample::job_in(region);
        for listed in document::DOCUMENTS
            .iter()
            .filter(|listed| listed.wired_from)
        {
            let document = document::named(listed.name, &job).expect(listed.name);
            let text = document.cautions.join(" ");
            for word in [
                "calculation aid",
                "take precedence",
                "prove dead",
                "Wet places",
                "Heat",
            ] {
                assert!(text.contains(word), "{}: {word}", listed.name);
            }
        }
    }
}

#[test]
fn paper_has_room_for_what_is_written_by_hand() {
    let document = document::named("loop-schedule", &sample::job()).expect("a loop schedule");
    let by_hand = document
        .parts
        .iter()
        .filter_map(|part| part.table.as_ref())
        .flat_map(|table| &table.columns)
        .filter(|column| column.showing == Showing::PaperOnly);
    assert!(by_hand.count() > 0);
}
