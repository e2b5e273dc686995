//! Plain values that are quantities, each with the range that makes sense for what it says.

use super::written::{Reads, Unread};
use crate::norms::usual::{CABLE_AWG, CABLE_HUNDREDTHS_MM2};
use crate::quantity::conductor::{self, ConductorSize};
use crate::quantity::grammar::Misread;
use crate::quantity::kind::Kind;
use crate::quantity::{
    Current, FluxPerLength, Frequency, Length, Power, PowerPerLength, Ratio, ResistancePerLength,
    Temperature, Time, Voltage, current, days, flux_per_length, frequency, length, power,
    power_per_length, ratio, resistance_per_length, steps, temperature, time, voltage, white,
};
use num_traits::ToPrimitive;
use schemars::{Schema, json_schema};

impl From<Misread> for Unread {
    fn from(misread: Misread) -> Self {
        Unread {
            code: "bad-quantity",
            message: misread.to_string(),
            at: Some(misread.at),
        }
    }
}

/// The lower end of a range, as it would be written.
enum Least {
    /// The end itself is not allowed.
    Above(&'static str),
    /// The end is allowed.
    From(&'static str),
}

/// Checks a value against its range; the ends are read as the value was.
fn within<T: PartialOrd + Copy>(
    text: &str,
    value: T,
    least: &Least,
    most: &str,
    read: impl Fn(&str) -> Result<T, Misread>,
) -> Result<T, Unread> {
    let low_enough = value <= read(most)?;
    let (high_enough, from) = match least {
        Least::Above(end) => (value > read(end)?, format!("more than {end}")),
        Least::From(end) => (value >= read(end)?, format!("at least {end}")),
    };
    if low_enough && high_enough {
        return Ok(value);
    }
    let message = format!("`{text}` is out of range: it must be {from} and at most {most}");
    Err(Unread::new("out-of-range", message))
}

/// The schema of a quantity: numbers, each with one of the kind's units.
fn quantity_schema(kind: &Kind) -> Schema {
    let signs = kind.units.iter().flat_map(|unit| unit.signs);
    let signs: Vec<_> = signs.map(|sign| sign.replace('^', "\\^")).collect();
    let pattern = format!("^ *[-+−]?([0-9.]+ *({}) *)+$", signs.join("|"));
    json_schema!({"type": "string", "pattern": pattern, "examples": [kind.example]})
}

/// Declares what a value measures: its type, how it is read, and its range.
macro_rules! measures {
    ($($(#[$doc:meta])* $name:ident: $value:ty = $kind:ident, $least:expr, $most:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Debug)]
        pub struct $name;

        impl Reads for $name {
            type Value = $value;
            const NAME: &'static str = stringify!($name);

            fn what() -> String {
                $kind::KIND.what.to_owned()
            }

            fn schema() -> Schema {
                quantity_schema(&$kind::KIND)
            }

            fn read(text: &str) -> Result<$value, Unread> {
                within(text, $kind::read(text)?, &$least, $most, $kind::read)
            }
        }
    )*};
}

measures! {
    /// The length of something: a run, a route, a reel.
    Extent: Length = length, Least::Above("0 m"), "10 km";
    /// A distance that may be nothing.
    Distance: Length = length, Least::From("0 m"), "10 km";
    /// The length of a cut segment.
    CutLength: Length = length, Least::Above("0 mm"), "5 m";
    /// Thickness of copper on a strip.
    CopperThickness: Length = length, Least::Above("0 um"), "1 mm";
    /// Width of a copper track.
    TrackWidth: Length = length, Least::Above("0 mm"), "100 mm";
    /// Width of a saw cut.
    Kerf: Length = length, Least::From("0 mm"), "20 mm";
    /// A mains voltage.
    MainsVoltage: Voltage = voltage, Least::From("90 V"), "500 V";
    /// An extra-low d.c. voltage.
    LowVoltage: Voltage = voltage, Least::Above("0 V"), "120 V";
    /// A voltage that insulation is rated for.
    RatedVoltage: Voltage = voltage, Least::Above("0 V"), "6 kV";
    /// A mains frequency.
    MainsFrequency: Frequency = frequency, Least::From("40 Hz"), "70 Hz";
    /// The frequency at which light is modulated.
    DimmingFrequency: Frequency = frequency, Least::Above("0 Hz"), "1000 kHz";
    /// A current that flows.
    Amperes: Current = current, Least::Above("0 A"), "1000 A";
    /// A current that may be nothing.
    AmperesOrNone: Current = current, Least::From("0 A"), "1000 A";
    /// A power.
    Watts: Power = power, Least::Above("0 W"), "100 kW";
    /// Power per length of strip.
    WattsPerLength: PowerPerLength = power_per_length, Least::Above("0 W/m"), "500 W/m";
    /// Light per length of strip.
    LumensPerLength: FluxPerLength = flux_per_length, Least::Above("0 lm/m"), "100000 lm/m";
    /// Resistance per length of a rail.
    OhmsPerLength: ResistancePerLength = resistance_per_length, Least::Above("0 ohm/m"), "100 ohm/m";
    /// A white by its colour temperature.
    White: Temperature = white, Least::From("1000 K"), "20000 K";
    /// The temperature of a place.
    Ambient: Temperature = temperature, Least::From("-40 °C"), "120 °C";
    /// A share from nothing to all.
    Share: Ratio = ratio, Least::From("0 %"), "100 %";
    /// A share that is not nothing.
    SomeShare: Ratio = ratio, Least::Above("0 %"), "100 %";
    /// A share kept free: some must be left to use.
    SpareShare: Ratio = ratio, Least::From("0 %"), "90 %";
    /// How far a limit may go: loads past the rating are judged, not refused.
    LoadShare: Ratio = ratio, Least::Above("0 %"), "200 %";
    /// A colour difference in steps.
    Steps: f64 = steps, Least::Above("0 steps"), "100 steps";
    /// Time to fit something.
    WorkTime: Time = time, Least::From("0 min"), "1000 h";
    /// Time a scene takes to fade in.
    FadeTime: Time = time, Least::From("0 s"), "1 h";
    /// Days until delivery, before they are counted.
    DeliveryDays: f64 = days, Least::From("0 days"), "2000 days";
}

/// Whole days until delivery.
#[derive(Debug)]
pub struct LeadTime;

impl Reads for LeadTime {
    type Value = u32;
    const NAME: &'static str = "LeadTime";

    fn what() -> String {
        DeliveryDays::what()
    }

    fn schema() -> Schema {
        DeliveryDays::schema()
    }

    fn read(text: &str) -> Result<u32, Unread> {
        let days = DeliveryDays::read(text)?;
        days.ceil()
            .to_u32()
            .ok_or_else(|| Unread::new("out-of-range", format!("`{text}` is out of range")))
    }
}

/// The largest conductor that a terminal takes.
#[derive(Debug)]
pub struct TerminalSize;

impl Reads for TerminalSize {
    type Value = ConductorSize;
    const NAME: &'static str = "TerminalSize";

    fn what() -> String {
        conductor::KIND.what.to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": ["2.5 mm²", "14 AWG"]})
    }

    fn read(text: &str) -> Result<ConductorSize, Unread> {
        let size = conductor::read(text)?;
        let hundredths = conductor::hundredths(size.area());
        if hundredths.is_some_and(|area| (1..=30_000).contains(&area)) {
            return Ok(size);
        }
        let message =
            format!("`{text}` is out of range: it must be more than 0 and at most 300 mm²");
        Err(Unread::new("out-of-range", message))
    }
}

/// The size of a cable's cores: one in which cable is made.
#[derive(Debug)]
pub struct CableSize;

impl Reads for CableSize {
    type Value = ConductorSize;
    const NAME: &'static str = "CableSize";

    fn what() -> String {
        conductor::KIND.what.to_owned()
    }

    fn schema() -> Schema {
        json_schema!({"type": "string", "examples": ["1.5 mm²", "18 AWG"]})
    }

    fn read(text: &str) -> Result<ConductorSize, Unread> {
        let size = conductor::read(text)?;
        let standard = match size {
            ConductorSize::Metric(area) => {
                conductor::hundredths(area).is_some_and(|area| CABLE_HUNDREDTHS_MM2.contains(&area))
            }
            ConductorSize::Awg(gauge) => CABLE_AWG.contains(&gauge),
        };
        standard.then_some(size).ok_or_else(|| {
            let message = format!(
                "cable is not made in `{text}`: sizes are 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10 and \
                 16 mm², or 20, 18, 16, 14, 12, 10, 8 and 6 AWG"
            );
            Unread::new("not-a-size", message)
        })
    }
}
