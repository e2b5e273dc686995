//! Numbers for made-up jobs.

/// Numbers that look drawn at random, the same each time (Knuth's MMIX generator).
pub struct Draw(pub u64);

impl Draw {
    /// A number below `most`.
    pub fn below(&mut self, most: u64) -> u64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}
