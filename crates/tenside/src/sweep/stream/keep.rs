//! Rows that are kept: the best by one column.

/// A row and the values of the columns that were asked for.
pub type Kept = (u64, Vec<f64>);

/// What a row has to be below, or at and earlier, to be among the `count` best.
pub(super) fn bar(best: &[(f64, u64)], count: usize) -> f64 {
    if best.len() < count { f64::INFINITY } else { best.last().map_or(f64::NEG_INFINITY, |row| row.0) }
}

/// Takes a row among the `count` best, the best first; the less the key the better, of equal ones the earlier. One that
/// is there already is no second.
pub(super) fn take(best: &mut Vec<(f64, u64)>, count: usize, key: f64, row: u64) {
    let place = best.partition_point(|known| *known < (key, row));
    if place < count && !key.is_nan() && best.get(place) != Some(&(key, row)) {
        best.insert(place, (key, row));
        best.truncate(count);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_are_kept_and_the_earlier_of_equal_ones() {
        let mut best = Vec::new();
        for (row, key) in [5.0, 3.0, 5.0, 1.0, 3.0, 9.0, 1.0].into_iter().enumerate() {
            take(&mut best, 3, key, row as u64);
        }
        assert_eq!(bar(&best, 3), 3.0);
        let mut later = Vec::new();
        for (key, row) in [(1.0, 7), (0.5, 8), (1.0, 3)] {
            take(&mut later, 3, key, row);
        }
        later.into_iter().for_each(|(key, row)| take(&mut best, 3, key, row));
        assert_eq!(best, [(0.5, 8), (1.0, 3), (1.0, 6)]);
    }
}
