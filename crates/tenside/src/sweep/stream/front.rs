//! A Pareto front: rows that no other row is as good as in every column and better in one.

use crate::brief::Direction;

/// Cells of the first key into which the front is summed up for a quick refusal: a power of two.
const CELLS: usize = 512;
/// Rows of the front that a whole block is compared with first.
const SAMPLES: usize = 6;
/// 2^52: adding it leaves the whole number nearest to a value in the lowest bits.
const WHOLE: f64 = 4_503_599_627_370_496.0;

/// A row and what it is judged by.
pub(super) type Judged<const KEYS: usize> = ([f64; KEYS], u64);

/// The front so far. Keys are such that less is better; of rows that are equal in all, the earliest is kept.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Front {
    Pairs(Pairs),
    Many(Many),
}

/// A front by two keys: the first key rises along it, the second falls.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pairs {
    rows: Vec<Judged<2>>,
    merged: Vec<Judged<2>>,
    /// The least second key among rows of the front in a cell below.
    bars: Box<[f64; CELLS]>,
    samples: [[f64; 2]; SAMPLES],
    from: f64,
    cells_per_unit: f64,
    /// Rows taken since the bars were drawn.
    since: usize,
}

impl Pairs {
    fn new() -> Self {
        Pairs {
            rows: Vec::new(),
            merged: Vec::new(),
            bars: Box::new([f64::INFINITY; CELLS]),
            samples: [[f64::INFINITY; 2]; SAMPLES],
            from: 0.0,
            cells_per_unit: 0.0,
            since: 0,
        }
    }

    /// Lowers the flags of rows that the front is as good as for sure.
    #[inline(always)]
    pub(super) fn refuse(&self, first: &[f64], second: &[f64], flags: &mut [bool]) {
        for [one, other] in self.samples {
            for ((flag, first), second) in flags.iter_mut().zip(first).zip(second) {
                // One that is equal may be the earlier.
                *flag &= (*first < one) | (*second < other) | ((*first == one) & (*second == other));
            }
        }
        // Few are left: they are looked up one by one. The cell is monotone in the key, so a row in a higher cell has a greater key.
        for ((flag, first), second) in flags.iter_mut().zip(first).zip(second) {
            if *flag {
                *flag = *second < self.bars[self.cell(*first)];
            }
        }
    }

    #[inline(always)]
    fn cell(&self, key: f64) -> usize {
        let place = (key - self.from) * self.cells_per_unit;
        let place = if place > 0.0 { place } else { 0.0 };
        let place = if place < (CELLS - 1) as f64 { place } else { (CELLS - 1) as f64 };
        (place + WHOLE).to_bits() as usize & (CELLS - 1)
    }

    /// Takes rows, in any order.
    pub(super) fn take(&mut self, candidates: &mut [Judged<2>]) {
        let order = |left: &Judged<2>, right: &Judged<2>| left.0[0].total_cmp(&right.0[0]).then(left.0[1].total_cmp(&right.0[1])).then(left.1.cmp(&right.1));
        candidates.sort_unstable_by(order);
        let (mut known, mut new) = (self.rows.iter().peekable(), candidates.iter().peekable());
        self.merged.clear();
        let mut lowest = f64::INFINITY;
        loop {
            let is_new = match (known.peek(), new.peek()) {
                (None, None) => break,
                (Some(_), None) => false,
                (None, Some(_)) => true,
                (Some(known), Some(new)) => order(new, known).is_lt(),
            };
            // Not below also where it is no number.
            if let Some(row) = if is_new { new.next() } else { known.next() }
                && row.0[1] < lowest
            {
                lowest = row.0[1];
                self.since += usize::from(is_new);
                self.merged.push(*row);
            }
        }
        std::mem::swap(&mut self.rows, &mut self.merged);
        if self.since > self.rows.len() / 16 {
            self.draw();
        }
    }

    fn draw(&mut self) {
        let (Some(first), Some(last)) = (self.rows.first(), self.rows.last()) else { return };
        let width = last.0[0] - first.0[0];
        self.from = first.0[0];
        self.cells_per_unit = if width > 0.0 { (CELLS - 2) as f64 / width } else { 0.0 };
        let mut lowest = f64::INFINITY;
        let mut next = 0;
        for cell in 0..CELLS {
            while next < self.rows.len() && self.cell(self.rows[next].0[0]) < cell {
                lowest = lowest.min(self.rows[next].0[1]);
                next += 1;
            }
            self.bars[cell] = lowest;
        }
        for (place, sample) in self.samples.iter_mut().enumerate() {
            *sample = self.rows[(self.rows.len() - 1) * place / (SAMPLES - 1)].0;
        }
        self.since = 0;
    }
}

