//! What is wrong with a control bus whose volts lie outside their band, or of which more is lost on
//! the way than the cable and its units account for.

use crate::norms::iec_62386;
use crate::quantity::{Current, Resistance, Voltage};
use uom::si::electric_current::ampere;
use uom::si::electrical_resistance::ohm;

/// A stretch of bus cable on the way from the supply to where volts were read.
#[derive(Debug, Clone, PartialEq)]
pub struct Stretch {
    /// Both cores in series.
    pub resistance: Resistance,
    /// Current of all units beyond it.
    pub current: Current,
}

/// What was read on a bus.
#[derive(Debug, Clone, PartialEq)]
pub struct BusCase {
    /// At the supply.
    pub supply: Option<Voltage>,
    /// At the furthest unit.
    pub far: Option<Voltage>,
    /// The way from one to the other.
    pub way: Vec<Stretch>,
    /// Resistance of the next thinner conductor as a multiple of the present one's.
    pub thinner: Option<f64>,
    /// By how much a difference of two readings may be off.
    pub meter: Voltage,
}

/// A cause, and whether anything else explains the readings as well.
#[derive(Debug, Clone, PartialEq)]
pub enum BusCause {
    /// The two cores are the other way round on the meter or at the unit: volts below zero.
    Reversed,
    /// Hardly any volts at the supply: no mains there, or its protection has switched off.
    NoSupply,
    /// Volts at the supply, hardly any at the unit: a core is open between.
    Open,
    /// The supply gives some volts, fewer than a supply may: something holds the bus low, a command
    /// is being sent, or units draw more than it guarantees.
    HeldLow,
    /// The supply gives more than it may.
    SupplyHigh,
    /// A size thinner on the whole way accounts for what is lost.
    Thinner,
    /// The way is so many times as long.
    Longer(f64),
    /// A joint on the way has so much resistance: at least (next to the supply) and at most (next
    /// to the unit).
    Joint(Resistance, Resistance),
}

/// Below this share of an idle bus's volts there are hardly any. Common practice, no source.
const HARDLY: f64 = 0.1;

/// The causes that explain what was read, those that are checked soonest first. Empty when nothing
/// is wrong with it.
#[must_use]
pub fn causes(case: &BusCase) -> Vec<BusCause> {
    let levels = iec_62386::voltages();
    let none = HARDLY * levels.idle;
    let zero = Voltage::default();
    let read = [case.supply, case.far];
    if read
        .iter()
        .flatten()
        .any(|volts| *volts < zero - case.meter)
    {
        return vec![BusCause::Reversed];
    }
    match (case.supply, case.far) {
        (Some(supply), _) if supply < none => vec![BusCause::NoSupply],
        (Some(supply), _) if supply + case.meter < levels.sender_high_least => {
            vec![BusCause::HeldLow]
        }
        (Some(supply), _) if supply - case.meter > levels.sender_high_most => {
            vec![BusCause::SupplyHigh]
        }
        (Some(_), Some(far)) if far < none => vec![BusCause::Open],
        (Some(supply), Some(far)) => on_the_way(case, supply - far),
        (None, Some(far)) if far < none => vec![BusCause::NoSupply, BusCause::Open],
        (None, Some(far)) if far + case.meter < levels.receiver_high_least => {
            vec![BusCause::HeldLow, BusCause::Open]
        }
        (None, Some(far)) if far - case.meter > levels.sender_high_most => {
            vec![BusCause::SupplyHigh]
        }
        _ => Vec::new(),
    }
}

/// What is lost on the way as the bus was worked out.
#[must_use]
pub fn lost(case: &BusCase) -> Voltage {
    case.way.iter().map(|it| it.resistance * it.current).sum()
}

