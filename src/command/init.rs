//! `feedpoint init`: a small project and catalogue to begin from. Never overwrites.

use super::{Failure, Outcome, Output};
use std::io::Write;
use std::path::{Path, PathBuf};
use tempfile::{Builder, NamedTempFile};

/// What is written: file names and texts.
const FILES: [(&str, &str); 2] = [
    ("project.yaml", include_str!("init/project.yaml")),
    ("catalogue.yaml", include_str!("init/catalogue.yaml")),
];

/// Where to begin.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Example:
  feedpoint init my-job")]
pub struct Args {
    /// Folder to write project.yaml and catalogue.yaml into; made when it is not there
    #[arg(default_value = ".", value_name = "DIR")]
    folder: PathBuf,
}

/// Writes both files, or neither.
///
/// # Errors
/// When either file is there already, or the folder can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let folder = &args.folder;
    refuse_existing(folder)?;
    std::fs::create_dir_all(folder).map_err(|error| cannot("make the folder", folder, &error))?;
    let mut ready = Vec::new();
    for (name, text) in FILES {
        ready.push((folder.join(name), prepared(folder, text)?));
    }
    let mut written: Vec<PathBuf> = Vec::new();
    for (path, file) in ready {
        if let Err(error) = file.persist_noclobber(&path) {
            for path in &written {
                let _ = std::fs::remove_file(path);
            }
            return Err(cannot("write", &path, &error.error));
        }
        written.push(path);
    }
    for path in &written {
        out.result(&format!("wrote {}\n", path.display()))?;
    }
    let project = folder.join("project.yaml");
    out.message(&format!("next: feedpoint check {}", project.display()));
    Ok(Outcome::NothingBroken)
}

/// Complains when any of the files is there.
fn refuse_existing(folder: &Path) -> Result<(), Failure> {
    let there = FILES
        .iter()
        .map(|(name, _)| folder.join(name))
        .find(|path| path.symlink_metadata().is_ok());
    match there {
        Some(path) => Err(Failure::saying(format!(
            "{} is there already, and nothing was written: give another folder",
            path.display()
        ))),
        None => Ok(()),
    }
}

/// The text in a file beside its place, complete before it gets its name.
fn prepared(folder: &Path, text: &str) -> Result<NamedTempFile, Failure> {
    let mut builder = Builder::new();
    builder.prefix(".feedpoint-");
    readable_by_all(&mut builder);
    let written = builder.tempfile_in(folder).and_then(|mut file| {
        file.write_all(text.as_bytes())?;
        file.as_file().sync_all()?;
        Ok(file)
    });
    written.map_err(|error| cannot("write into", folder, &error))
}

/// Gives the file the mode of any other new file; one made to be temporary is for its owner alone.
#[cfg(unix)]
fn readable_by_all(builder: &mut Builder<'_, '_>) {
    use std::os::unix::fs::PermissionsExt;
    builder.permissions(std::fs::Permissions::from_mode(0o666));
}

#[cfg(not(unix))]
fn readable_by_all(_: &mut Builder<'_, '_>) {}

fn cannot(what: &str, path: &Path, error: &std::io::Error) -> Failure {
    Failure::saying(format!("can't {what} {}: {error}", path.display()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::judge::verdict::Outcome;
    use crate::present::terminal::Look;

    fn init(folder: &Path) -> Result<String, Failure> {
        let (mut results, mut messages) = (Vec::new(), Vec::new());
        let look = Look {
            width: 80,
            colour: false,
            ascii: false,
        };
        let mut out = Output::new(&mut results, &mut messages, look, false);
        let folder = folder.to_owned();
        run(&Args { folder }, &mut out)?;
        Ok(String::from_utf8(results).expect("UTF-8"))
    }

    #[test]
    fn ok_writes_a_project_that_keeps_every_rule_into_a_new_folder() {
        let scratch = tempfile::tempdir().expect("folder");
        let folder = scratch.path().join("new/job");
        let said = init(&folder).expect("written");
        assert_eq!(said.lines().count(), 2);
        let project = folder.join("project.yaml");
        let (job, _) = crate::pipeline::job(&project.to_string_lossy(), false).expect("sizes");
        assert_eq!(job.sizing.runs.len(), 3);
        let unkept: Vec<_> = job
            .verdicts
            .iter()
            .filter(|verdict| {
                matches!(
                    verdict.outcome,
                    Outcome::Broken | Outcome::CannotTell { .. }
                )
            })
            .collect();
        assert!(unkept.is_empty(), "{unkept:#?}");
        let left = std::fs::read_dir(&folder).expect("folder").count();
        assert_eq!(left, 2, "nothing else is left behind");
    }

    #[test]
    fn err_never_overwrites_and_writes_nothing_then() {
        for (existing, other) in [
            ("project.yaml", "catalogue.yaml"),
            ("catalogue.yaml", "project.yaml"),
        ] {
            let scratch = tempfile::tempdir().expect("folder");
            let folder = scratch.path();
            std::fs::write(folder.join(existing), "mine").expect("written");
            let failure = init(folder).expect_err("refused");
            assert_eq!(failure.messages.len(), 1);
            assert!(failure.messages[0].contains(existing));
            assert_eq!(
                std::fs::read_to_string(folder.join(existing)).expect("there"),
                "mine"
            );
            assert!(!folder.join(other).exists());
        }
    }

    #[test]
    fn err_a_file_where_the_folder_should_be() {
        let scratch = tempfile::tempdir().expect("folder");
        let folder = scratch.path().join("taken");
        std::fs::write(&folder, "a file").expect("written");
        assert!(init(&folder).is_err());
    }
}
