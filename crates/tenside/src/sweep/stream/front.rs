//! A Pareto front: rows that no other row is as good as in every column and better in one.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::brief::Direction;
use crate::error::Error;
use crate::watch::{Watch, stopped};

/// Cells of the first key into which the front is summed up for a quick refusal: a power of two.
const CELLS: usize = 512;
/// Rows between two questions to the watcher.
const WATCHED: usize = 4096;
/// Rows of the front that a whole block is compared with first.
const SAMPLES: usize = 6;
/// 2^52: adding it leaves the whole number nearest to a value in the lowest bits.
const WHOLE: f64 = 4_503_599_627_370_496.0;

/// A row and the two keys that it is judged by.
pub(super) type Judged = ([f64; 2], u64);

/// A front so far by two keys: the first key rises along it, the second falls. Keys are such that less is better; of
/// rows that are equal in all, the earliest is kept.
#[derive(Clone)]
pub(super) struct Pairs {
    rows: Vec<Judged>,
    /// The least second key among rows of the front in a cell below.
    bars: Box<[f64; CELLS]>,
    samples: [[f64; 2]; SAMPLES],
    from: f64,
    cells_per_unit: f64,
    /// Rows taken since the bars were drawn.
    since: usize,
}

impl Pairs {
    pub(super) fn new() -> Self {
        Pairs {
            rows: Vec::new(),
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
        // Few are left: they are looked up one by one. The cell is monotone in the key, so a row in a higher cell has a
        // greater key.
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
    pub(super) fn take(&mut self, candidates: impl IntoIterator<Item = Judged>) {
        let known = self.rows.len();
        self.rows.extend(candidates);
        self.since += self.rows.len() - known;
        // Those that are known are in order: a stable sort merges the others in.
        self.rows.sort_by(|(left, earlier), (right, later)| {
            left[0].total_cmp(&right[0]).then(left[1].total_cmp(&right[1])).then(earlier.cmp(later))
        });
        let mut lowest = f64::INFINITY;
        // Not below also where it is no number.
        self.rows.retain(|([_, second], _)| {
            let is_below = *second < lowest;
            lowest = lowest.min(*second);
            is_below
        });
        if self.since > self.rows.len() / 16 {
            self.draw();
        }
    }

    /// Its rows with their keys, by the first key.
    pub(super) fn into_judged(self) -> Vec<(Vec<f64>, u64)> {
        self.rows.into_iter().map(|(keys, row)| (keys.to_vec(), row)).collect()
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

/// Takes a row that is later than all so far, if it belongs to a front by one key or by more than two, in the order of
/// the keys.
pub(super) fn take(front: &mut Vec<(Vec<f64>, u64)>, keys: &[f64], row: u64) {
    if keys.is_empty() || keys.iter().any(|key| key.is_nan()) {
        return;
    }
    let place = front.partition_point(|(known, _)| known.as_slice() < keys);
    let as_good = |one: &[f64], other: &[f64]| one.iter().zip(other).all(|(one, other)| one <= other);
    // What is as good comes no later in the order, and what is worse no earlier.
    if front.iter().take(place + 1).any(|(known, _)| as_good(known, keys)) {
        return;
    }
    front.retain(|(known, _)| !as_good(keys, known));
    front.insert(place, (keys.to_vec(), row));
}

/// The rows on the Pareto front of some columns among those that `holds` is true of, in their order: those that no other
/// row is as good as in every column and better in one. By up to three columns the time grows little faster than the
/// number of rows; by more, with that of rows times that of rows on the front.
///
/// ```
/// use tenside::brief::Direction;
/// use tenside::watch::Unwatched;
/// let (water, cost) = ([9.0, 8.0, 7.0, 8.0], [3.0, 4.0, 5.0, 6.0]);
/// let front = tenside::sweep::front_of(&[(&water, Direction::Minimise), (&cost, Direction::Minimise)], 4, |row| row != 0, &Unwatched)?;
/// assert_eq!(front, [1, 2]);
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// `Stopped` where `watch` stopped it.
pub fn front_of(
    columns: &[(&[f64], Direction)],
    rows: usize,
    holds: impl Fn(usize) -> bool,
    watch: &dyn Watch,
) -> Result<Vec<usize>, Error> {
    let go_on = || if watch.go_on(0) { Ok(()) } else { Err(stopped()) };
    // 0 and -0 are the same.
    let key = |row: usize, (values, direction): &(&[f64], Direction)| {
        if *direction == Direction::Minimise { values[row] + 0.0 } else { 0.0 - values[row] }
    };
    let is_number = |row: usize| columns.iter().all(|column| !key(row, column).is_nan());
    let mut ordered: Vec<usize> = (0..rows).filter(|row| holds(*row) && is_number(*row)).collect();
    let by_keys = |one: &usize, other: &usize| {
        let mut orders = columns.iter().map(|column| key(*one, column).total_cmp(&key(*other, column)));
        orders.find(|order| order.is_ne()).unwrap_or(Ordering::Equal)
    };
    ordered.sort_unstable_by(by_keys);
    // What is better than a row comes before it, and its first key is as good: the others decide. Rows that are equal
    // in all stand together, and one speaks for them.
    let mut alike: Vec<&[usize]> = Vec::new();
    let mut steps = Steps::default();
    for (place, equal) in ordered.chunk_by(|one, other| by_keys(one, other).is_eq()).enumerate() {
        let row = equal[0];
        if place % WATCHED == 0 {
            go_on()?;
        }
        let is_beaten = match columns {
            [] => true,
            [_] => !alike.is_empty(),
            [_, second] => !steps.take(key(row, second), 0.0),
            [_, second, third] => !steps.take(key(row, second), key(row, third)),
            [_, others @ ..] => {
                // What is as good comes early: the best rows are looked at first, as many at a time as are watched.
                let mut beaten = false;
                for known in alike.chunks(WATCHED) {
                    beaten =
                        known.iter().any(|known| others.iter().all(|column| key(known[0], column) <= key(row, column)));
                    if beaten {
                        break;
                    }
                    go_on()?;
                }
                beaten
            }
        };
        if !is_beaten {
            alike.push(equal);
        }
    }
    let mut front = alike.concat();
    front.sort_unstable();
    Ok(front)
}

/// Pairs of which none is as good as another in both: the first rises, by its place in the order of all numbers, the
/// second falls.
#[derive(Default)]
struct Steps(BTreeMap<i64, f64>);

impl Steps {
    /// Takes a pair; false where one that is there is as good in both.
    fn take(&mut self, first: f64, second: f64) -> bool {
        // As `f64::total_cmp` orders them.
        let bits = first.to_bits() as i64;
        let first = bits ^ ((bits >> 63) & i64::MAX);
        if self.0.range(..=first).next_back().is_some_and(|(_, known)| *known <= second) {
            return false;
        }
        while let Some((&place, known)) = self.0.range(first..).next()
            && *known >= second
        {
            self.0.remove(&place);
        }
        self.0.insert(first, second);
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::watch::Unwatched;

    /// Nothing and less than nothing are one number, and what is no number is on no front.
    #[test]
    fn signs_of_nothing_do_not_matter() {
        let columns = [[0.0, -0.0, 0.0, f64::NAN], [1.0, 2.0, 1.0, 0.0], [1.0, 1.0, 0.5, 0.0]];
        let columns: Vec<(&[f64], Direction)> =
            columns.iter().map(|column| (column.as_slice(), Direction::Minimise)).collect();
        assert_eq!(front_of(&columns, 4, |_| true, &Unwatched).unwrap(), [2]);
        assert_eq!(front_of(&[], 4, |_| true, &Unwatched).unwrap(), [0usize; 0]);
    }

    /// Every row is on the front: by comparing each with each, 200 000 rows would take minutes.
    #[test]
    fn a_front_of_all_rows_is_found_quickly_and_stops() {
        let count = 200_000;
        let first: Vec<f64> = (0..count).map(f64::from).collect();
        let second: Vec<f64> = (0..count).map(|row| f64::from((row * 7919) % count)).collect();
        let third: Vec<f64> = first.iter().zip(&second).map(|(first, second)| -first - second).collect();
        let all = [
            (first.as_slice(), Direction::Minimise),
            (second.as_slice(), Direction::Minimise),
            (third.as_slice(), Direction::Minimise),
        ];
        let rows = first.len();
        assert_eq!(front_of(&all, rows, |_| true, &Unwatched).unwrap().len(), rows);
        struct Never;
        impl Watch for Never {
            fn go_on(&self, _done: u64) -> bool {
                false
            }
        }
        assert!(front_of(&all, rows, |_| true, &Never).unwrap_err().is_stopped());
    }

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
        let mut tied = 0;
        for keys in [1, 2, 3, 4] {
            for seed in 0..30 {
                let rows: Vec<Vec<f64>> =
                    numbers(seed, 300 * keys, 10 + seed * 7).chunks(keys).map(<[f64]>::to_vec).collect();
                let (mut front, mut pairs) = (Vec::new(), Pairs::new());
                // In pieces, as batches come.
                for (piece, rows) in rows.chunks(40).enumerate() {
                    let place = |row: usize| (piece * 40 + row) as u64;
                    if keys != 2 {
                        rows.iter().enumerate().for_each(|(row, keys)| take(&mut front, keys, place(row)));
                        continue;
                    }
                    let key = |key: usize| rows.iter().map(|keys| keys[key]).collect::<Vec<f64>>();
                    let mut flags = vec![true; rows.len()];
                    pairs.refuse(&key(0), &key(1), &mut flags);
                    let kept = rows.iter().enumerate().filter(|(row, _)| flags[*row]);
                    pairs.take(kept.map(|(row, keys)| ([keys[0], keys[1]], place(row))));
                }
                if keys == 2 {
                    front = pairs.into_judged();
                }
                let beats = |one: usize, other: usize| {
                    let as_good = rows[one].iter().zip(&rows[other]).all(|(one, other)| one <= other);
                    as_good && rows[one] != rows[other]
                };
                let expected: Vec<usize> =
                    (0..rows.len()).filter(|row| !(0..rows.len()).any(|other| beats(other, *row))).collect();
                // Of equal ones, a stream keeps the earliest.
                let is_first = |row: &usize| !rows[..*row].contains(&rows[*row]);
                let first: Vec<u64> = expected.iter().filter(|row| is_first(row)).map(|row| *row as u64).collect();
                tied += expected.len() - first.len();
                let mut found: Vec<u64> = front.into_iter().map(|(_, row)| row).collect();
                found.sort_unstable();
                assert_eq!(found, first, "{keys} keys, seed {seed}");
                let columns: Vec<Vec<f64>> = (0..keys).map(|key| rows.iter().map(|row| row[key]).collect()).collect();
                let turned: Vec<Vec<f64>> =
                    columns.iter().map(|column| column.iter().map(|value| -value).collect()).collect();
                for (columns, direction) in [(&columns, Direction::Minimise), (&turned, Direction::Maximise)] {
                    let columns: Vec<(&[f64], Direction)> =
                        columns.iter().map(|column| (column.as_slice(), direction)).collect();
                    let whole = front_of(&columns, rows.len(), |_| true, &Unwatched).unwrap();
                    assert_eq!(whole, expected, "{keys} keys, seed {seed}");
                }
            }
        }
        assert!(tied > 100, "{tied}");
    }
}
