//! How property tests draw: as many cases as wanted, the same on every machine and every day.

use proptest::test_runner::{Config, RngSeed};

/// So many cases, drawn the same each time. `FEEDPOINT_SEED`, a whole number, draws others.
pub fn cases(count: u32) -> Config {
    let seed = std::env::var("FEEDPOINT_SEED").map(|seed| seed.parse());
    Config {
        cases: count,
        failure_persistence: None,
        rng_seed: RngSeed::Fixed(
            seed.unwrap_or(Ok(7))
                .expect("FEEDPOINT_SEED is a whole number"),
        ),
        ..Config::default()
    }
}
