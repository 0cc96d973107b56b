//! Random numbers that are the same on every machine: SplitMix64 (G. L. Steele, D. Lea, C. H. Flood, 2014; from
//! memory).

/// A generator with its seed.
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Self {
        Random(seed)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        mixed ^ (mixed >> 31)
    }

    /// From 0 to `end` less one.
    pub(crate) fn below(&mut self, end: u64) -> u64 {
        self.next() % end
    }

    /// From low to high, both included.
    pub(crate) fn between(&mut self, low: u64, high: u64) -> u64 {
        low + self.below(high - low + 1)
    }

    /// True in so many cases of a hundred.
    pub(crate) fn chance(&mut self, of_hundred: u64) -> bool {
        self.below(100) < of_hundred
    }

    pub(crate) fn pick<'a, T>(&mut self, choices: &'a [T]) -> &'a T {
        let index = self.below(choices.len() as u64);
        &choices[usize::try_from(index).unwrap()]
    }

    /// So many different places below `end`, in random order.
    pub(crate) fn places(&mut self, count: usize, end: usize) -> Vec<usize> {
        let mut places: Vec<usize> = (0..end).collect();
        for at in 0..count.min(end) {
            let other = at + usize::try_from(self.below((end - at) as u64)).unwrap();
            places.swap(at, other);
        }
        places.truncate(count.min(end));
        places
    }

    /// Whole parts that sum to `total`; some may be nothing.
    pub(crate) fn shares(&mut self, count: usize, total: u64, step: u64) -> Vec<u64> {
        let mut cuts: Vec<u64> = (1..count).map(|_| self.between(0, total / step) * step).collect();
        cuts.extend([0, total]);
        cuts.sort_unstable();
        cuts.windows(2).map(|pair| pair[1] - pair[0]).collect()
    }
}
