//! What may be on at once on a driver.

use crate::model::driver::{Driver, Mixing};
use crate::solve::strip::Lit;

/// What a driver can have on at once; what it takes to feed it follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sharing {
    /// One channel.
    Single,
    /// Two whites that share full power and are never on together.
    Alternating,
    /// Two whites that share full power, with pulses that may overlap.
    Shared,
    /// Two whites that may both be full on, or of which nothing else is known.
    Full,
}

impl Sharing {
    /// The sharing of a driver with a strip of `channels`.
    #[must_use]
    pub fn of(driver: &Driver, channels: usize) -> Sharing {
        match (channels, driver.output.mixing) {
            (1, _) => Sharing::Single,
            (_, Some(Mixing::Interleaved)) => Sharing::Alternating,
            (_, Some(Mixing::Shared)) => Sharing::Shared,
            (_, Some(Mixing::BothFull) | None) => Sharing::Full,
        }
    }

    /// The states that can occur, the one that strains the strip most first.
    #[must_use]
    pub fn states(self) -> &'static [Lit] {
        match self {
            Sharing::Single => &[Lit::On],
            Sharing::Alternating => &[Lit::Warm, Lit::Cool],
            Sharing::Shared | Sharing::Full => &[Lit::Both, Lit::Warm, Lit::Cool],
        }
    }

    /// Whether the driver gives both whites their full power at once.
    #[must_use]
    pub fn adds_up(self) -> bool {
        self == Sharing::Full
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_what_gives_both_whites_their_full_power_adds_up() {
        let all = [
            (Sharing::Single, 1, false),
            (Sharing::Alternating, 2, false),
            (Sharing::Shared, 3, false),
            (Sharing::Full, 3, true),
        ];
        for (sharing, states, adds_up) in all {
            assert_eq!(sharing.states().len(), states, "{sharing:?}");
            assert_eq!(sharing.adds_up(), adds_up, "{sharing:?}");
            // What adds up, and nothing that is never on together, strains a strip with both on.
            let both = sharing.states().contains(&Lit::Both);
            assert_eq!(both, states == 3, "{sharing:?}");
        }
    }
}
