//! What a driver can give where it stands.

use crate::model::driver::Driver;
use crate::quantity::{Power, Ratio, Temperature};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::kelvin;

/// Rated power at an ambient: whole up to the driver's highest ambient, along its derating points
/// above it, nothing past the last. An ambient or a highest ambient that is not known derates
/// nothing.
#[must_use]
pub fn usable(driver: &Driver, ambient: Option<Temperature>) -> Power {
    driver.output.power * share(driver, ambient)
}

fn share(driver: &Driver, ambient: Option<Temperature>) -> Ratio {
    let whole = Ratio::new::<ratio>(1.0);
    let (Some(ambient), Some(most)) = (ambient, driver.most_ambient) else {
        return whole;
    };
    if ambient <= most {
        return whole;
    }
    let mut below = (most, whole);
    for &above in driver.derating.iter().filter(|(at, _)| *at > most) {
        if ambient <= above.0 {
            return between(below, above, ambient);
        }
        below = above;
    }
    Ratio::new::<ratio>(0.0)
}

fn between(below: (Temperature, Ratio), above: (Temperature, Ratio), at: Temperature) -> Ratio {
    let [from, to, at] = [below.0, above.0, at].map(|t| t.get::<kelvin>());
    below.1 + (above.1 - below.1) * ((at - from) / (to - from))
}
