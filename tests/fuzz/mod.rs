//! Files spoilt at random, by a generator that begins from the same seed each time: whatever is
//! read ends without a panic, in messages of bounded size in which nothing acts on a terminal.
//!
//! A target is a file here and a line in `TARGETS`. `FEEDPOINT_FUZZ=100000` sets the inputs a
//! target is given.

mod catalogue;
mod project;
mod quantity;
mod readings;
mod record;
mod spoil;
mod strip_case;
mod take_off;
mod workbook;

use spoil::Spoiler;
use std::panic::{AssertUnwindSafe, catch_unwind};

/// Inputs a target is given when nothing else is asked for.
const USUAL: usize = 60;

/// Bytes of messages that one input may cause.
const MOST_TOLD: usize = 4 * 1024 * 1024;

/// Something that reads what people write.
struct Target {
    name: &'static str,
    /// Good inputs, which are spoilt.
    corpus: fn() -> Vec<String>,
    /// Reads an input and gives everything that it tells of it.
    read: fn(&str) -> String,
}

const TARGETS: &[Target] = &[
    catalogue::TARGET,
    project::TARGET,
    quantity::TARGET,
    readings::TARGET,
    record::TARGET,
    strip_case::TARGET,
    take_off::TARGET,
    workbook::TARGET,
];

fn inputs_asked_for() -> usize {
    match std::env::var("FEEDPOINT_FUZZ") {
        Ok(text) => text.parse().expect("FEEDPOINT_FUZZ is a whole number"),
        Err(_) => USUAL,
    }
}

/// What is wrong with how an input was taken.
fn fault(target: &Target, input: &str) -> Option<String> {
    let Ok(told) = catch_unwind(AssertUnwindSafe(|| (target.read)(input))) else {
        return Some("panics".to_owned());
    };
    if told.len() > MOST_TOLD {
        return Some(format!("tells {} bytes", told.len()));
    }
    let raw = told.chars().find(|c| c.is_control() && *c != '\n');
    raw.map(|raw| format!("tells {raw:?} as it is"))
}

#[test]
fn spoilt_inputs_are_told_of_without_a_panic() {
    let inputs = inputs_asked_for();
    for target in TARGETS {
        let corpus = (target.corpus)();
        assert!(!corpus.is_empty(), "{} has nothing to spoil", target.name);
        let mut spoiler = Spoiler::new(target.name);
        for number in 0..inputs {
            let input = spoiler.spoilt(&corpus[number % corpus.len()]);
            if let Some(fault) = fault(target, &input) {
                let path = std::env::temp_dir().join(format!("feedpoint-{}.txt", target.name));
                std::fs::write(&path, &input).expect("written");
                panic!(
                    "{}: input {number} {fault}: {}",
                    target.name,
                    path.display()
                );
            }
        }
    }
}

#[test]
fn good_inputs_are_taken_as_they_are() {
    for target in TARGETS {
        for input in (target.corpus)() {
            assert_eq!(fault(target, &input), None, "{}", target.name);
        }
    }
}

#[test]
fn what_is_looked_for_would_be_found() {
    let target = |read: fn(&str) -> String| Target {
        name: "made up",
        corpus: Vec::new,
        read,
    };
    let raw = fault(&target(str::to_owned), "a\u{1b}[2J");
    assert_eq!(raw.as_deref(), Some("tells '\\u{1b}' as it is"));
    let long = fault(&target(|input| input.repeat(MOST_TOLD)), "ab");
    assert_eq!(long, Some(format!("tells {} bytes", 2 * MOST_TOLD)));
    let panics = fault(&target(|_| unreachable!("on purpose")), "a");
    assert_eq!(panics.as_deref(), Some("panics"));
}

#[test]
fn the_same_name_spoils_the_same_way_and_another_does_not() {
    let text = "format: 1\nruns: []\n";
    let some = |seed| {
        let mut spoiler = Spoiler::new(seed);
        (0..50).map(|_| spoiler.spoilt(text)).collect::<Vec<_>>()
    };
    assert_eq!(some("a"), some("a"));
    assert_ne!(some("a"), some("b"));
}
