//! Physical quantities as types, on `uom`, and the way people write them.
//!
//! Knows nothing of the trade. Money is in [`money`], on exact decimals.

pub mod conductor;
pub mod figure;
pub mod number;

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
