//! Where the job is: which limits hold and which cautions are printed.

/// A region with wiring rules of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Region {
    /// UK and EU: IEC 60364 as adopted.
    Iec,
    /// United States and Canada: the National Electrical Code and its Canadian counterpart.
    NorthAmerica,
    /// Australia and New Zealand: AS/NZS 3000.
    AusNz,
}

impl Region {
    /// All regions, in the order in which they are listed to people.
    pub const ALL: [Region; 3] = [Region::Iec, Region::NorthAmerica, Region::AusNz];

    /// The name used in project files.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Region::Iec => "iec",
            Region::NorthAmerica => "north-america",
            Region::AusNz => "aus-nz",
        }
    }
}
