//! Physical quantities as types, on `uom`, and the way people write them.
//!
//! Knows nothing of the trade. Money is in [`money`], on exact decimals. One file per kind, each
//! with its table of units and `read`; the grammar they share is in [`grammar`].
//!
//! Kinds do not mix:
//!
//! ```compile_fail,E0308
//! use feedpoint::quantity::{Current, Voltage};
//! fn sum(volts: Voltage, amperes: Current) -> Voltage {
//!     volts + amperes
//! }
//! ```
//!
//! ```compile_fail,E0308
//! use feedpoint::quantity::{Length, ResistancePerLength, Voltage};
//! fn drop(length: Length, rail: ResistancePerLength) -> Voltage {
//!     length * rail // a resistance: the current is missing
//! }
//! ```

pub mod conductor;
pub mod current;
pub mod days;
pub mod figure;
pub mod flux_per_length;
pub mod frequency;
pub mod grammar;
pub mod kind;
pub mod length;
pub mod money;
pub mod number;
pub mod power;
pub mod power_per_length;
pub mod ratio;
pub mod resistance;
pub mod resistance_per_length;
pub mod steps;
pub mod temperature;
pub mod time;
pub mod voltage;
pub mod white;

use uom::si::{ISQ, Quantity, SI};
use uom::typenum::{N1, N2, N3, P1, Z0};

pub use uom::si::f64::{
    Area, ElectricCurrent as Current, ElectricPotential as Voltage,
    ElectricalResistance as Resistance, Frequency, Length, LinearPowerDensity as PowerPerLength,
    Power, Ratio, ThermodynamicTemperature as Temperature, Time,
};

/// Resistance of a conductor per length of it, in Ω/m.
pub type ResistancePerLength = Quantity<ISQ<P1, P1, N3, N2, Z0, Z0, Z0>, SI<f64>, f64>;

/// Keeps lumens apart from candelas, which have the same dimension.
pub trait LumenKind:
    uom::marker::Mul + uom::marker::Div + uom::marker::Add + uom::marker::Sub
{
}

/// Light given off per length of strip, in lm/m.
pub type FluxPerLength = Quantity<ISQ<N1, Z0, Z0, Z0, Z0, Z0, P1, dyn LumenKind>, SI<f64>, f64>;
