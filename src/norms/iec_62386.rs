//! IEC 62386: limits of the digital lighting bus (parts 101, 102, 103, 209).

use crate::quantity::{Area, Current, Length, Voltage};
use uom::si::area::square_millimeter;
use uom::si::electric_current::milliampere;
use uom::si::electric_potential::volt;
use uom::si::length::meter;

/// Short addresses of control gear on one loop. IEC 62386-102.
pub const GEAR: usize = 64;

/// Short addresses of control devices on one loop, counted apart from gear. IEC 62386-103.
pub const CONTROL_DEVICES: usize = 64;

/// Groups of gear. IEC 62386-102.
pub const GROUPS: usize = 16;

/// Groups of control devices. IEC 62386-103.
pub const CONTROL_DEVICE_GROUPS: usize = 32;

/// Scenes. IEC 62386-102.
pub const SCENES: usize = 16;

/// Short addresses of gear that gives level and colour temperature together. IEC 62386-209.
pub const COLOUR_TEMPERATURE_ADDRESSES: usize = 1;

/// Bits per second. IEC 62386-101.
pub const BITS_PER_SECOND: u32 = 1200;

/// Most that all supplies of one loop may deliver together. IEC 62386-101.
#[must_use]
pub fn most_supply() -> Current {
    Current::new::<milliampere>(250.0)
}

/// Most that one control gear draws, and what is counted where its sheet is silent. IEC 62386-101.
#[must_use]
pub fn gear_current() -> Current {
    Current::new::<milliampere>(2.0)
}

/// Most voltage lost between a supply and any unit. IEC 62386-101.
#[must_use]
pub fn most_drop() -> Voltage {
    Voltage::new::<volt>(2.0)
}

/// Least cross-section of a bus conductor. IEC 62386-101 by way of published bus guides.
#[must_use]
pub fn least_conductor() -> Area {
    Area::new::<square_millimeter>(0.5)
}

/// Longest cable between any two units on conductors of a size: 300 m from 1.5 mm², 150 m from
/// 0.75 mm², 100 m from 0.5 mm²; `None` for thinner conductors. Published bus guides; class 5 at
/// 20 °C and 250 mA, rounded down.
#[must_use]
pub fn longest(conductor: Area) -> Option<Length> {
    let mm2 = conductor.get::<square_millimeter>() * (1.0 + 1e-9);
    let metres = match mm2 {
        mm2 if mm2 >= 1.5 => 300.0,
        mm2 if mm2 >= 0.75 => 150.0,
        mm2 if mm2 >= 0.5 => 100.0,
        _ => return None,
    };
    Some(Length::new::<meter>(metres))
}

/// Voltages between the two conductors. IEC 62386-101 and published bus guides.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BusVoltages {
    /// Least high level at a receiver.
    pub receiver_high_least: Voltage,
    /// Most high level at a receiver.
    pub receiver_high_most: Voltage,
    /// Most low level at a receiver.
    pub receiver_low_most: Voltage,
    /// Least high level of a supply or transmitter.
    pub sender_high_least: Voltage,
    /// Most high level of a supply or transmitter.
    pub sender_high_most: Voltage,
    /// Most low level of a transmitter.
    pub sender_low_most: Voltage,
    /// What an idle bus usually shows on a meter.
    pub idle: Voltage,
}

/// The bus's voltages.
#[must_use]
pub fn voltages() -> BusVoltages {
    let volts = Voltage::new::<volt>;
    BusVoltages {
        receiver_high_least: volts(9.5),
        receiver_high_most: volts(22.5),
        receiver_low_most: volts(6.5),
        sender_high_least: volts(11.5),
        sender_high_most: volts(20.5),
        sender_low_most: volts(4.5),
        idle: volts(16.0),
    }
}

/// Least and most colour temperature value, in mirek; 65535 means unchanged. IEC 62386-209.
pub const MIREK: (u32, u32) = (1, 65_534);
