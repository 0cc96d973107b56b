//! How many rows fall into each bin of a column.

use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

/// Bins of equal width between two values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bins {
    from: f64,
    to: f64,
    count: usize,
}

impl Bins {
    /// `count` bins from `from` to `to`, in the column's unit.
    ///
    /// # Errors
    /// Ends that are upside down or no numbers, no bins or more than a hundred thousand.
    pub fn new(from: f64, to: f64, count: usize) -> Result<Self, Error> {
        if !(from.is_finite() && to.is_finite() && from < to) {
            return Err(Fault::new(
                FaultKind::OutOfRange,
                "the ends of a histogram are not two finite numbers in ascending order",
            )
            .value(format!("{from} to {to}"))
            .allowed("from < to")
            .into());
        }
        Quantity::Bins.check_count(count)?;
        Ok(Bins { from, to, count })
    }

    /// How many bins.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }

    /// The edges, one more than bins.
    #[must_use]
    pub fn edges(&self) -> Vec<f64> {
        (0..=self.count).map(|edge| self.from + (self.to - self.from) * edge as f64 / self.count as f64).collect()
    }
}

/// How many rows fall into each bin; a value on an edge counts in the bin above, the last edge in the last bin.
#[derive(Clone, Debug, PartialEq)]
pub struct Histogram {
    /// The bins.
    pub bins: Bins,
    /// Rows in each bin.
    pub counts: Vec<u64>,
    /// Rows below the first edge.
    pub below: u64,
    /// Rows above the last edge.
    pub above: u64,
}

impl Histogram {
    pub(super) fn new(bins: Bins) -> Self {
        Histogram { bins, counts: vec![0; bins.count], below: 0, above: 0 }
    }

    pub(super) fn take(&mut self, value: f64) {
        let Bins { from, to, count } = self.bins;
        if value < from {
            self.below += 1;
        } else if value > to {
            self.above += 1;
        } else {
            let bin = ((value - from) / (to - from) * count as f64) as usize;
            self.counts[bin.min(count - 1)] += 1;
        }
    }

    pub(super) fn join(&mut self, other: &Histogram) {
        self.counts.iter_mut().zip(&other.counts).for_each(|(count, more)| *count += more);
        self.below += other.below;
        self.above += other.above;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn values_fall_into_their_bins() {
        let mut histogram = Histogram::new(Bins::new(0.0, 4.0, 4).unwrap());
        for value in [-1.0, 0.0, 0.5, 1.0, 3.9, 4.0, 4.1] {
            histogram.take(value);
        }
        assert_eq!((histogram.below, histogram.counts.as_slice(), histogram.above), (1, &[2, 1, 0, 2][..], 1));
        assert_eq!(histogram.bins.edges(), [0.0, 1.0, 2.0, 3.0, 4.0]);
        assert!(
            Bins::new(1.0, 0.0, 3).is_err() && Bins::new(0.0, f64::NAN, 3).is_err() && Bins::new(0.0, 1.0, 0).is_err()
        );
    }
}