fn on_the_way(case: &BusCase, found: Voltage) -> Vec<BusCause> {
    let expected = lost(case);
    if found <= expected + case.meter {
        return Vec::new();
    }
    let more = found - expected;
    let mut causes = Vec::new();
    let zero = Voltage::default();
    let currents = || case.way.iter().map(|it| it.current.get::<ampere>());
    let most = currents().fold(0.0, f64::max);
    let least = currents().filter(|it| *it > 0.0).fold(most, f64::min);
    if least > 0.0 {
        let ohms = |amperes: f64| Resistance::new::<ohm>(more.value / amperes);
        causes.push(BusCause::Joint(ohms(most), ohms(least)));
    }
    if expected > zero {
        let times = (found / expected).value;
        let thinner = case.thinner.is_some_and(|it| {
            let then = expected * it;
            (then - found).abs() <= case.meter
        });
        if thinner {
            causes.insert(0, BusCause::Thinner);
        }
        causes.push(BusCause::Longer(times));
    }
    causes
}

#[cfg(test)]
mod tests {
    use super::*;
    use uom::si::electric_current::milliampere;
    use uom::si::electric_potential::volt;

    /// 100 m of 2 × 1.5 mm² at 12.1 Ω/km a core (IEC 60228 class 1, from memory): 2.42 Ω, 200 mA
    /// all the way: 0.484 V.
    fn case(supply: f64, far: f64) -> BusCase {
        BusCase {
            supply: Some(Voltage::new::<volt>(supply)),
            far: Some(Voltage::new::<volt>(far)),
            way: vec![Stretch {
                resistance: Resistance::new::<ohm>(2.42),
                current: Current::new::<milliampere>(200.0),
            }],
            thinner: Some(1.5),
            meter: Voltage::new::<volt>(0.15),
        }
    }

    #[test]
    fn what_is_lost_as_worked_out_is_no_fault() {
        assert_eq!(causes(&case(16.0, 15.52)), []);
        assert!((lost(&case(16.0, 16.0)).get::<volt>() - 0.484).abs() < 1e-12);
    }

    /// 16.0 − 14.2 = 1.8 V: 1.316 V more than the cable takes, at 200 mA 6.58 Ω (Ohm's law).
    #[test]
    fn more_lost_is_a_joint_or_a_longer_way() {
        let found = causes(&case(16.0, 14.2));
        let [BusCause::Joint(near, far), BusCause::Longer(times)] = found.as_slice() else {
            panic!("{found:?}");
        };
        assert!((near.get::<ohm>() - 6.58).abs() < 1e-9 && near == far);
        assert!((times - 1.8 / 0.484).abs() < 1e-9);
    }

    #[test]
    fn a_size_thinner_is_told_where_it_fits() {
        assert_eq!(causes(&case(16.0, 15.274))[0], BusCause::Thinner);
    }

    #[test]
    fn levels_out_of_the_standard_are_told_by_name() {
        assert_eq!(causes(&case(0.3, 0.2)), [BusCause::NoSupply]);
        assert_eq!(causes(&case(9.0, 8.7)), [BusCause::HeldLow]);
        assert_eq!(causes(&case(24.0, 23.6)), [BusCause::SupplyHigh]);
        assert_eq!(causes(&case(16.0, 0.4)), [BusCause::Open]);
        assert_eq!(causes(&case(-16.0, -15.6)), [BusCause::Reversed]);
    }

    /// IEC 62386-101: a receiver takes 9.5 V to 22.5 V for high, a supply gives at most 20.5 V. The
    /// meter may be 0.15 V off.
    #[test]
    fn a_reading_at_the_unit_alone_tells_what_it_can() {
        let far = |volts: f64| {
            causes(&BusCase {
                supply: None,
                ..case(0.0, volts)
            })
        };
        assert_eq!(far(0.4), [BusCause::NoSupply, BusCause::Open]);
        assert_eq!(far(9.3), [BusCause::HeldLow, BusCause::Open]);
        assert_eq!(far(9.4), []);
        assert_eq!(far(20.6), []);
        assert_eq!(far(20.7), [BusCause::SupplyHigh]);
    }
}
