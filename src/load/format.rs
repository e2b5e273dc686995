//! The `format` key: which version of the file format a file is written in.

use super::desk::Desk;
use super::node::{Content, Node};
use super::written::{Reads, Unread};
use crate::diagnostic::Diagnostic;
use schemars::{Schema, json_schema};

/// The format this program writes and reads.
pub const FORMAT: u32 = 1;

/// The value of `format`.
#[derive(Debug)]
pub struct FormatNumber;

impl Reads for FormatNumber {
    type Value = u32;
    const NAME: &'static str = "Format";

    fn what() -> String {
        "the number of the file format".to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"const": FORMAT})
    }

    fn read(text: &str) -> Result<u32, Unread> {
        match text.parse::<u32>() {
            Ok(FORMAT) => Ok(FORMAT),
            Ok(newer) if newer > FORMAT => {
                let message = format!(
                    "format {newer} is newer than this program, which reads format {FORMAT}: \
                     use a newer version of the program"
                );
                Err(Unread::new("newer-format", message))
            }
            _ => {
                let message = format!("`{text}` is not a format: write `format: {FORMAT}`");
                Err(Unread::new("bad-format", message))
            }
        }
    }
}

/// Whether a file says that it is in this format. When not, nothing else in it can be judged.
pub fn check(root: &Node, desk: &mut Desk) -> bool {
    let Some(entry) = root.entry("format") else {
        if !matches!(root.content, Content::Mapping(_)) {
            return true;
        }
        let missing = Diagnostic::error("missing-format", "`format` is missing")
            .at(&desk.source, root.span.clone())
            .help(format!("begin the file with `format: {FORMAT}`"));
        desk.complaints.push(missing);
        return false;
    };
    let Content::Scalar { text, .. } = &entry.value.content else {
        return true;
    };
    match FormatNumber::read(text) {
        Ok(_) => true,
        Err(unread) => {
            let fault = Diagnostic::error(unread.code, unread.message);
            desk.complaints
                .push(fault.at(&desk.source, entry.value.span.clone()));
            false
        }
    }
}
