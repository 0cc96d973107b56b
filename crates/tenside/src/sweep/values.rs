//! The values that an axis takes, exact.

use std::sync::Arc;

use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, HalfWay, ToExact};

/// Distinct exact values in the order given.
///
/// ```
/// use tenside::number::Exact;
/// use tenside::sweep::Values;
/// let values = Values::linspace(0.5, 4, 15, 0.25)?;
/// assert_eq!(values.get(1), Some(&Exact::ratio(3, 4)));
/// assert!(Values::linspace(4, 1, 15, 0.25).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Values(Arc<[Exact]>);

impl Values {
    /// These values.
    ///
    /// # Errors
    /// None, what is no number, one that stands twice, more than an axis holds.
    pub fn new(values: impl IntoIterator<Item = impl ToExact>) -> Result<Self, Error> {
        let values = values.into_iter().map(ToExact::to_exact).collect::<Result<Vec<_>, _>>()?;
        if values.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "an axis without values")
                .allowed("one value or more")
                .remedy("write the lower end first: `range(62, 50)` is empty, `range(50, 63)` is not")
                .into());
        }
        Quantity::AxisPoints.check_count(values.len())?;
        let mut sorted: Vec<&Exact> = values.iter().collect();
        sorted.sort();
        if let Some(pair) = sorted.windows(2).find(|pair| pair[0] == pair[1]) {
            return Err(Fault::new(FaultKind::Duplicate, "a value occurs twice on an axis")
                .value(pair[0])
                .remedy("give each value once")
                .into());
        }
        Ok(Values(values.into()))
    }

    /// `count` values from `from` to `to`, evenly spaced, each rounded to the nearest multiple of `grid` (half-way to
    /// even) so that it is an exact short decimal; the ends are kept as given.
    ///
    /// # Errors
    /// What is no number, ends that are upside down, no values, a grid that is not above 0 or so coarse that values coincide.
    pub fn linspace(from: impl ToExact, to: impl ToExact, count: usize, grid: impl ToExact) -> Result<Self, Error> {
        let (from, to) = (&from.to_exact()?, &to.to_exact()?);
        spaced(from, to, count, &grid.to_exact()?, |part| from + (to - from) * part)
    }

    /// `count` values from `from` to `to` in a constant ratio, each rounded to the nearest multiple of `grid` (half-way
    /// to even); the ends are kept as given. The ratio is worked in `f64`, whose error of a few units in the sixteenth
    /// digit the rounding takes away unless a value lies that close to half-way.
    ///
    /// # Errors
    /// As [`Values::linspace`], and ends that are not above 0.
    pub fn geomspace(from: impl ToExact, to: impl ToExact, count: usize, grid: impl ToExact) -> Result<Self, Error> {
        let (from, to) = (&from.to_exact()?, &to.to_exact()?);
        if !from.is_positive() {
            return Err(Fault::new(FaultKind::OutOfRange, "a constant ratio needs ends above 0")
                .value(from)
                .allowed("above 0")
                .into());
        }
        let (start, ratio) = (from.to_f64(), (to / from).to_f64());
        spaced(from, to, count, &grid.to_exact()?, |part| {
            Exact::from_shortest(start * ratio.powf(part.to_f64())).unwrap_or_else(|_| from.clone())
        })
    }

    /// What spaced values are rounded to unless another grid is named: 0.0001, that of percentages.
    #[must_use]
    pub fn usual_grid() -> Exact {
        Exact::ratio(1, 10_000)
    }

    /// How many.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// False: an axis has at least one value.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The value at a place.
    #[must_use]
    pub fn get(&self, index: usize) -> Option<&Exact> {
        self.0.get(index)
    }

    /// The values, in order.
    pub fn iter(&self) -> impl Iterator<Item = &Exact> {
        self.0.iter()
    }
}

fn spaced(from: &Exact, to: &Exact, count: usize, grid: &Exact, at: impl Fn(&Exact) -> Exact) -> Result<Values, Error> {
    Quantity::AxisPoints.check_count(count)?;
    if from > to || (from == to && count > 1) {
        return Err(Fault::new(FaultKind::Contradiction, "the lower end of a range is above its upper end")
            .value(format!("{from} to {to}"))
            .allowed("from < to")
            .remedy("write the lower end first; the order of the rows does not change the answers")
            .into());
    }
    if !grid.is_positive() {
        return Err(Fault::new(FaultKind::OutOfRange, "the grid that values are rounded to is not above 0")
            .value(grid)
            .allowed("above 0")
            .into());
    }
    let last = count.max(2) as u64 - 1;
    let values = (0..count).map(|index| match index {
        0 => from.clone(),
        _ if index + 1 == count => to.clone(),
        _ => at(&Exact::over(index as i128, last)).rounded_to(grid, HalfWay::ToEven),
    });
    Values::new(values).map_err(|error| {
        if error.has(FaultKind::Duplicate) {
            error.within(&format!("{count} values from {from} to {to} on a grid of {grid}"))
        } else {
            error
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spaced_values_are_short_decimals() {
        let grid: Exact = "0.001".parse().unwrap();
        let even = Values::linspace(&Exact::ZERO, &Exact::ONE, 7, &grid).unwrap();
        assert_eq!(
            even.iter().map(ToString::to_string).collect::<Vec<_>>(),
            ["0", "0.167", "0.333", "0.5", "0.667", "0.833", "1"]
        );
        let even = Values::geomspace(&Exact::ONE, Exact::from(1000), 4, &grid).unwrap();
        assert_eq!(even.iter().map(ToString::to_string).collect::<Vec<_>>(), ["1", "10", "100", "1000"]);
        assert_eq!(Values::linspace(&Exact::ONE, &Exact::ONE, 1, &grid).unwrap().len(), 1);
    }

    #[test]
    fn what_is_no_axis_is_refused() {
        let grid = Exact::ONE;
        assert!(Values::new(Vec::<Exact>::new()).unwrap_err().to_string().contains("range(50, 63)"));
        assert!(Values::new(vec![Exact::ONE, Exact::ONE]).unwrap_err().is_duplicate());
        assert!(
            Values::linspace(Exact::from(3), &Exact::ONE, 3, &grid)
                .unwrap_err()
                .to_string()
                .contains("lower end first")
        );
        assert!(Values::linspace(&Exact::ZERO, &Exact::ONE, 3, &grid).unwrap_err().is_duplicate());
        assert!(Values::linspace(&Exact::ZERO, &Exact::ONE, 3, &Exact::ZERO).is_err());
        assert!(Values::linspace(&Exact::ZERO, &Exact::ONE, usize::MAX, &grid).unwrap_err().is_out_of_range());
        assert!(Values::geomspace(&Exact::ZERO, &Exact::ONE, 3, &grid).is_err());
        assert!(Values::linspace(&Exact::ZERO, &Exact::ONE, 0, &grid).is_err());
    }
}
