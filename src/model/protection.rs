//! What the project says of the protection and the supply of its mains circuits.

/// What residual currents a device answers to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum ResidualType {
    /// Alternating only.
    Ac,
    /// Alternating and pulsating direct.
    A,
    /// As A, and mixed frequencies.
    F,
    /// As F, and smooth direct.
    B,
}

impl ResidualType {
    /// All, by what they answer to.
    pub const ALL: [ResidualType; 4] = [
        ResidualType::Ac,
        ResidualType::A,
        ResidualType::F,
        ResidualType::B,
    ];

    /// The word used in files and on the device.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            ResidualType::Ac => "AC",
            ResidualType::A => "A",
            ResidualType::F => "F",
            ResidualType::B => "B",
        }
    }
}

/// What kind of premises the circuits are in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Premises {
    /// A house or a flat.
    Dwelling,
    /// Anything else.
    Other,
}

/// How the circuits of drivers are fed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MainsFeed {
    /// Always on.
    Permanent,
    /// By a switch, contactor or timer.
    Switched,
}

/// How circuits are protected and fed; each `None` when it is not said.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Protection {
    /// Type of the residual current device.
    pub residual_type: Option<ResidualType>,
    /// Premises.
    pub premises: Option<Premises>,
    /// How the drivers' circuits are fed.
    pub feed: Option<MainsFeed>,
}
