//! Rows that are kept: the best by one column.

/// A row and the values of the columns that were asked for.
pub type Kept = (u64, Vec<f64>);

/// The best rows so far, the best first; of equal ones, the earlier.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Best {
    count: usize,
    rows: Vec<(f64, u64)>,
}

impl Best {
    pub(super) fn new(count: usize) -> Self {
        Best { count, rows: Vec::new() }
    }

    /// What a row has to be below, or at and earlier, to be kept.
    pub(super) fn bar(&self) -> f64 {
        if self.rows.len() < self.count {
            f64::INFINITY
        } else {
            self.rows.last().map_or(f64::NEG_INFINITY, |row| row.0)
        }
    }

    /// Takes a row; the less the key the better. One that is there already is no second.
    pub(super) fn take(&mut self, key: f64, row: u64) {
        let place = self.rows.partition_point(|known| (known.0, known.1) < (key, row));
        if place < self.count && !key.is_nan() && self.rows.get(place) != Some(&(key, row)) {
            self.rows.insert(place, (key, row));
            self.rows.truncate(self.count);
        }
    }

    /// Its rows with their keys, the best first.
    pub(super) fn into_ranked(self) -> Vec<(f64, u64)> {
        self.rows
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_are_kept_and_the_earlier_of_equal_ones() {
        let mut best = Best::new(3);
        for (row, key) in [5.0, 3.0, 5.0, 1.0, 3.0, 9.0, 1.0].into_iter().enumerate() {
            best.take(key, row as u64);
        }
        assert_eq!(best.bar(), 3.0);
        let mut later = Best::new(3);
        later.take(1.0, 7);
        later.take(0.5, 8);
        later.take(1.0, 3);
        later.into_ranked().into_iter().for_each(|(key, row)| best.take(key, row));
        assert_eq!(best.into_ranked(), [(0.5, 8), (1.0, 3), (1.0, 6)]);
    }
}
