//! Does a bus that is too much for its limits come out broken, with the figure, the limit and its
//! source? The limits are those of IEC 62386-101 and -102, and of published bus guides; see
//! `tests/published/iec_62386.csv`.

use serde_json::Value;
use std::fmt::Write;
use std::path::Path;
use std::process::Command;

/// A project with a room, `loops` as given, and the demo's catalogue changed as asked.
fn check(rest: &str, change: &[(&str, &str)]) -> (Option<i32>, Vec<Value>) {
    let folder = tempfile::tempdir().expect("a folder");
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("catalogue-examples/trade.yaml");
    let mut catalogue = std::fs::read_to_string(demo).expect("the catalogue");
    for (old, new) in change {
        assert!(catalogue.contains(old), "{old}");
        catalogue = catalogue.replace(old, new);
    }
    std::fs::write(folder.path().join("trade.yaml"), catalogue).expect("a catalogue");
    let project = format!(
        "format: 1\nproject: {{title: Limits, date: 2026-11-20}}\nregion: iec\n\
         catalogues: [trade.yaml]\n{rest}"
    );
    std::fs::write(folder.path().join("project.yaml"), project).expect("a project");
    let output = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .current_dir(folder.path())
        .args(["check", "project.yaml", "--format", "json"])
        .output()
        .expect("the program runs");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    let answer: Value = serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{said}"));
    let verdicts = answer["verdicts"].as_array().expect("verdicts").clone();
    (output.status.code(), verdicts)
}

/// The broken verdict of a rule: what was found, the limit, its source.
fn broken(verdicts: &[Value], rule: &str) -> (f64, f64, String) {
    let found = verdicts
        .iter()
        .find(|v| v["rule"] == rule && v["verdict"] == "broken");
    let found = found.unwrap_or_else(|| {
        let of_rule: Vec<_> = verdicts.iter().filter(|v| v["rule"] == rule).collect();
        panic!("{rule} is not broken: {of_rule:#?}")
    });
    assert!(!found["remedy"].as_str().unwrap_or_default().is_empty());
    (
        found["found"].as_f64().expect("a figure"),
        found["limit"].as_f64().expect("a limit"),
        found["source"].as_str().expect("a source").to_owned(),
    )
}

/// A panel, a cupboard and a room so far from it, one run, and so many sensors.
fn site(way: &str, sensors: usize, loops: &str) -> String {
    let mut text = format!(
        "points:\n  - {{point: panel, kind: panel}}\n  - {{point: cupboard, kind: cupboard}}\n  \
         - {{point: room, kind: room}}\n\
         routes:\n  - {{from: panel, to: cupboard, length: 1 m}}\n  \
         - {{from: panel, to: room, length: {way}}}\n\
         runs:\n  - {{run: shelf, room: room, strip: shelf-24-7, length: 1 m, cupboard: cupboard, \
         to_start: 4 m}}\n"
    );
    let _ = writeln!(
        text,
        "devices:\n  - {{device: sensor, item: ceiling-sensor, room: room, count: {sensors}}}\n\
         loops: {{spare: 0 %, {loops}}}"
    );
    text
}

#[test]
fn sixty_five_drivers_on_one_loop_are_one_too_many() {
    let mut text = "points:\n  - {point: panel, kind: panel}\n  - {point: cupboard, kind: \
                    cupboard}\n  - {point: room, kind: room}\nroutes:\n  - {from: panel, to: \
                    cupboard, length: 5 m}\n  - {from: cupboard, to: room, length: 5 m}\nruns:\n"
        .to_owned();
    for run in 0..65 {
        // A group of its own keeps each run on a driver of its own.
        let _ = writeln!(
            text,
            "  - {{run: shelf-{run}, room: room, strip: shelf-24-7, length: 1 m, cupboard: \
             cupboard, to_start: 4 m}}"
        );
    }
    text.push_str("loops: {count: 1}\n");
    let (status, verdicts) = check(&text, &[]);
    assert_eq!(status, Some(1));
    let found = broken(&verdicts, "bus-gear-count");
    assert_eq!(found, (65.0, 64.0, "IEC 62386-102".to_owned()));
}

#[test]
fn a_supply_that_may_give_260_ma_is_too_much() {
    let change = [(
        "guaranteed: 190 mA, maximum: 240 mA",
        "guaranteed: 190 mA, maximum: 260 mA",
    )];
    let text = site("20 m", 3, "controller: loop-controller-4");
    let (status, verdicts) = check(&text, &change);
    assert_eq!(status, Some(1));
    let found = broken(&verdicts, "bus-supply-sum");
    assert_eq!(found, (260.0, 250.0, "IEC 62386-101".to_owned()));
}

#[test]
fn a_member_310_m_away_is_too_far() {
    // Controller and sensors; the cupboard is one metre the other way.
    let (status, verdicts) = check(&site("309 m", 2, "cable: bus-2x1.5"), &[]);
    assert_eq!(status, Some(1));
    let (found, limit, source) = broken(&verdicts, "bus-distance");
    assert_eq!((found, limit), (310.0, 300.0));
    assert!(source.contains("bus guides"), "{source}");
}

#[test]
fn a_loss_of_2_1_v_is_too_much() {
    // 40 sensors of 6 mA at 297 m, both wires of 1.5 mm² at 75 °C: 2 · 12.1 Ω/km · (1 + 0.00393 ·
    // 55) · 0.297 km · 0.240 A = 2.10 V (IEC 60228, α of copper at 20 °C).
    let change = [(
        "guaranteed: 190 mA, maximum: 240 mA",
        "guaranteed: 245 mA, maximum: 250 mA",
    )];
    let loops = "count: 1, cable: bus-2x1.5, controller: loop-controller-4, temperature: 75 °C";
    let (status, verdicts) = check(&site("297 m", 40, loops), &change);
    assert_eq!(status, Some(1));
    let (found, limit, source) = broken(&verdicts, "bus-voltage-drop");
    assert!((found - 2.0979).abs() < 0.005, "{found} V");
    assert_eq!(limit, 2.0);
    assert!(source.contains("IEC 62386-101"), "{source}");
}

#[test]
fn left_to_the_program_none_of_these_is_broken() {
    let (status, verdicts) = check(&site("60 m", 40, "keep_rooms_whole: yes"), &[]);
    assert_eq!(status, Some(0));
    let broken = verdicts.iter().filter(|v| v["verdict"] == "broken");
    assert_eq!(broken.count(), 0);
}
