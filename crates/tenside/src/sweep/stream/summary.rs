//! For every value of an axis, what a column comes to over all rows with that value.

/// One value of an axis.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlaceSummary {
    /// Rows kept.
    pub rows: u64,
    /// The least value; positive infinity where there is no row.
    least: f64,
    greatest: f64,
    sum: f64,
}

impl Default for PlaceSummary {
    fn default() -> Self {
        PlaceSummary { rows: 0, least: f64::INFINITY, greatest: f64::NEG_INFINITY, sum: 0.0 }
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

    /// The mean value; nothing where no row is kept. The sum is taken in `f64` in the order of the rows: it is within `rows * 2^-53` of the
    /// sum of the magnitudes.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        (self.rows > 0).then(|| self.sum / self.rows as f64)
    }

    pub(super) fn take(&mut self, value: f64) {
        self.rows += 1;
        self.least = self.least.min(value);
        self.greatest = self.greatest.max(value);
        self.sum += value;
    }

    fn join(&mut self, other: &PlaceSummary) {
        self.rows += other.rows;
        self.least = self.least.min(other.least);
        self.greatest = self.greatest.max(other.greatest);
        self.sum += other.sum;
    }
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
