//! A file while it is written: what goes into it is hashed, and what went wrong is kept, since who
//! writes may not hand it on as it was.

use super::manifest::Digest;
use sha2::{Digest as _, Sha256};
use std::fs::File;
use std::io::{BufWriter, Error, Result, Write};
use tempfile::{NamedTempFile, TempPath};

/// The file.
pub(super) struct Hashed {
    file: BufWriter<File>,
    path: TempPath,
    hash: Sha256,
    /// What went wrong last.
    trouble: Option<Error>,
}

impl Hashed {
    pub(super) fn new(file: NamedTempFile) -> Hashed {
        // Apart: together their errors would name a path that nobody asked for.
        let (file, path) = file.into_parts();
        Hashed {
            file: BufWriter::new(file),
            path,
            hash: Sha256::new(),
            trouble: None,
        }
    }

    /// The whole file, closed: a report may have more files than a process may hold open.
    pub(super) fn finish(mut self) -> Result<(TempPath, Digest)> {
        self.file.flush()?;
        Ok((self.path, Digest::from(self.hash)))
    }

    /// What went wrong last, if anything did.
    pub(super) fn trouble(self) -> Option<Error> {
        self.trouble
    }
}

impl Write for Hashed {
    fn write(&mut self, bytes: &[u8]) -> Result<usize> {
        let written = self.file.write(bytes).map_err(|error| {
            let kind = error.kind();
            self.trouble = Some(error);
            Error::from(kind)
        })?;
        self.hash.update(bytes.get(..written).unwrap_or_default());
        Ok(written)
    }

    fn flush(&mut self) -> Result<()> {
        // What is written in full is flushed in the end.
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_written_is_in_the_file_and_hashed() {
        let mut out = Hashed::new(NamedTempFile::new().unwrap());
        out.write_all(b"a").unwrap();
        out.write_all(b"bc").unwrap();
        let (path, digest) = out.finish().unwrap();
        assert_eq!(std::fs::read(&path).unwrap(), b"abc");
        assert!(digest == Digest::of(b"abc"));
    }

    #[test]
    fn what_went_wrong_is_kept() {
        // Nobody may write into a file that was opened to be read.
        let path = NamedTempFile::new().unwrap().into_temp_path();
        let reading = File::open(&path).unwrap();
        let mut out = Hashed::new(NamedTempFile::from_parts(reading, path));
        let more_than_waits = vec![0; 100_000];
        assert!(out.write_all(&more_than_waits).is_err());
        let trouble = out.trouble().unwrap();
        assert!(trouble.raw_os_error().is_some(), "{trouble:?}");
    }
}
