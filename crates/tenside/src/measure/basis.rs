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

    /// Grams of residual water per gram of everything else.
    pub(crate) fn residual_water(&self) -> Option<Exact> {
        match self {
            Basis::AsCharged => None,
            // The range of moisture ends below 100, so the divisor is above 0.
            Basis::Finished(moisture) => Some(moisture / (Exact::hundred() - moisture)),
        }
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Basis::AsCharged => formatter.write_str("as charged"),
            Basis::Finished(moisture) => write!(formatter, "finished at {moisture} % residual moisture"),
        }
    }
}
