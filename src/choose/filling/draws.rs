//! Draws from a fixed sequence: the same problem always comes to the same answer.

use num_traits::ToPrimitive;

/// Where the sequence begins.
const SEED: u64 = 0x9e37_79b9_7f4a_7c15;

/// The sequence (Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8(14), 2003).
pub(super) struct Draws(u64);

impl Draws {
    /// From its beginning.
    pub fn new() -> Draws {
        Draws(SEED)
    }

    fn next(&mut self) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 >> 33
    }

    /// Heads or tails.
    pub fn heads(&mut self) -> bool {
        self.next() & 1 == 1
    }

    /// A place below `most`, which is less than 2³¹; 0 where there is none.
    pub fn below(&mut self, most: usize) -> usize {
        let most = most.to_u64().unwrap_or(0);
        let drawn = self.next().wrapping_mul(most) >> 31;
        drawn.to_usize().unwrap_or(0)
    }
}
