//! The README's examples: each is run, and its output compared with what the README shows.
//!
//! In a `console` block a line that begins with `$ ` is a command; the lines below it are what it
//! prints. A line of `…` alone stands for any number of lines. With `FEEDPOINT_ACCEPT` set, blocks
//! without such a line are rewritten.

use std::path::{Path, PathBuf};
use std::process::Command;

struct Example {
    /// Line of the command in the README, from 1.
    line: usize,
    command: String,
    shown: Vec<String>,
}

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn readme() -> String {
    std::fs::read_to_string(root().join("README.md")).expect("a README")
}

fn examples(text: &str) -> Vec<Example> {
    let mut found: Vec<Example> = Vec::new();
    let mut inside = false;
    for (index, line) in text.lines().enumerate() {
        if line.starts_with("```") {
            inside = line == "```console";
        } else if inside && let Some(command) = line.strip_prefix("$ ") {
            let command = command.to_owned();
            found.push(Example {
                line: index + 1,
                command,
                shown: Vec::new(),
            });
        } else if inside && let Some(example) = found.last_mut() {
            example.shown.push(line.to_owned());
        }
    }
    found
}

/// Runs a command in a copy of the demo, so that nothing in the tree is written.
fn run(command: &str, folder: &Path) -> Vec<String> {
    let command = command.replace("cargo run --release --", "feedpoint");
    let words = shlex::split(&command).expect("a command line");
    let (program, arguments) = words.split_first().expect("a program");
    assert_eq!(
        program, "feedpoint",
        "the README runs something else: {command}"
    );
    let output = Command::new(env!("CARGO_BIN_EXE_feedpoint"))
        .args(arguments)
        .current_dir(folder)
        .env("COLUMNS", "100")
        .env("LC_ALL", "C.UTF-8")
        .env_remove("NO_COLOR")
        .output()
        .expect("the program runs");
    let mut text = String::from_utf8(output.stdout).expect("text");
    text.push_str(&String::from_utf8(output.stderr).expect("text"));
    text.lines()
        .map(|line| line.trim_end().to_owned())
        .collect()
}

fn copy_demo(to: &Path) {
    let from = root().join("catalogue-examples");
    let into = to.join("catalogue-examples");
    std::fs::create_dir_all(&into).expect("a folder");
    for entry in std::fs::read_dir(from).expect("the demo") {
        let path = entry.expect("an entry").path();
        if path.is_file() {
            std::fs::copy(&path, into.join(path.file_name().expect("a name"))).expect("a copy");
        }
    }
}

/// Whether what was printed is what is shown, `…` standing for any lines.
fn agrees(shown: &[String], printed: &[String]) -> bool {
    match shown.iter().position(|line| line == "…") {
        None => shown == printed,
        Some(at) => {
            let (head, tail) = (&shown[..at], &shown[at + 1..]);
            printed.len() >= head.len()
                && printed[..head.len()] == *head
                && (head.len()..=printed.len()).any(|from| agrees(tail, &printed[from..]))
        }
    }
}

fn accepted(text: &str, example: &Example, printed: &[String]) -> String {
    let mut lines: Vec<&str> = text.lines().collect();
    let printed: Vec<&str> = printed.iter().map(String::as_str).collect();
    lines.splice(example.line..example.line + example.shown.len(), printed);
    lines.join("\n") + "\n"
}

#[test]
fn every_example_prints_what_the_readme_shows() {
    let accept = std::env::var_os("FEEDPOINT_ACCEPT").is_some();
    let mut text = readme();
    let all = examples(&text);
    assert!(all.len() >= 5, "only {} examples in the README", all.len());
    let mut wrong = Vec::new();
    for example in all.iter().rev() {
        // A copy of its own: what one example issues must not be found by the next.
        let folder = tempfile::tempdir().expect("a folder");
        copy_demo(folder.path());
        let printed = run(&example.command, folder.path());
        if agrees(&example.shown, &printed) {
            continue;
        }
        if accept && !example.shown.iter().any(|line| line == "…") {
            text = accepted(&text, example, &printed);
        } else {
            let (command, line) = (&example.command, example.line);
            wrong.push(format!(
                "README.md:{line}: $ {command}\n{}",
                printed.join("\n")
            ));
        }
    }
    if accept {
        std::fs::write(root().join("README.md"), &text).expect("a writable README");
    }
    assert!(
        wrong.is_empty(),
        "examples that print something else:\n{}",
        wrong.join("\n\n")
    );
}
