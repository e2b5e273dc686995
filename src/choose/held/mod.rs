//! What was issued stays: a run is fed, a section hangs on its driver and a cable keeps its number
//! as they were issued, unless that breaks a limit or the project asks for something else.

mod cable;
mod driver;
mod feed;

pub(super) use cable::Numbers;
pub(super) use driver::Wanted;
pub(super) use feed::as_issued;
