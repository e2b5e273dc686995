//! The known name nearest to one that is not known.

/// How alike two names must be, from 0 to 1, for one to be offered for the other.
const ALIKE: f64 = 0.82;

/// The known name most like `name`, when any is like it at all. The first of equals.
#[must_use]
pub fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let mut best: Option<(f64, &str)> = None;
    let asked = name.to_lowercase();
    for candidate in known {
        let alike = strsim::jaro_winkler(&asked, &candidate.to_lowercase());
        if alike >= ALIKE && best.is_none_or(|(before, _)| alike > before) {
            best = Some((alike, candidate));
        }
    }
    best.map(|(_, candidate)| candidate)
}

/// The end of a message about an unknown name: ` (did you mean …?)`, or the known names when
/// there are few, or nothing.
#[must_use]
pub fn hint(name: &str, known: &[&str]) -> String {
    match nearest(name, known.iter().copied()) {
        Some(near) => format!(" (did you mean `{near}`?)"),
        None if (1..=8).contains(&known.len()) => {
            format!(" (known: {})", known.join(", "))
        }
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ok_near_names_are_offered_and_far_ones_are_not() {
        let strips = ["white-single-24-14", "white-pair-24-19"];
        assert_eq!(nearest("white-pair-24", strips), Some("white-pair-24-19"));
        assert_eq!(nearest("lenght", ["length", "light"]), Some("length"));
        assert_eq!(nearest("Colour", ["colour"]), Some("colour"));
        assert_eq!(nearest("frieze", ["panel", "cupboard"]), None);
    }
}
