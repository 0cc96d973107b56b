//! What the tests of this room draw from.

use crate::number::Exact;

/// Numbers without pattern, the same everywhere (the linear congruence of Knuth's MMIX, from memory, high bits).
pub(super) struct Numbers(pub(super) u64);

impl Numbers {
    pub(super) fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    /// A share with up to `digits` decimals, in -1 to 1, or with a denominator of three digits.
    pub(super) fn share(&mut self) -> Exact {
        let sign = if self.below(4) == 0 { -1 } else { 1 };
        match self.below(4) {
            0 => Exact::from(sign),
            1 => Exact::ratio(sign * self.below(1000) as i64, 1000),
            2 => Exact::ratio(sign * self.below(100) as i64, 1 + self.below(900) as i64),
            _ => Exact::ratio(sign * self.below(1_000_000_007) as i64, 1_000_000_007),
        }
    }
}
