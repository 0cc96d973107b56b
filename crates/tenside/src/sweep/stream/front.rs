//! A Pareto front: rows that no other row is as good as in every column and better in one.

use super::keep::Kept;
use crate::brief::Direction;

/// Cells of the first key into which the front is summed up for a quick refusal: a power of two.
const CELLS: usize = 512;
/// 2^52: adding it leaves the whole number nearest to a value in the lowest bits.
const WHOLE: f64 = 4_503_599_627_370_496.0;

/// The front so far. Keys are such that less is better; of rows that are equal in all, the earliest is kept.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Front {
    keys: usize,
    /// By the first key, then the others.
    rows: Vec<(Vec<f64>, Kept)>,
    /// The least second key among rows of the front in a cell below.
    bars: Box<[f64; CELLS]>,
    from: f64,
    cells_per_unit: f64,
    /// Rows taken since the bars were drawn.
    since: usize,
}

impl Front {
    pub(super) fn new(keys: usize) -> Self {
        Front { keys, rows: Vec::new(), bars: Box::new([f64::INFINITY; CELLS]), from: 0.0, cells_per_unit: 0.0, since: 0 }
    }

    /// Lowers the flags of rows that the front is as good as for sure; exact only about two keys.
    #[inline(always)]
    pub(super) fn refuse(&self, first: &[f64], second: &[f64], flags: &mut [bool]) {
        for ((flag, first), second) in flags.iter_mut().zip(first).zip(second) {
            // The cell is monotone in the key, so a row in a higher cell has a greater key.
            *flag &= *second < self.bars[self.cell(*first)];
        }
    }

    #[inline(always)]
    fn cell(&self, key: f64) -> usize {
        let place = (key - self.from) * self.cells_per_unit;
        let place = if place > 0.0 { place } else { 0.0 };
        let place = if place < (CELLS - 1) as f64 { place } else { (CELLS - 1) as f64 };
        (place + WHOLE).to_bits() as usize & (CELLS - 1)
    }

    /// Takes a row that is later than all so far, if it belongs to the front.
    pub(super) fn take(&mut self, keys: &[f64], kept: impl FnOnce() -> Kept) {
        if keys.iter().any(|key| key.is_nan()) {
            return;
        }
        let place = self.rows.partition_point(|(known, _)| before(known, keys));
        if self.keys == 2 {
            // Second keys fall along the front, so the row before is the one to fear.
            if place > 0 && self.rows[place - 1].0[1] <= keys[1] || self.rows.get(place).is_some_and(|(known, _)| known == keys) {
                return;
            }
            let beaten = self.rows[place..].iter().take_while(|(known, _)| known[1] >= keys[1]).count();
            self.rows.splice(place..place + beaten, [(keys.to_vec(), kept())]);
        } else {
            let as_good = |one: &[f64], other: &[f64]| one.iter().zip(other).all(|(one, other)| one <= other);
            // What is as good comes no later in the order.
            let until = (place + 1).min(self.rows.len());
            if self.rows[..until].iter().any(|(known, _)| as_good(known, keys)) {
                return;
            }
            let mut index = 0;
            self.rows.retain(|(known, _)| {
                index += 1;
                index <= place || !as_good(keys, known)
            });
            self.rows.insert(place, (keys.to_vec(), kept()));
        }
        self.since += 1;
        if self.keys == 2 && (self.since > self.rows.len() / 8 || self.since > 64) {
            self.draw();
        }
    }

    fn draw(&mut self) {
        let (Some(first), Some(last)) = (self.rows.first(), self.rows.last()) else { return };
        let width = last.0[0] - first.0[0];
        self.from = first.0[0];
        self.cells_per_unit = if width > 0.0 { (CELLS - 2) as f64 / width } else { 0.0 };
        self.bars.fill(f64::INFINITY);
        let cells: Vec<usize> = self.rows.iter().map(|(keys, _)| self.cell(keys[0])).collect();
        let mut lowest = f64::INFINITY;
        let mut next = 0;
        for cell in 0..CELLS {
            while next < cells.len() && cells[next] < cell {
                lowest = lowest.min(self.rows[next].0[1]);
                next += 1;
            }
            self.bars[cell] = lowest;
        }
        self.since = 0;
    }

