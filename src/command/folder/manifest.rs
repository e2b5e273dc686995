//! What was written into a folder, by name and SHA-256: one line a file, as `sha256sum` reads it.

use super::super::Failure;
use sha2::{Digest as _, Sha256};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs::File;
use std::io::ErrorKind;
use std::path::Path;

/// Its file.
pub(super) const MANIFEST: &str = "report.sha256";

const HEAD: &str = "\
# Written by feedpoint report, which overwrites only what is still as it wrote it.
# To see what was changed: sha256sum --check report.sha256
";

/// The SHA-256 of a file's contents.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Digest([u8; 32]);

impl Digest {
    #[cfg(test)]
    pub(super) fn of(bytes: &[u8]) -> Digest {
        Digest(Sha256::digest(bytes).into())
    }

    /// Of a file, read piece by piece.
    pub(super) fn of_file(path: &Path) -> std::io::Result<Digest> {
        let mut hash = Sha256::new();
        std::io::copy(&mut File::open(path)?, &mut Hashing(&mut hash))?;
        Ok(Digest::from(hash))
    }

    fn parsed(text: &str) -> Option<Digest> {
        let mut digest = [0; 32];
        if text.len() != 2 * digest.len() {
            return None;
        }
        for (index, byte) in digest.iter_mut().enumerate() {
            let two = text.get(2 * index..2 * index + 2)?;
            *byte = u8::from_str_radix(two, 16).ok()?;
        }
        Some(Digest(digest))
    }
}

impl From<Sha256> for Digest {
    fn from(hash: Sha256) -> Digest {
        Digest(hash.finalize().into())
    }
}

/// Hashes what is written into it.
struct Hashing<'a>(&'a mut Sha256);

impl std::io::Write for Hashing<'_> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.update(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

impl std::fmt::Display for Digest {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        self.0.iter().try_for_each(|byte| write!(f, "{byte:02x}"))
    }
}

/// Files by name. While files change places a name has two digests.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(super) struct Manifest {
    files: BTreeMap<String, BTreeSet<Digest>>,
}

impl Manifest {
    /// The folder's; empty when it has none.
    pub(super) fn read(folder: &Path) -> Result<Manifest, Failure> {
        let path = folder.join(MANIFEST);
        let said = |what: String| {
            Failure::saying(format!(
                "{}{what}; no document was changed: write to another folder (--out), or overwrite \
                 what is there (--force)",
                path.display()
            ))
        };
        let text = match std::fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Manifest::default()),
            Err(error) => return Err(said(format!(": can't be read: {error}"))),
        };
        Manifest::parsed(&text)
            .map_err(|line| said(format!(", line {line}: is no SHA-256 and plain file name")))
    }

    /// The line, from 1, that can't be read.
    fn parsed(text: &str) -> Result<Manifest, usize> {
        let mut manifest = Manifest::default();
        for (number, line) in (1_usize..).zip(text.lines()) {
            if line.is_empty() || line.starts_with('#') {
                continue;
            }
            let parts = line.split_once("  ");
            let known = parts.and_then(|(digest, name)| {
                let digest = Digest::parsed(digest)?;
                is_plain(name).then_some((name, digest))
            });
            let (name, digest) = known.ok_or(number)?;
            manifest.insert(name, digest);
        }
        Ok(manifest)
    }

    pub(super) fn text(&self) -> String {
        let mut text = HEAD.to_owned();
        for (name, digests) in &self.files {
            for digest in digests {
                let _ = writeln!(text, "{digest}  {name}");
            }
        }
        text
    }

    pub(super) fn insert(&mut self, name: &str, digest: Digest) {
        self.files
            .entry(name.to_owned())
            .or_default()
            .insert(digest);
    }

    pub(super) fn has(&self, name: &str, digest: Digest) -> bool {
        self.files
            .get(name)
            .is_some_and(|known| known.contains(&digest))
    }

    /// Both together.
    pub(super) fn with(&self, other: &Manifest) -> Manifest {
        let mut both = self.clone();
        for (name, digests) in &other.files {
            let known = both.files.entry(name.clone()).or_default();
            known.extend(digests);
        }
        both
    }

    /// The files that are not in `other`.
    pub(super) fn others(&self, other: &Manifest) -> Vec<(String, BTreeSet<Digest>)> {
        let files = self.files.iter();
        files
            .filter(|(name, _)| !other.files.contains_key(*name))
            .map(|(name, digests)| (name.clone(), digests.clone()))
            .collect()
    }
}

/// A name without any folder: what stands in the file may come from anyone.
fn is_plain(name: &str) -> bool {
    let plain = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.');
    !name.is_empty() && !name.starts_with('.') && name != MANIFEST && name.chars().all(plain)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn digests_are_those_of_the_standard() {
        // FIPS 180-4, the example "abc" of the secure hash standard's published examples.
        assert_eq!(
            Digest::of(b"abc").to_string(),
            "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
        );
    }

    #[test]
    fn what_is_written_is_read_again() {
        let mut manifest = Manifest::default();
        manifest.insert("b.csv", Digest::of(b"two"));
        manifest.insert("a.csv", Digest::of(b"one"));
        manifest.insert("a.csv", Digest::of(b"another"));
        assert_eq!(Manifest::parsed(&manifest.text()), Ok(manifest));
    }

    #[test]
    fn names_that_lead_elsewhere_are_refused() {
        let digest = Digest::of(b"x");
        for name in [
            "../a",
            "/etc/passwd",
            "a/b",
            "c:\\d",
            "",
            ".hidden",
            MANIFEST,
        ] {
            let text = format!("# head\n{digest}  {name}\n");
            assert_eq!(Manifest::parsed(&text), Err(2), "{name}");
        }
        assert_eq!(Manifest::parsed("abc  a.csv"), Err(1));
    }
}
