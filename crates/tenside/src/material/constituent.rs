//! One ingredient of a raw material, and what is contained in an ingredient.

use std::sync::Arc;

use rust_decimal::Decimal;

use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Ppm;
use crate::substance::Substance;

named_enum! {
    /// Whether a supplier declares a constituent as an ingredient.
    Declaration "declaration" {
        /// An ingredient that a label lists.
        Declared = "declared",
        /// An impurity, by-product or residual that a label does not list.
        NotDeclared = "not-declared",
        /// Ask the supplier.
        Ask = "ask",
    }
}

/// One ingredient of a raw material: typical share and range, percent by mass.
///
/// A range end that is absent is *not stated*; after the composition is built, ends that follow from the others are
/// filled in.
#[derive(Clone, Debug, PartialEq)]
pub struct Constituent {
    pub(super) substance: Arc<Substance>,
    pub(super) typical: Option<Ppm>,
    pub(super) stated_low: Option<Ppm>,
    pub(super) stated_high: Option<Ppm>,
    pub(super) low: Option<Ppm>,
    pub(super) high: Option<Ppm>,
    pub(super) declaration: Declaration,
    pub(super) lot_molar_mass: Option<Decimal>,
}

getters!(Constituent {
    /// The substance.
    substance: &Arc<Substance>,
    /// The lowest attainable share, if it is stated or follows from what is.
    low: Option<Ppm>,
    /// The highest attainable share, if it is stated or follows from what is.
    high: Option<Ppm>,
    /// The low end as the supplier states it.
    stated_low: Option<Ppm>,
    /// The high end as the supplier states it.
    stated_high: Option<Ppm>,
    /// Whether the supplier declares it.
    declaration: Declaration,
    /// The molar mass in g/mol that a lot's certificate calculates its active with.
    lot_molar_mass: Option<Decimal>,
});

impl Constituent {
    /// With a typical share; range not stated, declaration to be asked for.
    #[must_use]
    pub fn typical(substance: Arc<Substance>, share: Ppm) -> Self {
        Constituent {
            substance,
            typical: Some(share),
            stated_low: None,
            stated_high: None,
            low: None,
            high: None,
            declaration: Declaration::Ask,
            lot_molar_mass: None,
        }
    }

    /// Without a typical share: bounds only, as in a safety data sheet.
    #[must_use]
    pub fn bounded(substance: Arc<Substance>) -> Self {
        Constituent { typical: None, ..Constituent::typical(substance, Ppm::ZERO) }
    }

    /// With its range.
    ///
    /// # Errors
    /// A low end above the high end, and a typical share outside.
    pub fn with_range(mut self, low: Option<Ppm>, high: Option<Ppm>) -> Result<Self, Error> {
        let below =
            |left: Option<Ppm>, right: Option<Ppm>| matches!((left, right), (Some(left), Some(right)) if left > right);
        if below(low, high) || below(low, self.typical) || below(self.typical, high) {
            let shown = |end: Option<Ppm>| end.map_or_else(|| "not stated".to_string(), |end| end.to_string());
            return Err(Fault::new(FaultKind::Contradiction, "a range and its typical share contradict each other")
                .value(format!("low {}, typical {}, high {}", shown(low), shown(self.typical), shown(high)))
                .allowed("low <= typical <= high")
                .into());
        }
        (self.stated_low, self.stated_high, self.low, self.high) = (low, high, low, high);
        Ok(self)
    }

    /// With what the supplier declares.
    #[must_use]
    pub fn with_declaration(mut self, declaration: Declaration) -> Self {
        self.declaration = declaration;
        self
    }

    /// The typical share.
    #[must_use]
    pub fn share(&self) -> Option<Ppm> {
        self.typical
    }

    /// True where its share can be only one value.
    pub(crate) fn is_certain(&self) -> bool {
        self.low.is_some() && self.low == self.high
    }
}

/// A substance contained in one ingredient: linalool in a lavender oil. Shares need not sum to 100.
#[derive(Clone, Debug, PartialEq)]
pub struct Contained {
    pub(super) of: String,
    pub(super) substance: Arc<Substance>,
    pub(super) typical: Option<Ppm>,
    pub(super) low: Option<Ppm>,
    pub(super) high: Option<Ppm>,
    pub(super) source: String,
}

getters!(Contained {
    /// The ingredient it is a share of.
    of: &str,
    /// The substance.
    substance: &Arc<Substance>,
    /// The low end, if stated.
    low: Option<Ppm>,
    /// The high end, if stated.
    high: Option<Ppm>,
    /// Where the figures come from.
    source: &str,
});

impl Contained {
    /// A share of the ingredient named `of`.
    ///
    /// # Errors
    /// A low end above the high end, and a typical share outside.
    pub fn new(
        of: &str,
        substance: Arc<Substance>,
        typical: Option<Ppm>,
        low: Option<Ppm>,
        high: Option<Ppm>,
        source: &str,
    ) -> Result<Self, Error> {
        // The same contradictions as in a composition.
        let probe = Constituent { typical, ..Constituent::bounded(substance.clone()) };
        probe.with_range(low, high)?;
        Ok(Contained { of: of.to_string(), substance, typical, low, high, source: source.to_string() })
    }

    /// The typical share of the ingredient.
    #[must_use]
    pub fn share(&self) -> Option<Ppm> {
        self.typical
    }
}