    /// Takes the front of later rows.
    pub(super) fn join(&mut self, later: Front) {
        for (keys, kept) in later.rows {
            self.take(&keys, || kept);
        }
    }

    pub(super) fn finish(self) -> Vec<Kept> {
        self.rows.into_iter().map(|(_, kept)| kept).collect()
    }
}

/// The rows on the Pareto front of some columns among those that `holds` is true of, in their order; of rows that are equal in all, the first.
///
/// ```
/// use tenside::brief::Direction;
/// let (water, cost) = ([9.0, 8.0, 7.0, 8.0], [3.0, 4.0, 5.0, 6.0]);
/// let front = tenside::sweep::front_of(&[(&water, Direction::Minimise), (&cost, Direction::Minimise)], 4, |row| row != 0);
/// assert_eq!(front, [1, 2]);
/// ```
#[must_use]
pub fn front_of(columns: &[(&[f64], Direction)], rows: usize, holds: impl Fn(usize) -> bool) -> Vec<usize> {
    let mut front = Front::new(columns.len());
    let mut keys = Vec::with_capacity(columns.len());
    if columns.is_empty() {
        return Vec::new();
    }
    for row in (0..rows).filter(|row| holds(*row)) {
        keys.clear();
        keys.extend(columns.iter().map(|(values, direction)| if *direction == Direction::Minimise { values[row] } else { -values[row] }));
        let mut flag = [true];
        if let [first, second] = keys[..] {
            front.refuse(&[first], &[second], &mut flag);
        }
        if flag[0] {
            front.take(&keys, || (row as u64, Vec::new()));
        }
    }
    let mut found: Vec<usize> = front.finish().into_iter().map(|(row, _)| row as usize).collect();
    found.sort_unstable();
    found
}

fn before(one: &[f64], other: &[f64]) -> bool {
    one.iter().zip(other).find(|(one, other)| one != other).is_some_and(|(one, other)| one < other)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Numbers without pattern, few enough that many coincide.
    fn numbers(seed: u64, count: usize, most: u64) -> Vec<f64> {
        let mut state = seed;
        let mut next = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            ((state >> 33) % most) as f64
        };
        (0..count).map(|_| next()).collect()
    }

    #[test]
    fn the_front_is_that_of_comparing_every_pair() {
        for keys in [1, 2, 3, 4] {
            for seed in 0..30 {
                let rows: Vec<Vec<f64>> = numbers(seed, 300 * keys, 10 + seed * 7).chunks(keys).map(<[f64]>::to_vec).collect();
                let mut front = Front::new(keys);
                let mut later = Front::new(keys);
                for (row, keys) in rows.iter().enumerate() {
                    let mut flag = [true];
                    let into = if row < 200 { &mut front } else { &mut later };
                    if keys.len() == 2 {
                        into.refuse(&keys[..1], &keys[1..], &mut flag);
                    }
                    if flag[0] {
                        into.take(keys, || (row as u64, keys.clone()));
                    }
                }
                front.join(later);
                let beats = |one: usize, other: usize| {
                    let as_good = rows[one].iter().zip(&rows[other]).all(|(one, other)| one <= other);
                    as_good && (rows[one] != rows[other] || one < other)
                };
                let mut expected: Vec<u64> =
                    (0..rows.len()).filter(|row| !(0..rows.len()).any(|other| other != *row && beats(other, *row))).map(|row| row as u64).collect();
                let mut found: Vec<u64> = front.finish().into_iter().map(|(row, _)| row).collect();
                expected.sort_unstable();
                found.sort_unstable();
                assert_eq!(found, expected, "{keys} keys, seed {seed}");
            }
        }
    }
}
