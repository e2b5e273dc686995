//! Files made to hurt: each is refused (or read) with a message that says where. A careless reader
//! would be busy with them for hours, so a test here that ends at all has shown what it is for.

use feedpoint::load;
use std::fmt::Write as _;
use std::path::Path;

/// The code and place of the first message about a text.
fn first_fault(text: &str) -> (String, String) {
    let told = load::project_from_text("job.yaml", text, Path::new("tests/data"));
    let told = told.expect_err("refused");
    let shown = told.to_string();
    assert!(shown.len() < 200_000, "{} bytes of messages", shown.len());
    let first = told.in_order().first().copied().cloned().expect("one");
    let place = first
        .place()
        .map(|place| format!("{}:{}", place.line, place.column));
    (first.code.to_owned(), place.unwrap_or_default())
}

fn expect(text: &str, code: &str, place: &str) {
    assert_eq!(first_fault(text), (code.to_owned(), place.to_owned()));
}

#[test]
fn aliases_that_multiply_are_counted_not_expanded() {
    let mut bomb = "format: 1\na0: &a0 [x, x, x, x, x, x, x, x, x]\n".to_owned();
    for level in 1..=9 {
        let uses = vec![format!("*a{}", level - 1); 9].join(", ");
        writeln!(bomb, "a{level}: &a{level} [{uses}]").expect("written");
    }
    expect(&bomb, "too-large", "7:20");
}

#[test]
fn merges_that_multiply_are_counted_too() {
    let keys: Vec<_> = (0..10_000).map(|key| format!("k{key}: 1")).collect();
    let merges = "- {<<: *a}\n".repeat(100_000);
    let bomb = format!("format: 1\na: &a {{{}}}\nb:\n{merges}", keys.join(", "));
    assert_eq!(first_fault(&bomb).0, "too-large");
}

#[test]
fn nesting_stops_at_its_limit() {
    let flow = format!("format: 1\nproject: {}\n", "[".repeat(100_000));
    assert_eq!(first_fault(&flow).0, "too-deep");
    let closed = format!(
        "format: 1\nproject: {}{}\n",
        "[".repeat(100_000),
        "]".repeat(100_000)
    );
    assert_eq!(first_fault(&closed).0, "too-deep");
    let mut block = "format: 1\n".to_owned();
    for depth in 0..1000 {
        writeln!(block, "{}a:", " ".repeat(depth)).expect("written");
    }
    assert_eq!(
        first_fault(&block),
        ("too-deep".to_owned(), "66:65".to_owned())
    );
}

#[test]
fn a_file_of_100_mb_is_refused_unread() {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().join("huge.yaml");
    let file = std::fs::File::create(&path).expect("made");
    file.set_len(100 * 1024 * 1024).expect("sparse");
    let told = load::project(&path.to_string_lossy()).expect_err("refused");
    assert!(told.to_string().contains("larger than 16 MiB"), "{told}");
}

#[test]
fn large_files_of_one_line_or_many_are_told_of_quickly() {
    let entry = "{run: a, room: b, strip: c, length: 1, to_start: 2}, ";
    let one_line = format!("{{format: 1, runs: [{}]}}", entry.repeat(20_000));
    assert_eq!(
        first_fault(&one_line),
        ("missing-key".to_owned(), "1:2".to_owned())
    );
    let mut many = "format: 1\n".to_owned();
    for key in 0..100_000 {
        writeln!(many, "key{key}: µ").expect("written");
    }
    assert_eq!(first_fault(&many).0, "missing-key");
    let too_many = format!("format: 1\nruns: [{}]\n", "1, ".repeat(1_000_000));
    assert_eq!(first_fault(&too_many).0, "too-large");
}

#[test]
fn long_scalars_and_keys_are_cut_short_in_messages() {
    let long = "x".repeat(5_000_000);
    let told = load::project_from_text(
        "job.yaml",
        &format!("format: 1\n{long}: 1\n"),
        Path::new(""),
    );
    let shown = told.expect_err("refused").to_string();
    assert!(shown.len() < 10_000, "{} bytes", shown.len());
    let told = load::project_from_text(
        "job.yaml",
        &format!("format: 1\nregion: {long}\n"),
        Path::new(""),
    );
    let shown = told.expect_err("refused").to_string();
    assert!(shown.len() < 10_000, "{} bytes", shown.len());
}

#[test]
fn keys_twice_second_documents_and_tabs_have_their_place() {
    expect("format: 1\nruns: []\nruns: []\n", "duplicate-key", "3:1");
    expect(
        "format: 1\nruns:\n  - {run: a, run: b}\n",
        "duplicate-key",
        "3:14",
    );
    expect("format: 1\n---\nformat: 1\n", "second-document", "2:1");
    expect("format: 1\n...\n---\nformat: 1\n", "second-document", "3:1");
    expect("format: 1\nproject:\n\ttitle: a\n", "not-yaml", "3:2");
}

#[test]
fn a_byte_order_mark_and_carriage_returns_change_nothing() {
    let text = std::fs::read_to_string("src/command/init/iec/project.yaml").expect("there");
    let base = Path::new("src/command/init/iec");
    let plain = load::project_from_text("job.yaml", &text, base).expect("reads");
    let marked = format!("\u{feff}{}", text.replace('\n', "\r\n"));
    let same = load::project_from_text("job.yaml", &marked, base).expect("reads");
    assert_eq!(plain.project, same.project);
    expect("\u{feff}format: 1\nrunz: []\n", "missing-key", "1:1");
}

#[test]
fn any_bytes_are_refused_without_a_panic() {
    let good = std::fs::read("tests/data/catalogue.yaml").expect("there");
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().join("cut.yaml");
    for cut in (0..good.len()).step_by(23) {
        let mut bytes = good[..cut].to_vec();
        for junk in [
            &b"\xff"[..],
            b"\x00",
            b"]",
            b"}: [",
            b"&a *a",
            b"\"",
            b"%YAML 9",
        ] {
            bytes.truncate(cut);
            bytes.extend_from_slice(junk);
            std::fs::write(&path, &bytes).expect("written");
            assert!(
                load::catalogue(&path.to_string_lossy()).is_err(),
                "cut at {cut}, {junk:?}"
            );
        }
    }
}
