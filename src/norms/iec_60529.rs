//! IEC 60529: what the two numerals of an ingress protection code keep out.

/// What the first numeral keeps out; `None` for a numeral the standard does not have. 0, 1 and 3
/// from memory.
#[must_use]
pub fn solids(numeral: u8) -> Option<&'static str> {
    match numeral {
        0 => Some("nothing"),
        1 => Some("50 mm"),
        2 => Some("12.5 mm"),
        3 => Some("2.5 mm"),
        4 => Some("1.0 mm"),
        5 => Some("dust-protected"),
        6 => Some("dust-tight"),
        _ => None,
    }
}

/// What the second numeral keeps out; `None` for a numeral the standard does not have. 0 to 3, 6,
/// 8 and 9 from memory.
#[must_use]
pub fn water(numeral: u8) -> Option<&'static str> {
    match numeral {
        0 => Some("nothing"),
        1 => Some("drips"),
        2 => Some("drips at 15° tilt"),
        3 => Some("spray"),
        4 => Some("splashing"),
        5 => Some("jets"),
        6 => Some("strong jets"),
        7 => Some("temporary immersion"),
        8 => Some("lasting immersion"),
        9 => Some("hot high-pressure jets"),
        _ => None,
    }
}

/// The least second numeral for a wet place: splashing. Common practice, no source.
pub const WET_PLACE: u8 = 4;

#[cfg(test)]
mod tests {
    use super::*;

    /// Those that no published row gives: IEC 60529, from memory.
    #[test]
    fn numerals_keep_out_what_is_remembered_of_them() {
        let first = [(0, "nothing"), (1, "50 mm"), (3, "2.5 mm")];
        for (numeral, kept_out) in first {
            assert_eq!(solids(numeral), Some(kept_out));
        }
        let second = [
            (0, "nothing"),
            (1, "drips"),
            (2, "drips at 15° tilt"),
            (3, "spray"),
            (6, "strong jets"),
            (8, "lasting immersion"),
            (9, "hot high-pressure jets"),
        ];
        for (numeral, kept_out) in second {
            assert_eq!(water(numeral), Some(kept_out));
        }
        assert_eq!((solids(7), water(10)), (None, None));
    }
}
