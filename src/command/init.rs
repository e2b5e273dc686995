//! `feedpoint init`: a small project and catalogue to begin from, or a project that uses a catalogue
//! which is there. Never overwrites.

mod from_catalogue;

use super::new_file::{cannot, prepared};
use super::region;
use super::{Failure, Outcome, Output};
use crate::norms::region::Region;
use std::path::{Path, PathBuf};

/// What is written: file names and texts.
type Files = Vec<(&'static str, String)>;

/// The project's file.
const PROJECT: &str = "project.yaml";

/// The project and catalogue of a region: its voltage, units, sizes and limits.
fn files(region: Region) -> Files {
    let (project, catalogue) = match region {
        Region::Iec => (
            include_str!("init/iec/project.yaml"),
            include_str!("init/iec/catalogue.yaml"),
        ),
        Region::NorthAmerica => (
            include_str!("init/north-america/project.yaml"),
            include_str!("init/north-america/catalogue.yaml"),
        ),
        Region::AusNz => (
            include_str!("init/aus-nz/project.yaml"),
            include_str!("init/aus-nz/catalogue.yaml"),
        ),
    };
    vec![
        (PROJECT, project.to_owned()),
        ("catalogue.yaml", catalogue.to_owned()),
    ]
}

/// Where to begin.
#[derive(Debug, clap::Args)]
#[command(after_help = "\
Examples:
  feedpoint init my-job
  feedpoint init my-job --region north-america
  feedpoint init my-job --from-catalogue trade.yaml")]
pub struct Args {
    /// Folder to write project.yaml and catalogue.yaml into; made when it is not there
    #[arg(default_value = ".", value_name = "DIR")]
    folder: PathBuf,
    /// Region whose voltage, units and limits they begin with: iec, or as a catalogue's cable sizes show
    #[arg(long, value_name = "REGION", value_parser = region::parser())]
    region: Option<Region>,
    /// Write a project alone, which uses the items of this catalogue
    #[arg(long, value_name = "CATALOGUE")]
    from_catalogue: Option<String>,
}

/// Writes both files, or neither.
///
/// # Errors
/// When either file is there already, or the folder can't be written.
pub fn run(args: &Args, out: &mut Output) -> Result<Outcome, Failure> {
    let folder = &args.folder;
    let (files, remarks) = match &args.from_catalogue {
        Some(catalogue) => {
            let made = from_catalogue::project(catalogue, args.region, folder)?;
            (vec![(PROJECT, made.text)], made.remarks)
        }
        None => (files(args.region.unwrap_or(Region::Iec)), Vec::new()),
    };
    refuse_existing(folder, &files)?;
    std::fs::create_dir_all(folder).map_err(|error| cannot("make the folder", folder, &error))?;
    let mut ready = Vec::new();
    for (name, text) in files {
        ready.push((folder.join(name), prepared(folder, &text)?));
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
    for remark in remarks {
        out.message(&remark);
    }
    let project = folder.join(PROJECT);
    out.message(&format!("next: feedpoint check {}", project.display()));
    Ok(Outcome::NothingBroken)
}

/// Complains when any of the files is there.
fn refuse_existing(folder: &Path, files: &Files) -> Result<(), Failure> {
    let there = files
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::terminal::Look;

    fn init(folder: &Path, region: Region) -> Result<String, Failure> {
        let (mut results, mut messages) = (Vec::new(), Vec::new());
        let look = Look {
            width: 80,
            colour: false,
            ascii: false,
        };
        let mut out = Output::new(&mut results, &mut messages, look, false);
        let folder = folder.to_owned();
        let args = Args {
            folder,
            region: Some(region),
            from_catalogue: None,
        };
        run(&args, &mut out)?;
        Ok(String::from_utf8(results).expect("UTF-8"))
    }

    #[test]
    fn ok_writes_a_project_of_each_region_that_keeps_every_rule_into_a_new_folder() {
        for region in Region::ALL {
            let scratch = tempfile::tempdir().expect("folder");
            let folder = scratch.path().join("new/job");
            let said = init(&folder, region).expect("written");
            assert_eq!(said.lines().count(), 2);
            let project = folder.join("project.yaml");
            let (job, _) = crate::pipeline::job(&project.to_string_lossy(), false).expect("sizes");
            assert_eq!(job.project.region, region);
            assert_eq!(job.sizing.runs.len(), 3);
            let unkept: Vec<_> = job
                .verdicts
                .iter()
                .filter(|verdict| verdict.outcome.is_open())
                .collect();
            assert!(unkept.is_empty(), "{unkept:#?}");
            let left = std::fs::read_dir(&folder).expect("folder").count();
            assert_eq!(left, 2, "nothing else is left behind");
        }
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
            let failure = init(folder, Region::Iec).expect_err("refused");
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
        assert!(init(&folder, Region::Iec).is_err());
    }
}
