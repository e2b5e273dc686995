//! The project that a command works on.

use super::{Failure, Output};
use crate::diagnostic::render::plain;
use crate::diagnostic::{Diagnostics, Source};
use crate::load;
use crate::pipeline;
use crate::present::document::changes::{difference, start};
use crate::present::job::Job;
use clap::Args;
use std::sync::Arc;

/// Which project.
#[derive(Debug, Clone, Args)]
pub struct Input {
    /// The project file; - reads it from standard input
    #[arg(value_name = "PROJECT")]
    pub project: String,
    /// Choose everything anew, as if nothing had been issued, and say how that differs
    #[arg(long)]
    pub afresh: bool,
}

impl Input {
    /// The project of that path, starting from what was issued of it.
    #[must_use]
    pub fn of(project: &str) -> Input {
        Input {
            project: project.to_owned(),
            afresh: false,
        }
    }

    /// Reads the project and works everything out. Warnings about the files are messages, and so
    /// is what the answer starts from when something was issued.
    ///
    /// # Errors
    /// Everything that is wrong with the files, or that can't be laid out.
    pub fn job(&self, out: &mut Output) -> Result<Job, Failure> {
        let source = load::opened(&self.project).map_err(|fault| complaints(fault.into()))?;
        self.job_of(source, out)
    }

    /// The same of the project's text, which was read from its path.
    ///
    /// # Errors
    /// Everything that is wrong with the files, or that can't be laid out.
    pub fn job_of(&self, source: Arc<Source>, out: &mut Output) -> Result<Job, Failure> {
        let (job, warnings) = self.worked_out(&source, self.afresh)?;
        print_warnings(&warnings, out);
        if let Some(sentence) = start(&job) {
            out.message(&sentence);
        }
        if job.project.issued.afresh && job.project.issued.record.is_some() {
            let (held, _) = self.worked_out(&source, false)?;
            out.message(&difference(&job, &held));
        }
        Ok(job)
    }

    fn worked_out(
        &self,
        source: &Arc<Source>,
        afresh: bool,
    ) -> Result<(Job, Diagnostics), Failure> {
        pipeline::job_of(Arc::clone(source), &self.project, afresh).map_err(complaints)
    }
}

/// Warnings about files are messages.
pub(super) fn print_warnings(warnings: &Diagnostics, out: &mut Output) {
    for warning in shown(warnings) {
        out.message(&warning);
    }
}

/// A failure that shows every complaint about files.
pub(super) fn complaints(complaints: Diagnostics) -> Failure {
    Failure::shown(shown(&complaints))
}

/// Each complaint laid out, with an empty line after it.
pub(super) fn shown(complaints: &Diagnostics) -> Vec<String> {
    let complaints = complaints.in_order().into_iter();
    complaints.map(|one| format!("{}\n", plain(one))).collect()
}
