//! The colour of mixed whites: chromaticity, colour temperature, distance from the black body.
//!
//! Chromaticities are CIE 1931 (2°); temperature and distance from the Planckian locus are taken
//! in CIE 1960 (u, v), differences in CIE 1976 (u′, v′). A white known by its temperature alone is
//! taken to lie on the locus.

use super::planck::{along, bracket, locus};
use crate::quantity::Temperature;
use uom::si::thermodynamic_temperature::kelvin;

/// A chromaticity, CIE 1931 x and y.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Chromaticity {
    /// x.
    pub x: f64,
    /// y; above 0.
    pub y: f64,
}

/// The radius of one step of colour difference in u′v′. CIE TN 001:2014 (from memory).
pub const STEP: f64 = 0.0011;

/// The greatest distance from the locus, in CIE 1960 uv, at which a colour temperature means
/// anything. CIE 15:2004.
pub const MOST_DISTANCE: f64 = 0.05;

/// Colour temperature and distance from the locus.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct White {
    /// Correlated colour temperature.
    pub temperature: Temperature,
    /// Duv: distance from the locus in CIE 1960 uv, above it (greenish) positive.
    pub duv: f64,
}

impl Chromaticity {
    /// The black body of a temperature, 1000 K to 30 000 K: Planck's law with c₂ = 1.4388e-2 m·K and
    /// the CIE 1931 observer by 1 nm, summed from 360 nm to 780 nm (CIE 15).
    #[must_use]
    pub fn black_body(temperature: Temperature) -> Chromaticity {
        Chromaticity::from_uv(locus(temperature.get::<kelvin>()))
    }

    /// The white that lies `duv` off the black body of a temperature, along the locus's normal;
    /// positive is above.
    #[must_use]
    pub fn off_black_body(temperature: Temperature, duv: f64) -> Chromaticity {
        let point = along(1e6 / temperature.get::<kelvin>());
        let ([u, v], [du, dv]) = (point.uv, point.per_mirek);
        let length = du.hypot(dv);
        Chromaticity::from_uv([u - duv * dv / length, v + duv * du / length])
    }

    /// From CIE 1960 (u, v): x = 3u/(2u − 8v + 4), y = 2v/(2u − 8v + 4).
    fn from_uv([u, v]: [f64; 2]) -> Chromaticity {
        let d = 2.0 * u - 8.0 * v + 4.0;
        Chromaticity {
            x: 3.0 * u / d,
            y: 2.0 * v / d,
        }
    }

    /// CIE 1960 (u, v).
    #[must_use]
    pub fn uv(self) -> [f64; 2] {
        let d = -2.0 * self.x + 12.0 * self.y + 3.0;
        [4.0 * self.x / d, 6.0 * self.y / d]
    }

    /// CIE 1976 (u′, v′).
    #[must_use]
    pub fn uv_prime(self) -> [f64; 2] {
        let [u, v] = self.uv();
        [u, 1.5 * v]
    }

    /// Distance in CIE 1976 (u′, v′).
    #[must_use]
    pub fn distance(self, other: Chromaticity) -> f64 {
        let ([a, b], [c, d]) = (self.uv_prime(), other.uv_prime());
        (a - c).hypot(b - d)
    }

    /// Distance in steps of 0.0011 in u′v′.
    #[must_use]
    pub fn steps(self, other: Chromaticity) -> f64 {
        self.distance(other) / STEP
    }

    /// The temperature of the nearest point of the locus and the distance from it (the exact
    /// nearest point that Ohno 2013, Leukos 10:47, approximates). `None` when the colour is
    /// further than 0.05 from the locus or its nearest point is outside 1000 K to 30 000 K.
    #[must_use]
    pub fn white(self) -> Option<White> {
        let at = self.uv();
        let mirek = nearest(at)?;
        let point = along(mirek);
        let ([u, v], [du, dv]) = (point.uv, point.per_mirek);
        let (east, north) = (at[0] - u, at[1] - v);
        let side = if east * dv - north * du > 0.0 {
            -1.0
        } else {
            1.0
        };
        let duv = side * east.hypot(north);
        (duv.abs() <= MOST_DISTANCE).then(|| White {
            temperature: Temperature::new::<kelvin>(1e6 / mirek),
            duv,
        })
    }
}

/// Two whites mixed, `cool_share` of the *lumens* (0 to 1) being the cool one's.
#[must_use]
pub fn mix(warm: Chromaticity, cool: Chromaticity, cool_share: f64) -> Chromaticity {
    let (w, c) = ((1.0 - cool_share) / warm.y, cool_share / cool.y);
    let x = w * warm.x + c * cool.x;
    let z = w * (1.0 - warm.x - warm.y) + c * (1.0 - cool.x - cool.y);
    let sum = x + 1.0 + z;
    Chromaticity {
        x: x / sum,
        y: 1.0 / sum,
    }
}

/// The cool share of lumens at which the mix has a colour temperature; `None` when it is not
/// between the two whites' own.
#[must_use]
pub fn cool_share_for(warm: Chromaticity, cool: Chromaticity, wanted: Temperature) -> Option<f64> {
    let target = wanted.get::<kelvin>();
    // In mirek, where the mix runs almost evenly.
    let miss = |share: f64| {
        let white = mix(warm, cool, share).white()?;
        Some(1e6 / target - 1e6 / white.temperature.get::<kelvin>())
    };
    let (at_warm, at_cool) = (miss(0.0)?, miss(1.0)?);
    // A request for an end's own temperature is met, whatever its last digits.
    if at_warm.abs() < SAME_MIREK {
        return Some(0.0);
    }
    if at_cool.abs() < SAME_MIREK {
        return Some(1.0);
    }
    root((0.0, at_warm), (1.0, at_cool), miss)
}

/// Mirek within which two whites count as one.
const SAME_MIREK: f64 = 1e-6;

/// The zero of a function between two points where it has opposite signs, to 1e-13 of the
/// stretch: false position, halving the kept end's value when it stays (Illinois).
fn root(
    (mut a, mut fa): (f64, f64),
    (mut b, mut fb): (f64, f64),
    f: impl Fn(f64) -> Option<f64>,
) -> Option<f64> {
    if fa * fb > 0.0 {
        return None;
    }
    let enough = 1e-13 * (b - a).abs();
    for _ in 0..200 {
        if fa == fb {
            break;
        }
        let c = (a * fb - b * fa) / (fb - fa);
        let fc = f(c)?;
        if fc * fb < 0.0 {
            (a, fa) = (b, fb);
        } else {
            fa *= 0.5;
        }
        let moved = (c - b).abs();
        (b, fb) = (c, fc);
        if moved < enough || fc == 0.0 {
            break;
        }
    }
    Some(b)
}

/// Mirek of the locus's point nearest to a CIE 1960 (u, v): bracketed on a coarse walk, then where
/// the line to it stands square on the locus.
fn nearest(at: [f64; 2]) -> Option<f64> {
    let (low, high) = bracket(at)?;
    let square = |mirek: f64| {
        let point = along(mirek);
        let ([u, v], [du, dv]) = (point.uv, point.per_mirek);
        Some((at[0] - u) * du + (at[1] - v) * dv)
    };
    root((low, square(low)?), (high, square(high)?), square)
}
