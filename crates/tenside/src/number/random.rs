//! Random numbers from a seed: the same on every machine.
//!
//! Source: xoshiro256++ of D. Blackman and S. Vigna, ACM Transactions on Mathematical Software 47, 2021, its state
//! filled by splitmix64 (G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014); from memory.

/// A stream of random numbers.
pub(crate) struct Random([u64; 4]);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        let mut state = seed;
        let mut next = || {
            state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
            let mixed = (state ^ (state >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
            let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
            mixed ^ (mixed >> 31)
        };
        Random([next(), next(), next(), next()])
    }

    fn bits(&mut self) -> u64 {
        let [a, b, c, d] = &mut self.0;
        let result = a.wrapping_add(*d).rotate_left(23).wrapping_add(*a);
        let shifted = *b << 17;
        *c ^= *a;
        *d ^= *b;
        *b ^= *c;
        *a ^= *d;
        *c ^= shifted;
        *d = d.rotate_left(45);
        result
    }

    /// A whole number below `count`, evenly but for a part in 2^53 of it; 0 for none.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        ((self.unit() * count as f64) as usize).min(count.saturating_sub(1))
    }

    /// In an order of its own (R. Durstenfeld's shuffle, Communications of the ACM 7, 1964; from memory).
    pub(crate) fn shuffle<T>(&mut self, items: &mut [T]) {
        for place in (1..items.len()).rev() {
            items.swap(place, self.below(place + 1));
        }
    }

    /// From 0 to below 1, evenly, in steps of 2^-53.
    pub(crate) fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / 9_007_199_254_740_992.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_even_and_the_seed_decides() {
        let mut random = Random::new(7);
        let numbers: Vec<f64> = (0..100_000).map(|_| random.unit()).collect();
        let moment = |power: i32| numbers.iter().map(|number| number.powi(power)).sum::<f64>() / numbers.len() as f64;
        assert!((moment(1) - 0.5).abs() < 0.004 && (moment(2) - 1.0 / 3.0).abs() < 0.004);
        assert!(numbers.iter().all(|number| (0.0..1.0).contains(number)));
        let (mut same, mut other) = (Random::new(7), Random::new(8));
        assert_eq!(same.unit(), numbers[0]);
        assert_ne!(other.unit(), numbers[0]);
    }
}
