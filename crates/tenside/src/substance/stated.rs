//! What can be stated of a substance, thing by thing.

use super::{Attribute, Substance, Volatility};
use crate::bounds::Quantity;
use crate::document::{check_name, check_prose};
use crate::error::Error;
use crate::number::ToExact;

impl Substance {
    /// With its names on labels of the EU and the US, where they differ from the INCI name.
    ///
    /// ```
    /// use tenside::substance::{Class, Substance, Volatility};
    /// let ester = Substance::new("HOUSE ESTER", Class::Ester)?
    ///     .with_label_names(None, Some("House ester"))?
    ///     .with_formula("C18H36O2")?
    ///     .with_volatility(Volatility::None)
    ///     .with_source("our supplier's data sheet")?;
    /// assert_eq!((ester.label_eu(), ester.label_us()), ("HOUSE ESTER", "House ester"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A bad name.
    pub fn with_label_names(mut self, eu: Option<&str>, us: Option<&str>) -> Result<Self, Error> {
        (self.label_eu, self.label_us) = (eu.map(check_name).transpose()?, us.map(check_name).transpose()?);
        Ok(self)
    }

    /// With its molecular formula in Hill order.
    ///
    /// # Errors
    /// A bad name.
    pub fn with_formula(mut self, formula: &str) -> Result<Self, Error> {
        self.formula = Some(check_name(formula)?);
        Ok(self)
    }

    /// With its acid dissociation constants, from the fully protonated form on.
    ///
    /// # Errors
    /// A value out of range.
    pub fn with_pka(mut self, pka: impl IntoIterator<Item = impl ToExact>) -> Result<Self, Error> {
        self.pka = pka.into_iter().map(|value| Quantity::Pka.decimal(value)).collect::<Result<_, _>>()?;
        Ok(self)
    }

    /// With whether it leaves on drying.
    #[must_use]
    pub fn with_volatility(mut self, volatility: Volatility) -> Self {
        self.volatility = volatility;
        self
    }

    /// With a yes-or-no property; `source` says who says so.
    ///
    /// # Errors
    /// A bad source.
    pub fn with_attribute(mut self, attribute: Attribute, value: bool, source: &str) -> Result<Self, Error> {
        self.attributes.state(attribute, value, check_prose(source)?);
        Ok(self)
    }

    /// With its share of natural origin in percent, in the sense of ISO 16128-2 (from memory); `source` says who says
    /// so.
    ///
    /// # Errors
    /// A value that is no percentage, a bad source.
    pub fn with_natural_origin(mut self, percent: impl ToExact, source: &str) -> Result<Self, Error> {
        self.attributes.natural_origin = Some((Quantity::Percent.decimal(percent)?, check_prose(source)?));
        Ok(self)
    }

    /// With the source of whatever states none of its own. What has the old one takes the new one over.
    ///
    /// # Errors
    /// A source without a visible character, or longer than 4000 characters.
    pub fn with_source(mut self, source: &str) -> Result<Self, Error> {
        let old = std::mem::replace(&mut self.source, check_prose(source).map_err(|error| error.within("source"))?);
        self.attributes
            .sources_mut()
            .filter(|stated| **stated == old)
            .for_each(|stated| stated.clone_from(&self.source));
        Ok(self)
    }
}
