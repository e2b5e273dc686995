//! A strip to test with.

use crate::model::offer::ItemKind;
use crate::model::sample::offer;
use crate::model::strip::{Channel, Channels, LightSource, RailsKnown, Strip};
use crate::quantity::{Length, PowerPerLength, Voltage};
use uom::si::electric_potential::volt;
use uom::si::length::millimeter;
use uom::si::linear_power_density::watt_per_meter;

/// 9.6 W/m, light from 18 V, regulated from 21 V.
pub(super) fn channel() -> Channel {
    Channel {
        power: PowerPerLength::new::<watt_per_meter>(9.6),
        flux: None,
        white: None,
        light_starts_at: Some(Voltage::new::<volt>(18.0)),
        regulated_from: Some(Voltage::new::<volt>(21.0)),
    }
}

/// Two channels of 9.6 W/m at 24 V in 50 mm segments.
pub(super) fn pair(light_source: LightSource, rails: RailsKnown) -> Strip {
    Strip {
        offer: offer("pair", ItemKind::Strip),
        voltage: Voltage::new::<volt>(24.0),
        channels: Channels::TunableWhite {
            warm: channel(),
            cool: channel(),
        },
        cut: Length::new::<millimeter>(50.0),
        light_source,
        rails,
        reels: Vec::new(),
        ingress: None,
        most_feed_current: None,
        least_voltage: None,
        joints: false,
        detail: crate::model::strip::StripDetail::default(),
    }
}
