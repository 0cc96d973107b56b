//! For every value of an axis, what a column comes to over all rows with that value.
//!
//! ```text
//! mean = sum of round(value * 2^52) / 2^52 / rows
//! ```
//!
//! Whole numbers add up the same in any order, so a mean does not depend on how rows are shared out among threads or
//! machines.

/// 2^52: to which fraction of a unit values are added up. A value of 1 or more keeps all its bits.
const UNIT: f64 = 4_503_599_627_370_496.0;

/// One value of an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaceSummary {
    /// Rows kept.
    pub rows: u64,
    /// The least value; positive infinity where there is no row.
    least: f64,
    greatest: f64,
    /// In units of 2^-52; nothing where it is too large for 128 bits.
    sum: Option<i128>,
}

impl Default for PlaceSummary {
    fn default() -> Self {
        PlaceSummary::restored(0, None, Some(0))
    }
}

impl PlaceSummary {
    /// The least value; nothing where no row is kept.
    #[must_use]
    pub fn least(&self) -> Option<f64> {
        (self.rows > 0).then_some(self.least)
    }

    /// The greatest value; nothing where no row is kept.
    #[must_use]
    pub fn greatest(&self) -> Option<f64> {
        (self.rows > 0).then_some(self.greatest)
    }

    /// The mean value; nothing where no row is kept, and where values are too large to be added up (beyond 2^75). Every
    /// value counts to the nearest 2^-52, whatever the order.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        let sum = self.sum.filter(|_| self.rows > 0)?;
        Some(sum as f64 / UNIT / self.rows as f64)
    }

    /// The sum of the values in units of 2^-52; nothing where it is too large for 128 bits.
    #[must_use]
    pub fn sum(&self) -> Option<i128> {
        self.sum
    }

    /// What was read off a summary, as a summary again: rows, the least and greatest value where there are rows, and
    /// the sum.
    #[must_use]
    pub fn restored(rows: u64, ends: Option<(f64, f64)>, sum: Option<i128>) -> Self {
        let (least, greatest) = ends.unwrap_or((f64::INFINITY, f64::NEG_INFINITY));
        PlaceSummary { rows, least, greatest, sum }
    }

    pub(super) fn take(&mut self, value: f64) {
        self.join(&PlaceSummary::restored(1, Some((value, value)), units(value)));
    }

    fn join(&mut self, other: &PlaceSummary) {
        self.rows += other.rows;
        self.least = self.least.min(other.least);
        self.greatest = self.greatest.max(other.greatest);
        self.sum = self.sum.zip(other.sum).and_then(|(sum, more)| sum.checked_add(more));
    }
}

/// A value in units of 2^-52; nothing past 128 bits.
fn units(value: f64) -> Option<i128> {
    let scaled = (value * UNIT).round_ties_even();
    // Percentages and most prices are within 64 bits, which is quicker.
    if scaled.abs() < 9e18 {
        return Some(i128::from(scaled as i64));
    }
    (scaled.abs() < 1.7e38).then_some(scaled as i128)
}

/// What a column comes to along one axis.
#[derive(Clone, Debug, PartialEq)]
pub struct AxisSummary {
    /// The axis, by its place.
    pub axis: usize,
    /// One entry for every place on it.
    pub places: Vec<PlaceSummary>,
}

impl AxisSummary {
    pub(super) fn new(axis: usize, length: usize) -> Self {
        AxisSummary { axis, places: vec![PlaceSummary::default(); length] }
    }

    pub(super) fn join(&mut self, other: &AxisSummary) {
        self.places.iter_mut().zip(&other.places).for_each(|(place, more)| place.join(more));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn summary(values: &[f64]) -> PlaceSummary {
        let mut summary = PlaceSummary::default();
        values.iter().for_each(|value| summary.take(*value));
        summary
    }

    #[test]
    fn a_mean_does_not_depend_on_the_order() {
        let values: Vec<f64> = (1..=999).map(|index| 1.0 / f64::from(index)).collect();
        let backwards: Vec<f64> = values.iter().rev().copied().collect();
        let (mut first, second) = (summary(&values[..400]), summary(&values[400..]));
        let plain = values.iter().sum::<f64>();
        assert_ne!(plain, backwards.iter().sum::<f64>());
        first.join(&second);
        assert_eq!(first, summary(&values));
        assert_eq!(first, summary(&backwards));
        let mean = first.mean().unwrap();
        assert!((mean - plain / 999.0).abs() < 1e-15, "{mean}");
        let ends = (1.0 / 999.0, 1.0);
        assert_eq!((first.least(), first.greatest()), (Some(ends.0), Some(ends.1)));
        assert_eq!(PlaceSummary::restored(999, Some(ends), first.sum()), first);
    }

    #[test]
    fn no_rows_and_values_too_large_have_no_mean() {
        assert_eq!(summary(&[]).mean(), None);
        assert_eq!(PlaceSummary::restored(0, None, Some(0)), summary(&[]));
        assert_eq!(summary(&[1e12, -1e12, 3.0]).mean(), Some(1.0));
        let large = summary(&[1e60, 1.0]);
        assert_eq!((large.mean(), large.greatest()), (None, Some(1e60)));
    }
}
