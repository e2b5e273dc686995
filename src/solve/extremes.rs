//! What a state comes down to where only its limits matter: no currents, no losses, no light along
//! the strip.

use super::law::Law;
use super::network::Network;
use super::newton::Load;

/// The darkest segment and the least volts of a state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Extremes {
    /// Light of the darkest segment of any lit channel, as a share of nominal.
    pub darkest: f64,
    /// Least volts across a string of a lit channel.
    pub least_volts: f64,
}

/// Those of solved segments.
pub(super) fn of(network: &Network, loads: &[Load]) -> Extremes {
    let mut least = [f64::INFINITY; 2];
    for load in loads {
        for (least, volts) in least.iter_mut().zip(load.volts) {
            *least = least.min(volts);
        }
    }
    let mut extremes = Extremes {
        darkest: f64::INFINITY,
        least_volts: f64::INFINITY,
    };
    let lanes = network.laws.into_iter().zip(network.rated).zip(least);
    for ((law, rated), volts) in lanes {
        let light = match law {
            Law::Off => continue,
            Law::Converter { .. } => 1.0,
            // Light never falls as volts rise.
            _ => law.at(volts).0 / rated,
        };
        extremes.darkest = extremes.darkest.min(light);
        extremes.least_volts = extremes.least_volts.min(volts);
    }
    extremes
}
