//! Strip cases.

use super::Target;
use feedpoint::load::strip_case::strip_case_from_text;

const CASE: &str = "format: 1\nsupply: 24 V\nlength: 5 m\nstrip:\n  kind: single colour\n  voltage: 24 V\n  \
    cut: 50 mm\n  light_source: resistor\n  power: 9.6 W/m\n  light_starts_at: 17 V\n  rails: {common: 30 mΩ/m, return: 30 mΩ/m}\n\
    feeds:\n  - {at: 0 m, cable: {length: 4 m, area: 1.5 mm², conductor: class 5, temperature: 30 °C}}\n";

pub(super) const TARGET: Target = Target {
    name: "strip-case",
    corpus: || {
        vec![
            CASE.to_owned(),
            include_str!("../data/bad/case-feeds.yaml").to_owned(),
            include_str!("../data/bad/case-no-feeds.yaml").to_owned(),
        ]
    },
    read: |text| match strip_case_from_text("case.yaml", text) {
        Ok(_) => String::new(),
        Err(told) => told.to_string(),
    },
};
