//! Quantities as people write them, and values of units that come from outside the program.

use feedpoint::quantity::conductor::{self, ConductorSize};
use feedpoint::quantity::{
    current, days, flux_per_length, frequency, length, power, power_per_length, ratio, resistance,
    resistance_per_length, steps, temperature, time, voltage, white,
};
use uom::si::area::square_millimeter;

/// A text, what it is in SI, and where that comes from.
type Case = (&'static str, f64, &'static str);

/// Collects what differs, then fails once.
fn check<T: std::fmt::Debug>(
    cases: &[Case],
    read: impl Fn(&str) -> Result<T, feedpoint::quantity::grammar::Misread>,
    si: impl Fn(&T) -> f64,
) {
    let mut wrong = Vec::new();
    for (text, expected, source) in cases {
        match read(text) {
            Ok(value) if (si(&value) - expected).abs() <= 1e-12 * expected.abs() => {}
            other => wrong.push(format!(
                "{text}: expected {expected} ({source}), read {other:?}"
            )),
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

const SI: &str = "SI prefix";
const FOOT: &str = "NIST SP 811 Appendix B: 1 ft = 0.3048 m exactly (from memory)";
const INCH: &str = "NIST SP 811 Appendix B: 1 in = 25.4 mm exactly (from memory)";
const CELSIUS: &str = "SI brochure 2.3.1: T = t/°C + 273.15 (from memory)";
const FAHRENHEIT: &str = "NIST SP 811 Appendix B: t/°C = (t/°F − 32)/1.8 (from memory)";

#[test]
fn lengths() {
    let cases = [
        ("12.4 m", 12.4, SI),
        ("12m", 12.0, SI),
        ("1240 cm", 12.4, SI),
        ("50 mm", 0.05, SI),
        ("70 um", 70e-6, SI),
        ("70 \u{b5}m", 70e-6, "micro sign U+00B5"),
        ("70 \u{3bc}m", 70e-6, "Greek mu U+03BC"),
        ("32 ft 6 in", 32.5 * 0.3048, FOOT),
        ("32ft6in", 32.5 * 0.3048, FOOT),
        ("6' 4\"", 76.0 * 0.0254, INCH),
        ("6\u{2032}4\u{2033}", 76.0 * 0.0254, "primes, as typeset"),
        ("6'", 6.0 * 0.3048, FOOT),
        (
            "-3 m",
            -3.0,
            "the sign is read; ranges are for whoever asks",
        ),
    ];
    check(&cases, length::read, |value| value.value);
}

#[test]
fn electrical_quantities() {
    check(
        &[
            ("24 V", 24.0, SI),
            ("230V", 230.0, SI),
            ("0.4 kV", 400.0, SI),
        ],
        voltage::read,
        |v| v.value,
    );
    check(
        &[("2 mA", 0.002, SI), ("3.4 A", 3.4, SI)],
        current::read,
        |v| v.value,
    );
    check(
        &[("120 W", 120.0, SI), ("1.2 kW", 1200.0, SI)],
        power::read,
        |v| v.value,
    );
    check(
        &[
            ("0.09 ohm", 0.09, SI),
            ("90 m\u{2126}", 0.09, "ohm sign U+2126"),
        ],
        resistance::read,
        |v| v.value,
    );
    check(&[("50 Hz", 50.0, SI)], frequency::read, |v| v.value);
}

#[test]
fn quantities_per_length() {
    let per_foot = [("14.4 W/m", 14.4, SI), ("4.4 W/ft", 4.4 / 0.3048, FOOT)];
    check(&per_foot, power_per_length::read, |value| value.value);
    let flux = [("850 lm/m", 850.0, SI), ("260 lm/ft", 260.0 / 0.3048, FOOT)];
    check(&flux, flux_per_length::read, |value| value.value);
    let rails = [
        ("0.05 ohm/m", 0.05, SI),
        ("0.05 \u{3a9}/m", 0.05, "Greek omega U+03A9"),
        ("0.05 \u{2126}/m", 0.05, "ohm sign U+2126"),
        ("50 mohm/m", 0.05, SI),
        ("12.1 ohm/km", 0.0121, SI),
    ];
    check(&rails, resistance_per_length::read, |value| value.value);
}

#[test]
fn temperatures_shares_times_and_steps() {
    let ambients = [
        ("35 °C", 308.15, CELSIUS),
        ("35 C", 308.15, CELSIUS),
        ("95 °F", 308.15, FAHRENHEIT),
        ("-40 °F", 233.15, "where both scales meet"),
    ];
    check(&ambients, temperature::read, |value| value.value);
    check(&[("2700 K", 2700.0, SI)], white::read, |value| value.value);
    check(
        &[("10 %", 0.1, SI), ("0.5%", 0.005, SI)],
        ratio::read,
        |value| value.value,
    );
    let times = [
        ("12 min", 720.0, SI),
        ("0.5 h", 1800.0, SI),
        ("90 s", 90.0, SI),
        ("1 h 30 min", 5400.0, SI),
    ];
    check(&times, time::read, |value| value.value);
    check(
        &[("3 steps", 3.0, "a count"), ("1 step", 1.0, "a count")],
        steps::read,
        |value| *value,
    );
    check(
        &[("5 days", 5.0, "a count"), ("2 weeks", 14.0, "a count")],
        days::read,
        |value| *value,
    );
}

/// Areas of gauges from ASTM B258-14 Table 2 (from memory), in mm².
#[test]
fn gauges_have_the_areas_of_the_standard() {
    let cases = [
        ("20 AWG", 0.518),
        ("18 AWG", 0.823),
        ("16 AWG", 1.31),
        ("14 AWG", 2.08),
        ("12 AWG", 3.31),
        ("10 AWG", 5.26),
        ("6 AWG", 13.3),
        ("1/0 AWG", 53.5),
        ("4/0 AWG", 107.2),
    ];
    for (text, expected) in cases {
        let size = conductor::read(text).expect(text);
        assert_eq!(conductor::write(size), text);
        let area = size.area().get::<square_millimeter>();
        assert!(
            (area / expected - 1.0).abs() < 5e-3,
            "{text}: {area}, expected {expected}"
        );
    }
}

/// 18 AWG is not 1 mm²: the two systems are never equated by the nearest name.
#[test]
fn gauges_and_square_millimetres_stay_apart() {
    let gauge = conductor::read("18 AWG").expect("gauge");
    let metric = conductor::read("1 mm²").expect("metric");
    assert!(matches!(gauge, ConductorSize::Awg(18)));
    assert!(gauge.area() < metric.area());
    assert_ne!(gauge, metric);
}

/// A text in a kind of quantity: what it reads as in SI, and what that reads as once it was written.
macro_rules! again {
    ($kind:ident, $text:literal) => {{
        let read = $kind::read($text).expect($text);
        let written = $kind::write(read);
        let again = $kind::read(&written).expect(&written);
        ($text, read.value, again.value)
    }};
}

#[test]
fn what_is_written_is_read_again_as_what_it_was() {
    for (text, read, again) in [
        again!(current, "2.5 mA"),
        again!(flux_per_length, "480 lm/m"),
        again!(frequency, "1.2 kHz"),
        again!(length, "12.45 m"),
        again!(power, "96 W"),
        again!(power_per_length, "9.6 W/m"),
        again!(ratio, "12.5 %"),
        again!(resistance, "0.09 ohm"),
        again!(resistance_per_length, "0.045 ohm/m"),
        again!(temperature, "35 °C"),
        again!(time, "90 min"),
        again!(voltage, "24 V"),
        again!(white, "3000 K"),
    ] {
        assert!(
            read > 0.0 && (read - again).abs() <= 1e-9 * read,
            "{text}: {again}"
        );
    }
}
