//! As charged, or finished at a stated residual moisture.

use std::fmt;

use crate::bounds::Quantity;
use crate::error::Error;
use crate::number::{Exact, ToExact};

/// What a measure's hundred percent is.
///
/// On drying, water leaves until `moisture` percent of the finished product is water; everything else stays. With `W`
/// the water as charged, a hundred grams become `(100 - W) / (1 - moisture/100)` grams.
///
/// A balance that dries a sample sees the water that starch and clay hold too, which is no constituent of its own. With
/// `B` of that, a hundred grams become `(100 - W - B) / (1 - moisture/100)` grams. What is held stays with its raw
/// material, so the moisture is at least what is held: `moisture >= 100 B / (100 - W)`.
///
/// ```
/// use tenside::measure::Basis;
/// use tenside::number::Exact;
/// assert_eq!(Basis::finished(Exact::from(5))?.to_string(), "finished at 5 % residual moisture");
/// assert!(Basis::finished(Exact::from(100)).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
#[non_exhaustive]
pub enum Basis {
    /// What was weighed in.
    #[default]
    AsCharged,
    /// Dried to a residual moisture, percent of the finished product.
    Finished(Exact),
    /// Dried to a residual moisture in which the water held by starches, clays and hydrates is counted.
    FinishedWithBoundWater(Exact),
}

impl Basis {
    /// Dried to `moisture` percent of the finished product.
    ///
    /// # Errors
    /// A moisture outside its range.
    pub fn finished(moisture: impl ToExact) -> Result<Self, Error> {
        let moisture = Quantity::Moisture.exact(moisture)?;
        Ok(Basis::Finished(moisture))
    }

    /// Dried to `moisture` percent of the finished product, the water counted that starches, clays and hydrates hold, as
    /// a balance sees it. Formulas are measured so; a requirement of a brief or a column of a sweep is not.
    ///
    /// ```
    /// use tenside::measure::{Basis, Measure};
    /// use tenside::prelude::*;
    /// let shelf = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, shelf.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// // Of the kaolin 1 % is held water.
    /// let paste = Formula::new("Paste", vec![line("kaolin", "60")?, line("water", "40")?])?;
    /// let free = |moisture: i64| {
    ///     let basis = Basis::finished_with_bound_water(moisture)?;
    ///     paste.measure(&Measure::water(), &basis)
    /// };
    /// // 59.4 g of dry matter are 99 % of 60 g, and the kaolin holds all of the water there is.
    /// assert!(free(1)?.value.unwrap().typical.unwrap().is_zero());
    /// assert!(free(0)?.why_not[0].to_string().contains("hold"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A moisture outside its range.
    pub fn finished_with_bound_water(moisture: impl ToExact) -> Result<Self, Error> {
        let moisture = moisture.to_exact()?;
        Quantity::Moisture.check(&moisture)?;
        Ok(Basis::FinishedWithBoundWater(moisture))
    }

    /// Grams of residual water per gram of everything else.
    pub(crate) fn residual_water(&self) -> Option<Exact> {
        match self {
            Basis::AsCharged => None,
            // The range of moisture ends below 100, so the divisor is above 0.
            Basis::Finished(moisture) | Basis::FinishedWithBoundWater(moisture) => {
                Some(moisture / (Exact::hundred() - moisture))
            }
        }
    }

    /// True where held water counts as moisture.
    pub(crate) fn counts_bound_water(&self) -> bool {
        matches!(self, Basis::FinishedWithBoundWater(_))
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Basis::AsCharged => formatter.write_str("as charged"),
            Basis::Finished(moisture) => write!(formatter, "finished at {moisture} % residual moisture"),
            Basis::FinishedWithBoundWater(moisture) => {
                write!(formatter, "finished at {moisture} % residual moisture, bound water included")
            }
        }
    }
}
