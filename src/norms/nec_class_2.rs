//! NEC Chapter 9 Table 11(B): limits of a Class 2 d.c. output that is not inherently limited.

use crate::quantity::{Current, Power, Voltage};
use uom::si::electric_current::ampere;
use uom::si::electric_potential::volt;
use uom::si::power::watt;

/// Highest voltage of a Class 2 d.c. circuit where it stays dry.
#[must_use]
pub fn most_voltage() -> Voltage {
    Voltage::new::<volt>(60.0)
}

/// Largest nameplate power in volt-amperes: 5.0 × V at 20 V or less, 100 above; `None` above the
/// highest Class 2 voltage.
#[must_use]
pub fn most_power(voltage: Voltage) -> Option<Power> {
    let volts = voltage.get::<volt>();
    if voltage > most_voltage() {
        return None;
    }
    Some(Power::new::<watt>(if volts <= 20.0 {
        5.0 * volts
    } else {
        100.0
    }))
}

/// Largest nameplate current: 5.0 A at 20 V or less, 100/V above; `None` above the highest Class 2
/// voltage.
#[must_use]
pub fn most_current(voltage: Voltage) -> Option<Current> {
    let volts = voltage.get::<volt>();
    if voltage > most_voltage() {
        return None;
    }
    Some(Current::new::<ampere>(if volts <= 20.0 {
        5.0
    } else {
        100.0 / volts
    }))
}
