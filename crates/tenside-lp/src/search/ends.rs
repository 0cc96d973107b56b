//! Where a variable stands in a dictionary, and other ends for it: what a conflict made smaller goes on with.

use super::tableau::Tableau;

/// Reduced costs of the wrong sign up to this, times 1 + their row's, are roundings.
const WRONG: f64 = 1e-12;

/// Where a variable stands in a tableau.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Whereabouts {
    /// Basic in this row.
    Basic(usize),
    /// Nonbasic at this position.
    Nonbasic(usize),
}

impl<const WIDTH: usize> Tableau<WIDTH> {
    /// Where a variable stands: its row if it is basic, else its position.
    pub(super) fn whereabouts(&self, variable: usize) -> Whereabouts {
        let is_it = |spot: &super::tableau::Spot| spot.variable == variable;
        match self.basic[..self.rows()].iter().position(is_it) {
            Some(row) => Whereabouts::Basic(row),
            None => Whereabouts::Nonbasic(self.nonbasic[..self.columns()].iter().position(is_it).unwrap_or(0)),
        }
    }

    /// The value of every column.
    pub(super) fn point(&self) -> Vec<f64> {
        let value = |column| match self.whereabouts(column) {
            Whereabouts::Basic(row) => self.values[row],
            Whereabouts::Nonbasic(position) => self.standing(position),
        };
        (0..self.columns()).map(value).collect()
    }

    /// Gives a variable other ends; what stands at one moves with it.
    pub(super) fn change_ends(&mut self, variable: usize, low: f64, high: f64) {
        match self.whereabouts(variable) {
            Whereabouts::Basic(row) => (self.basic[row].low, self.basic[row].high) = (low, high),
            Whereabouts::Nonbasic(position) => {
                let before = self.standing(position);
                (self.nonbasic[position].low, self.nonbasic[position].high) = (low, high);
                self.shift(position, self.standing(position) - before);
            }
        }
    }

    /// Moves what stands at the end that its slope is against to its other end; false where there is none.
    pub(super) fn mend(&mut self) -> bool {
        for position in 0..self.columns() {
            let slope = self.slopes[position] * self.inwards(position);
            if slope < -WRONG && !self.nonbasic[position].is_fixed() {
                if !self.nonbasic[position].end(self.sides[position].other()).is_finite() {
                    return false;
                }
                self.flip(position);
            }
        }
        true
    }
}
