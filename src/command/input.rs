//! The project that a command works on.

use super::{Failure, Output};
use crate::diagnostic::Diagnostics;
use crate::diagnostic::render::plain;
use crate::pipeline;
use crate::present::job::Job;
use clap::Args;

/// Which project.
#[derive(Debug, Clone, Args)]
pub struct Input {
    /// The project file; - reads it from standard input
    #[arg(value_name = "PROJECT")]
    pub project: String,
}

impl Input {
    /// The project of that path.
    #[must_use]
    pub fn of(project: &str) -> Input {
        Input {
            project: project.to_owned(),
        }
    }

    /// Reads the project and works everything out. Warnings about the files are messages.
    ///
    /// # Errors
    /// Everything that is wrong with the files, or that can't be laid out.
    pub fn job(&self, out: &mut Output) -> Result<Job, Failure> {
        match pipeline::job(&self.project) {
            Ok((job, warnings)) => {
                for warning in shown(&warnings) {
                    out.message(&warning);
                }
                Ok(job)
            }
            Err(complaints) => Err(Failure::shown(shown(&complaints))),
        }
    }
}

/// Each complaint laid out, with an empty line after it.
fn shown(complaints: &Diagnostics) -> Vec<String> {
    let complaints = complaints.in_order().into_iter();
    complaints.map(|one| format!("{}\n", plain(one))).collect()
}
