//! Printing documents on standard output in the format asked for.

use super::{Failure, Output};
use crate::present::document::{self, Document};
use crate::present::job::Job;
use crate::present::{csv, json, terminal};
use clap::{Args, ValueEnum};
use serde::Serialize;

/// How results are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Format {
    /// Tables for people
    #[default]
    Table,
    /// One JSON object, whose keys do not change within a format
    Json,
    /// Comma-separated values: each table after a line with # and its name
    Csv,
}

/// How to print.
#[derive(Debug, Clone, Args)]
pub struct Printing {
    /// How results are printed
    #[arg(long, value_enum, value_name = "FORMAT", default_value_t)]
    pub format: Format,
}

impl Printing {
    /// Prints the documents of these names, or the JSON object that holds the same.
    ///
    /// # Errors
    /// When standard output can't be written.
    pub fn print<T: Serialize>(
        &self,
        out: &mut Output,
        job: &Job,
        names: &[&str],
        object: impl FnOnce(&Job) -> T,
    ) -> Result<(), Failure> {
        let documents: Vec<Document> = names
            .iter()
            .filter_map(|name| document::named(name, job))
            .collect();
        self.print_documents(out, &documents, || object(job))
    }

    /// Prints these documents, or the JSON object that holds the same.
    ///
    /// # Errors
    /// When standard output can't be written.
    pub fn print_documents<T: Serialize>(
        &self,
        out: &mut Output,
        documents: &[Document],
        object: impl FnOnce() -> T,
    ) -> Result<(), Failure> {
        match self.format {
            Format::Table => out.result(&terminal::write(documents, out.look)),
            Format::Json => out.result(&json::text(&object()).map_err(Failure::saying)?),
            Format::Csv => out.result(&tables(documents)?),
        }
    }
}

/// Each table after a line with its name, with an empty line between two.
///
/// # Errors
/// When a table has rows that do not fit its columns, which is a fault of this program.
pub(super) fn tables(documents: &[Document]) -> Result<String, Failure> {
    let mut text = String::new();
    for document in documents {
        for file in csv::files(document).map_err(Failure::saying)? {
            if !text.is_empty() {
                text.push('\n');
            }
            text.push_str(&format!("# {}\n{}", file.name, file.text));
        }
    }
    Ok(text)
}
