//! Rows that are kept: the best by one column.

/// A row and the values of the columns that were asked for.
pub type Kept = (u64, Vec<f64>);

/// A row with what it is ranked by, the less the better.
#[derive(Clone, Debug, PartialEq)]
struct Ranked {
    key: f64,
    kept: Kept,
}

/// The best rows so far, the best first; of equal ones, the earlier.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Best {
    count: usize,
    rows: Vec<Ranked>,
}

impl Best {
    pub(super) fn new(count: usize) -> Self {
        Best { count, rows: Vec::new() }
    }

    /// What a later row has to be below to be kept.
    pub(super) fn bar(&self) -> f64 {
        if self.rows.len() < self.count { f64::INFINITY } else { self.rows.last().map_or(f64::NEG_INFINITY, |row| row.key) }
    }

    /// Takes a row that is later than all so far.
    pub(super) fn take(&mut self, key: f64, kept: impl FnOnce() -> Kept) {
        if key < self.bar() || self.rows.len() < self.count {
            let place = self.rows.partition_point(|row| row.key <= key);
            self.rows.insert(place, Ranked { key, kept: kept() });
            self.rows.truncate(self.count);
        }
    }

    /// Takes what was kept of later rows.
    pub(super) fn join(&mut self, later: Best) {
        for Ranked { key, kept } in later.rows {
            self.take(key, || kept);
        }
    }

    pub(super) fn finish(self) -> Vec<Kept> {
        self.rows.into_iter().map(|row| row.kept).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_are_kept_and_the_earlier_of_equal_ones() {
        let mut best = Best::new(3);
        for (row, key) in [5.0, 3.0, 5.0, 1.0, 3.0, 9.0, 1.0].into_iter().enumerate() {
            best.take(key, || (row as u64, vec![key]));
        }
        assert_eq!(best.bar(), 3.0);
        let mut later = Best::new(3);
        later.take(1.0, || (7, vec![1.0]));
        later.take(0.5, || (8, vec![0.5]));
        best.join(later);
        assert_eq!(best.finish().iter().map(|(row, _)| *row).collect::<Vec<_>>(), [8, 3, 6]);
    }
}
