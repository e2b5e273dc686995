//! What stands to the right of a place on the strip, seen from that place: a linear network with
//! one terminal per rail, as admittances and currents.
//!
//! All rails are counted in volts *lost*: the plus rail down from the supply, each return rail up
//! from the supply's negative. In these every feed ends at zero and every string drives current
//! into its two rails, so nothing large is subtracted from something large. A terminal's current
//! is `j = Y·w − s`. Crossing a stretch of rail with resistances `R` gives
//! `w = (I + R·Y)⁻¹·(w_left + R·s)` and `Y_left = Y·(I + R·Y)⁻¹`: no division by `R`, so a rail or
//! a core without resistance is exact.
//!
//! `I + R·Y` has positive leading minors exactly when the network is stable (its Jacobian is
//! positive definite); where one is not, crossing ends in `None`.

/// Figures of the plus rail and up to two return rails.
pub(super) type Rails = [f64; 3];

/// Rails whose volts lost are zero at a place: a feed without resistance is there.
pub(super) type Held = [bool; 3];

/// One segment's strings as straight lines about their present voltages: current into the rails
/// is `constant − slope·(volts lost in plus and return)`, per lit channel.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Line {
    pub(super) slope: [f64; 2],
    pub(super) constant: [f64; 2],
}

/// The network to the right of a place.
pub(super) trait Block: Sized {
    /// How the volts lost at a place follow from those at its left neighbour.
    type Step: Step;

    /// Nothing: the strip ends.
    fn open_end() -> Self;

    /// Joins a feed's cores, as conductances to zero.
    fn join_feed(&mut self, conductance: Rails);

    /// Joins one segment's strings.
    fn join_load(&mut self, line: &Line);

    /// The same network seen from the left end of a stretch of rail.
    fn cross(self, ohms: Rails, held: Held) -> Option<(Self, Self::Step)>;

    /// Volts lost here when nothing more stands to the left.
    fn settle(self, held: Held) -> Option<Rails>;
}

/// Carries volts lost from a place to its right neighbour.
pub(super) trait Step {
    fn apply(&self, left: Rails) -> Rails;
}

/// The conductance by which a held rail is seen across `ohms`.
pub(super) fn through(ohms: f64) -> f64 {
    if ohms > 0.0 { 1.0 / ohms } else { 0.0 }
}
