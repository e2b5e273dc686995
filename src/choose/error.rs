//! Why a project can't be sized at all. What can be sized but keeps no limit is not an error: see
//! [`super::sized::Unmet`].

use crate::diagnostic::Place;
use crate::quantity::figure::Figure;
use crate::solve::strip_model::StripError;

/// Why a run can't be sized.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum ChooseError {
    /// No cable of the catalogue can feed it.
    #[error(
        "run `{run}`: no cable in the catalogue for strip feeds has {cores} cores or more and a \
         size whose resistance is known"
    )]
    NoCable {
        /// The run.
        run: String,
        /// Cores it needs.
        cores: usize,
        /// Where the run stands.
        place: Place,
    },
    /// No cupboard to stand its driver in.
    #[error(
        "run `{run}`: no route leads from a cupboard to `{room}`, so `cupboard: auto` can't be met"
    )]
    NoCupboard {
        /// The run.
        run: String,
        /// Its room.
        room: String,
        /// Where the run stands.
        place: Place,
    },
    /// Neither of its ends can be reached.
    #[error("run `{run}`: give the length of cable to at least one end, `to_start` or `to_end`")]
    NoWay {
        /// The run.
        run: String,
        /// Where the run stands.
        place: Place,
    },
    /// Its strip's figures contradict each other.
    #[error("run `{run}`: {error}")]
    Strip {
        /// The run.
        run: String,
        /// What is wrong with the strip.
        error: StripError,
        /// Where the strip stands in its catalogue.
        place: Place,
    },
    /// It is shorter than one segment.
    #[error("run `{run}`: {length} is shorter than one segment of {segment}")]
    TooShort {
        /// The run.
        run: String,
        /// Its length.
        length: Figure,
        /// Length of a segment.
        segment: Figure,
        /// Where the run stands.
        place: Place,
    },
    /// It has more segments than can be worked out in reasonable time.
    #[error(
        "run `{run}`: {segments} segments between cut marks are too many: at most {most}, so make \
         it several runs"
    )]
    TooManySegments {
        /// The run.
        run: String,
        /// Its segments.
        segments: usize,
        /// How many it may have.
        most: usize,
        /// Where the run stands.
        place: Place,
    },
}

impl ChooseError {
    /// Where in the files the thing to change stands.
    #[must_use]
    pub fn place(&self) -> &Place {
        match self {
            ChooseError::NoCable { place, .. }
            | ChooseError::NoCupboard { place, .. }
            | ChooseError::NoWay { place, .. }
            | ChooseError::Strip { place, .. }
            | ChooseError::TooShort { place, .. }
            | ChooseError::TooManySegments { place, .. } => place,
        }
    }
}
