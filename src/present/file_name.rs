//! File names made from names that people gave: they stay in their folder, hold on every file
//! system, and no two are the same.

use std::collections::HashSet;

/// Characters kept of a name.
const MOST: usize = 60;

/// A file name without ending for each of `names`, which begins with `prefix` and a hyphen. Where
/// two come out the same, also but for capitals, the later one gets a number.
#[must_use]
pub fn file_names(prefix: &str, names: &[&str]) -> Vec<String> {
    // Without capitals.
    let mut taken: HashSet<String> = HashSet::with_capacity(names.len());
    let mut free = |name: &String| taken.insert(name.to_ascii_lowercase());
    let found = names.iter().map(|name| {
        let own = format!("{prefix}-{}", plain(name));
        let numbered = (2_usize..).map(|number| format!("{own}-{number}"));
        let mut candidates = std::iter::once(own.clone()).chain(numbered);
        candidates.find(&mut free).unwrap_or(own)
    });
    found.collect()
}

/// Letters and figures of ASCII, hyphens and underscores; everything else is a hyphen.
fn plain(name: &str) -> String {
    let kept = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let characters = name.chars().take(MOST);
    characters.map(|c| if kept(c) { c } else { '-' }).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_name_leaves_its_folder() {
        let found = file_names(
            "run",
            &["../../etc/passwd", "a<&\"b", "c:\\d", "", "hall-cove"],
        );
        assert_eq!(
            found,
            [
                "run-------etc-passwd",
                "run-a---b",
                "run-c--d",
                "run-",
                "run-hall-cove"
            ]
        );
    }

    #[test]
    fn no_two_are_the_same() {
        let found = file_names("run", &["a b", "a/b", "A-B", "a-b-2"]);
        assert_eq!(found, ["run-a-b", "run-a-b-2", "run-A-B-3", "run-a-b-2-2"]);
    }

    #[test]
    fn long_names_are_cut() {
        let long = "x".repeat(500);
        let found = file_names("run", &[&long, &long]);
        assert!(found.iter().all(|name| name.len() < 80));
        assert_ne!(found[0], found[1]);
    }
}
