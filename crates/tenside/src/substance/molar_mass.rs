//! Molar masses, with the range of a chain mixture.

use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::ToExact;

/// A molar mass in g/mol; for mixtures of chain lengths with its range and the chains it is meant for.
///
/// ```
/// use rust_decimal::Decimal;
/// use tenside::substance::MolarMass;
/// let defined = MolarMass::defined(58.443)?;
/// assert_eq!(defined.low(), Some(defined.typical()));
/// let mixture = MolarMass::of_chains(338, Some((325.into(), 352.into())), "coconut, C8 to C18")?;
/// assert_eq!(mixture.high(), Some(Decimal::from(352)));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct MolarMass {
    typical: Decimal,
    chain: Option<Chain>,
}

/// The chain basis of a mixture's molar mass.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Chain {
    /// Lowest and highest mean molar mass met, if stated.
    pub range: Option<(Decimal, Decimal)>,
    /// Which chains: `coconut, C8 to C18`.
    pub basis: String,
}

getters!(MolarMass {
    /// The typical value.
    typical: Decimal,
    /// The chain basis of a mixture.
    chain: Option<&Chain>,
});

impl MolarMass {
    /// Of one defined compound.
    ///
    /// # Errors
    /// A value outside the range of molar masses.
    pub fn defined(typical: impl ToExact) -> Result<Self, Error> {
        Ok(MolarMass { typical: Quantity::MolarMass.decimal(typical)?, chain: None })
    }

    /// Of a mixture of chain lengths.
    ///
    /// # Errors
    /// Values outside the range of molar masses, and a typical value outside its own range.
    pub fn of_chains(typical: impl ToExact, range: Option<(Decimal, Decimal)>, basis: &str) -> Result<Self, Error> {
        let typical = Quantity::MolarMass.decimal(typical)?;
        let range = range
            .map(|(low, high)| Ok::<_, Error>((Quantity::MolarMass.decimal(low)?, Quantity::MolarMass.decimal(high)?)))
            .transpose()?;
        if let Some((low, high)) = range
            && (low > typical || typical > high)
        {
            return Err(Fault::new(FaultKind::Contradiction, "a molar mass lies outside its own range")
                .value(format!("{low} to {high} with {typical}"))
                .allowed("low <= typical <= high")
                .into());
        }
        Ok(MolarMass { typical, chain: Some(Chain { range, basis: basis.to_string() }) })
    }

    /// The lowest value, if it is stated or the compound is defined.
    #[must_use]
    pub fn low(&self) -> Option<Decimal> {
        self.chain.as_ref().map_or(Some(self.typical), |chain| chain.range.map(|(low, _)| low))
    }

    /// The highest value, if it is stated or the compound is defined.
    #[must_use]
    pub fn high(&self) -> Option<Decimal> {
        self.chain.as_ref().map_or(Some(self.typical), |chain| chain.range.map(|(_, high)| high))
    }
}
