//! Quantities as people write them, of every kind.

use super::Target;
use feedpoint::diagnostic::Diagnostic;
use feedpoint::quantity::{grammar, kind};

pub(super) const TARGET: Target = Target {
    name: "quantity",
    corpus: || {
        let examples = kind::ALL.iter().map(|kind| kind.example.to_owned());
        examples.chain(["1 m 20 cm".to_owned()]).collect()
    },
    read: |text| {
        let told = kind::ALL
            .iter()
            .map(|kind| match grammar::read(text, kind) {
                Ok(value) => {
                    assert!(value.is_finite(), "{text:?} is {value} {}", kind.what);
                    grammar::write(value, kind)
                }
                Err(misread) => {
                    assert!(text.get(misread.at.clone()).is_some(), "{:?}", misread.at);
                    Diagnostic::error("quantity", misread.why.to_string()).to_string()
                }
            });
        told.collect::<Vec<_>>().join("\n")
    },
};
