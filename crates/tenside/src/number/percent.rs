//! As supplied, active and solids: three percentages that must not be mixed up, so three types.

use std::fmt;

use super::{Exact, ToExact};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

macro_rules! kinds {
    ($($(#[doc = $doc:literal])* $name:ident $text:literal;)*) => {
        $(
            $(#[doc = $doc])*
            #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
            pub struct $name(Exact);

            impl $name {
                #[doc = concat!("Percent by mass, ", $text, ".")]
                ///
                /// # Errors
                /// Values outside 0 to 100 %.
                pub fn new(percent: impl ToExact) -> Result<Self, Error> {
                    let percent = Quantity::Percent.exact(percent)?;
                    Ok($name(percent))
                }

                /// The percentage.
                #[must_use]
                pub fn percent(&self) -> &Exact {
                    &self.0
                }
            }

            impl fmt::Display for $name {
                fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
                    write!(formatter, concat!("{} % ", $text), self.0)
                }
            }
        )*
    };
}

kinds! {
    /// Percent of a raw material as it comes from the drum, with its water, salt and carriers.
    AsSupplied "as supplied";
    /// Percent of what counts as active.
    Active "active";
    /// Percent left when water and other volatiles are gone.
    Solids "solids";
}

impl Active {
    /// How much of a raw material of this `strength` brings this much active.
    ///
    /// ```
    /// use tenside::number::{Active, Exact};
    /// let wanted = Active::new(6)?;
    /// let strength = Active::new(30)?;
    /// assert_eq!(*wanted.as_supplied(&strength)?.percent(), Exact::from(20));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A strength of 0, and amounts that would need more than 100 % of the raw material.
    pub fn as_supplied(&self, strength: &Active) -> Result<AsSupplied, Error> {
        let percent = self.0.checked_div(&strength.0).map(|ratio| ratio * Exact::hundred()).ok_or_else(|| {
            Fault::new(FaultKind::Contradiction, "a raw material without active matter cannot bring any")
                .remedy("give the line as supplied, or choose a raw material that counts as active")
        })?;
        AsSupplied::new(percent)
    }
}
