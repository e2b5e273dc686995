//! A number with its unit and the digits it is printed with: what verdicts and documents show.

/// The unit in which a figure is shown, with the digits the trade prints it to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Unit {
    /// m, two decimals.
    Metre,
    /// mm, none.
    Millimetre,
    /// V, two.
    Volt,
    /// A, two.
    Ampere,
    /// mA, none: currents of a control bus.
    Milliampere,
    /// mA, one: protective conductor currents, of which a few tenths matter.
    LeakageMilliampere,
    /// W, one.
    Watt,
    /// W/m, one.
    WattPerMetre,
    /// lm/m, none.
    LumenPerMetre,
    /// VA, one.
    VoltAmpere,
    /// %, one.
    Percent,
    /// Colour steps of 0.0011 in u′v′, one decimal.
    Steps,
    /// K, none.
    Kelvin,
    /// °C, none.
    Celsius,
    /// mm², two.
    SquareMillimetre,
    /// AWG number, none.
    Awg,
    /// Mirek, none.
    Mirek,
    /// A count of things, none.
    Count,
    /// A number without a unit, two decimals.
    Plain,
    /// Minutes, one decimal.
    Minute,
    /// Seconds, one.
    Second,
    /// Hours, two.
    Hour,
    /// Ω, three.
    Ohm,
    /// Duv or another chromaticity distance, four.
    Chromaticity,
    /// Days, none.
    Day,
}

impl Unit {
    /// The sign printed after the number; empty for a count.
    #[must_use]
    pub fn sign(self) -> &'static str {
        match self {
            Unit::Metre => "m",
            Unit::Millimetre => "mm",
            Unit::Volt => "V",
            Unit::Ampere => "A",
            Unit::Milliampere | Unit::LeakageMilliampere => "mA",
            Unit::Watt => "W",
            Unit::WattPerMetre => "W/m",
            Unit::LumenPerMetre => "lm/m",
            Unit::VoltAmpere => "VA",
            Unit::Percent => "%",
            Unit::Steps => "steps",
            Unit::Kelvin => "K",
            Unit::Celsius => "°C",
            Unit::SquareMillimetre => "mm²",
            Unit::Awg => "AWG",
            Unit::Mirek => "mirek",
            Unit::Count | Unit::Plain | Unit::Chromaticity => "",
            Unit::Minute => "min",
            Unit::Second => "s",
            Unit::Hour => "h",
            Unit::Ohm => "Ω",
            Unit::Day => "d",
        }
    }

    /// Decimals printed.
    #[must_use]
    pub fn digits(self) -> usize {
        match self {
            Unit::Metre
            | Unit::Plain
            | Unit::Volt
            | Unit::Ampere
            | Unit::SquareMillimetre
            | Unit::Hour => 2,
            Unit::Watt
            | Unit::WattPerMetre
            | Unit::VoltAmpere
            | Unit::Percent
            | Unit::Steps
            | Unit::Minute
            | Unit::Second
            | Unit::LeakageMilliampere => 1,
            Unit::Ohm => 3,
            Unit::Chromaticity => 4,
            Unit::Millimetre
            | Unit::Milliampere
            | Unit::LumenPerMetre
            | Unit::Kelvin
            | Unit::Celsius
            | Unit::Awg
            | Unit::Mirek
            | Unit::Count
            | Unit::Day => 0,
        }
    }
}

/// A number in a unit. The number is unrounded; rounding happens when it is shown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figure {
    /// The number, in `unit`.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
}

impl Figure {
    /// A figure of `value` in `unit`.
    #[must_use]
    pub fn new(value: f64, unit: Unit) -> Self {
        Figure { value, unit }
    }

    /// The number alone, rounded as the unit asks; a true minus sign is never printed for zero.
    #[must_use]
    pub fn number(self) -> String {
        let text = format!("{:.*}", self.unit.digits(), self.value);
        let is_zero = text
            .trim_start_matches('-')
            .chars()
            .all(|c| matches!(c, '0' | '.'));
        if is_zero {
            text.trim_start_matches('-').to_owned()
        } else {
            text
        }
    }
}

impl std::fmt::Display for Figure {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let sign = self.unit.sign();
        if sign.is_empty() {
            f.write_str(&self.number())
        } else {
            write!(f, "{} {sign}", self.number())
        }
    }
}
