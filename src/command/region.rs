//! Regions on the command line, in the project file's words.

use crate::norms::region::Region;
use clap::builder::{PossibleValuesParser, TypedValueParser};

/// Reads the name of a region.
pub(super) fn parser() -> impl TypedValueParser<Value = Region> {
    let names = Region::ALL.map(Region::name);
    PossibleValuesParser::new(names).map(|name| {
        let mut regions = Region::ALL.into_iter();
        regions
            .find(|region| region.name() == name)
            .unwrap_or(Region::Iec)
    })
}