/// A front by one key or by more than two, in the order of the keys.
#[derive(Clone, Debug, PartialEq, Default)]
pub(super) struct Many {
    rows: Vec<(Vec<f64>, u64)>,
}

impl Many {
    /// Takes a row that is later than all so far, if it belongs to the front.
    pub(super) fn take(&mut self, keys: &[f64], row: u64) {
        if keys.is_empty() || keys.iter().any(|key| key.is_nan()) {
            return;
        }
        let place = self.rows.partition_point(|(known, _)| before(known, keys));
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
        self.rows.insert(place, (keys.to_vec(), row));
    }
}

impl Front {
    pub(super) fn new(keys: usize) -> Self {
        if keys == 2 { Front::Pairs(Pairs::new()) } else { Front::Many(Many::default()) }
    }

    /// Takes the front of other rows; by one key or more than two, of later ones.
    pub(super) fn join(&mut self, later: Front) {
        match (self, later) {
            (Front::Pairs(front), Front::Pairs(mut later)) => front.take(&mut later.rows),
            (Front::Many(front), Front::Many(later)) => later.rows.iter().for_each(|(keys, row)| front.take(keys, *row)),
            _ => {}
        }
    }

    /// Its rows with their keys, by the first key.
    pub(super) fn into_judged(self) -> Vec<(Vec<f64>, u64)> {
        match self {
            Front::Pairs(front) => front.rows.into_iter().map(|(keys, row)| (keys.to_vec(), row)).collect(),
            Front::Many(front) => front.rows,
        }
    }

    /// Takes the front of other rows as [`Front::into_judged`] gave it; by one key or more than two, of later ones.
    pub(super) fn take_judged(&mut self, judged: &[(Vec<f64>, u64)]) {
        match self {
            Front::Pairs(front) => {
                let mut pairs: Vec<Judged<2>> = judged
                    .iter()
                    .filter_map(|(keys, row)| match keys.as_slice() {
                        [first, second] => Some(([*first, *second], *row)),
                        _ => None,
                    })
                    .collect();
                front.take(&mut pairs);
            }
            Front::Many(front) => judged.iter().for_each(|(keys, row)| front.take(keys, *row)),
        }
    }

    /// Its rows, by the first key.
    pub(super) fn rows(&self) -> Vec<u64> {
        match self {
            Front::Pairs(front) => front.rows.iter().map(|(_, row)| *row).collect(),
            Front::Many(front) => front.rows.iter().map(|(_, row)| *row).collect(),
        }
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
    let key = |row: usize, (values, direction): &(&[f64], Direction)| if *direction == Direction::Minimise { values[row] } else { -values[row] };
    let held = (0..rows).filter(|row| holds(*row));
    match (&mut front, columns) {
        (Front::Pairs(front), [first, second]) => {
            front.take(&mut held.map(|row| ([key(row, first), key(row, second)], row as u64)).collect::<Vec<_>>());
        }
        (Front::Many(front), _) => {
            for row in held {
                let keys: Vec<f64> = columns.iter().map(|column| key(row, column)).collect();
                front.take(&keys, row as u64);
            }
        }
        (Front::Pairs(_), _) => {}
    }
    let mut found: Vec<usize> = front.rows().into_iter().map(|row| row as usize).collect();
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
                // In pieces, as batches come.
                for (piece, rows) in rows.chunks(40).enumerate() {
                    let mut part = Front::new(keys);
                    let place = |row: usize| (piece * 40 + row) as u64;
                    match &mut part {
                        Front::Many(part) => rows.iter().enumerate().for_each(|(row, keys)| part.take(keys, place(row))),
                        Front::Pairs(part) => {
                            let mut judged: Vec<Judged<2>> = rows.iter().enumerate().map(|(row, keys)| ([keys[0], keys[1]], place(row))).collect();
                            if let Front::Pairs(front) = &front {
                                let key = |key: usize| rows.iter().map(|keys| keys[key]).collect::<Vec<f64>>();
                                let mut flags = vec![true; rows.len()];
                                front.refuse(&key(0), &key(1), &mut flags);
                                let mut flags = flags.into_iter();
                                judged.retain(|_| flags.next() == Some(true));
                            }
                            part.take(&mut judged);
                        }
                    }
                    front.join(part);
                }
                let beats = |one: usize, other: usize| {
                    let as_good = rows[one].iter().zip(&rows[other]).all(|(one, other)| one <= other);
                    as_good && (rows[one] != rows[other] || one < other)
                };
                let mut expected: Vec<u64> =
                    (0..rows.len()).filter(|row| !(0..rows.len()).any(|other| other != *row && beats(other, *row))).map(|row| row as u64).collect();
                let mut found = front.rows();
                expected.sort_unstable();
                found.sort_unstable();
                assert_eq!(found, expected, "{keys} keys, seed {seed}");
            }
        }
    }
}
