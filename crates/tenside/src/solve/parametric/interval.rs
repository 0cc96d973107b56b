//! The values of a parameter between which something holds.

use super::region::CriticalRegion;
use crate::number::Exact;

/// The values of a parameter between which a region's conditions hold; an absent end is none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(in crate::solve) struct Interval {
    pub(in crate::solve) from: Option<Exact>,
    pub(in crate::solve) to: Option<Exact>,
}

impl Interval {
    /// Where the conditions of a region along one direction hold around an offset; `None` if one of them does not hold
    /// there, or only just: two regions meet there.
    pub(super) fn of(region: &CriticalRegion, offset: &Exact) -> Option<Self> {
        let mut interval = Interval::default();
        for form in region.strict.iter().chain(region.slacks.iter().map(|(slack, _)| slack)) {
            let (constant, rate) = (&form[0], &form[1]);
            if !(constant + rate * offset).is_positive() {
                return None;
            }
            if let Some(root) = (-constant).checked_div(rate) {
                if rate.is_positive() { interval.not_below(root) } else { interval.not_above(root) }
            }
        }
        Some(interval)
    }

    pub(in crate::solve) fn not_below(&mut self, end: Exact) {
        if self.from.as_ref().is_none_or(|from| *from < end) {
            self.from = Some(end);
        }
    }

    pub(in crate::solve) fn not_above(&mut self, end: Exact) {
        if self.to.as_ref().is_none_or(|to| *to > end) {
            self.to = Some(end);
        }
    }

    /// True strictly between the ends.
    pub(super) fn holds(&self, value: &Exact) -> bool {
        self.from.as_ref().is_none_or(|from| from < value) && self.to.as_ref().is_none_or(|to| value < to)
    }

    pub(in crate::solve) fn moved_by(self, by: &Exact) -> Self {
        Interval { from: self.from.map(|end| end + by), to: self.to.map(|end| end + by) }
    }
}
