//! A simplex lattice: every way to share out whole steps among the members of a split.
//!
//! ```text
//! points = C(n + k - 1, k - 1)    n steps, k members
//! ```
//!
//! Source: H. Scheffé, Experiments with mixtures, Journal of the Royal Statistical Society B 20, 1958 (from memory).

use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// Every point of a lattice, the first member's share slowest.
///
/// ```
/// use tenside::sweep::Lattice;
/// let lattice = Lattice::new(3, 20)?;
/// assert_eq!(lattice.len(), 231);
/// assert_eq!(lattice.steps_at(0), [0, 0, 20]);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Lattice {
    members: usize,
    steps: u32,
    points: Vec<u32>,
}

getters!(Lattice {
    /// How many steps make the whole.
    steps: u32,
    /// How many members share.
    members: usize,
});

impl Lattice {
    /// All shares of `members` in `steps` steps.
    ///
    /// # Errors
    /// Fewer than two members, no steps, more points than an axis holds.
    pub fn new(members: usize, steps: u32) -> Result<Self, Error> {
        if members < 2 {
            return Err(Fault::new(FaultKind::OutOfRange, "a lattice over fewer than two members")
                .value(members)
                .allowed("2 or more")
                .into());
        }
        Quantity::LatticeSteps.check(&Exact::from(steps))?;
        Quantity::AxisPoints
            .check_count(points(members, steps).unwrap_or(u64::MAX))
            .map_err(|error| error.within(&format!("lattice of {members} members in {steps} steps")))?;
        let mut lattice = Lattice { members, steps, points: Vec::new() };
        lattice.grow(&mut Vec::with_capacity(members), steps);
        Ok(lattice)
    }

    fn grow(&mut self, shares: &mut Vec<u32>, left: u32) {
        if shares.len() + 1 == self.members {
            self.points.extend_from_slice(shares);
            self.points.push(left);
            return;
        }
        for share in 0..=left {
            shares.push(share);
            self.grow(shares, left - share);
            shares.pop();
        }
    }

    /// How many points.
    #[must_use]
    pub fn len(&self) -> usize {
        self.points.len() / self.members
    }

    /// False: a lattice has at least two points.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.points.is_empty()
    }

    /// The steps of each member at a point.
    ///
    /// # Panics
    /// Past the last point.
    #[must_use]
    pub fn steps_at(&self, index: usize) -> &[u32] {
        &self.points[index * self.members..][..self.members]
    }
}

/// `C(n + k - 1, k - 1)`, or nothing past 64 bits.
fn points(members: usize, steps: u32) -> Option<u64> {
    let mut count: u128 = 1;
    for chosen in 1..members as u128 {
        count = count.checked_mul(u128::from(steps) + chosen)? / chosen;
    }
    u64::try_from(count).ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_count_is_the_formulas_and_every_point_is_whole_and_new() {
        for (members, steps, count) in [(2, 1, 2), (3, 20, 231), (4, 10, 286), (5, 6, 210), (3, 1, 3), (3, 100, 5151)] {
            let lattice = Lattice::new(members, steps).unwrap();
            assert_eq!((lattice.len(), points(members, steps)), (count, Some(count as u64)));
            let mut seen = std::collections::BTreeSet::new();
            for index in 0..lattice.len() {
                let point = lattice.steps_at(index);
                assert_eq!(point.iter().sum::<u32>(), steps);
                assert!(seen.insert(point.to_vec()));
            }
        }
    }

    #[test]
    fn too_many_and_too_few_are_refused() {
        assert!(Lattice::new(1, 20).is_err());
        assert!(Lattice::new(3, 0).is_err());
        assert!(Lattice::new(6, 1000).unwrap_err().to_string().contains("points"));
        assert!(Lattice::new(100, 10_000).is_err());
    }
}
