//! A pure constituent: its names, CAS numbers, class, charge, molar mass and what else follows from its structure.

mod attribute;
mod cas;
mod charge;
mod class;
mod document;
mod molar_mass;
mod page;
mod starter;
mod stated;
mod table;

use std::fmt;
use std::sync::Arc;

pub use attribute::{Attribute, Attributes, Statement};
pub use cas::Cas;
pub use charge::{Charge, ChargeKind};
pub use class::{Class, Volatility};
pub use document::SubstanceDocument;
#[cfg(feature = "schema")]
pub(crate) use document::attributes_schema;
pub(crate) use document::{AttributeDocument, attribute_documents, read_attributes, read_substance, said_again};
pub use molar_mass::{Chain, MolarMass};
use rust_decimal::Decimal;
pub use table::SubstanceTable;

use crate::document::{check_name, fold, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::memo::Memo;

/// The name that stands for what a supplier does not say.
pub const UNSPECIFIED: &str = "unspecified";

/// A pure constituent, as an ingredient list or a composition names it.
///
/// ```
/// use tenside::substance::{Charge, Class, Substance};
/// let salt = Substance::new("SODIUM CHLORIDE", Class::Salt)?.with_charge(Charge::Neutral).with_cas(&["7647-14-5"])?;
/// assert_eq!(salt.inci(), "SODIUM CHLORIDE");
/// assert!(Substance::new("SODIUM CHLORIDE", Class::Salt)?.with_cas(&["7647-14-6"]).is_err());   // wrong check digit
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Substance {
    inci: String,
    label_eu: Option<String>,
    label_us: Option<String>,
    cas: Vec<Cas>,
    class: Class,
    counts_as_active: bool,
    charge: Charge,
    molar_mass: Option<MolarMass>,
    formula: Option<String>,
    pka: Vec<Decimal>,
    volatility: Volatility,
    attributes: Attributes,
    annex_iii_entry: Option<u32>,
    declared_since_2023: bool,
    source: String,
    is_embedded: Memo<bool>,
}

getters!(Substance {
    /// The INCI name, the key of the table.
    inci: &str,
    /// The CAS numbers, check digits verified.
    cas: &[Cas],
    /// The chemical or technical class.
    class: Class,
    /// Whether it counts as active matter: a marked property, apart from the class.
    counts_as_active: bool,
    /// The charge; unknown stays unknown.
    charge: &Charge,
    /// The molar mass, if known.
    molar_mass: Option<&MolarMass>,
    /// Acid dissociation constants from the fully protonated form on.
    pka: &[Decimal],
    /// Whether it leaves on drying.
    volatility: Volatility,
    /// Sulfate, palm, animal, silicone, ethoxylated, natural origin.
    attributes: &Attributes,
    /// The entry of Annex III of Regulation (EC) No 1223/2009 that asks for its declaration as a fragrance constituent.
    annex_iii_entry: Option<u32>,
    /// Whether that entry came with Regulation (EU) 2023/1545.
    declared_since_2023: bool,
    /// Where the row's values come from.
    source: &str,
});

impl Substance {
    /// A substance of unknown charge, molar mass and volatility, which counts as active matter if it is an anionic,
    /// amphoteric or nonionic surfactant; water leaves on drying.
    ///
    /// # Errors
    /// A name that is empty, too long or holds control characters, and name or class of the nameless remainder.
    pub fn new(inci: &str, class: Class) -> Result<Self, Error> {
        let inci = check_name(inci)?;
        if class == Class::Unspecified || fold(&inci) == UNSPECIFIED {
            let fault =
                Fault::new(FaultKind::OutOfRange, "\"unspecified\" is reserved for what a supplier does not say")
                    .value(shown(&inci));
            return Err(fault
                .remedy("give the substance its own name and class; of an unknown class write \"other\"")
                .into());
        }
        let mut substance = Substance::blank(inci, class, "stated by the user");
        if class == Class::Water {
            substance.volatility = Volatility::Water;
        }
        Ok(substance)
    }

    /// Nothing known but name and class.
    fn blank(inci: String, class: Class, source: &str) -> Self {
        Substance {
            inci,
            label_eu: None,
            label_us: None,
            cas: Vec::new(),
            class,
            counts_as_active: class.counts_as_active(),
            charge: Charge::Unknown,
            molar_mass: None,
            formula: None,
            pka: Vec::new(),
            volatility: Volatility::Unknown,
            attributes: Attributes::default(),
            annex_iii_entry: None,
            declared_since_2023: false,
            source: source.to_string(),
            is_embedded: Memo::default(),
        }
    }

    /// The nameless remainder of a composition.
    #[must_use]
    pub fn unspecified() -> Arc<Substance> {
        Arc::new(Substance::blank(UNSPECIFIED.to_string(), Class::Unspecified, "what the supplier does not say"))
    }

    /// With its CAS numbers.
    ///
    /// # Errors
    /// Numbers of the wrong form or with a wrong check digit.
    pub fn with_cas(mut self, numbers: &[&str]) -> Result<Self, Error> {
        self.cas = numbers.iter().map(|number| number.parse()).collect::<Result<_, _>>()?;
        Ok(self)
    }

    /// With its charge.
    #[must_use]
    pub fn with_charge(mut self, charge: Charge) -> Self {
        self.charge = charge;
        self
    }

    /// With its molar mass.
    #[must_use]
    pub fn with_molar_mass(mut self, molar_mass: MolarMass) -> Self {
        self.molar_mass = Some(molar_mass);
        self
    }

    /// Marked as counting, or not counting, as active matter.
    #[must_use]
    pub fn counting_as_active(mut self, counts: bool) -> Self {
        self.counts_as_active = counts;
        self
    }

    /// The name on an EU label.
    #[must_use]
    pub fn label_eu(&self) -> &str {
        self.label_eu.as_deref().unwrap_or(&self.inci)
    }

    /// The name on a US label.
    #[must_use]
    pub fn label_us(&self) -> &str {
        self.label_us.as_deref().unwrap_or(&self.inci)
    }

    /// The molecular formula in Hill order, for defined compounds.
    #[must_use]
    pub fn formula(&self) -> Option<&str> {
        self.formula.as_deref()
    }

    /// True for a scent constituent: by its class, or by an entry of Annex III.
    #[must_use]
    pub fn is_scent_constituent(&self) -> bool {
        matches!(self.class, Class::FragranceConstituent | Class::EssentialOil) || self.annex_iii_entry.is_some()
    }

    /// True for a scent or flavour mixture whose parts are the supplier's secret.
    ///
    /// ```
    /// use tenside::substance::SubstanceTable;
    /// assert!(SubstanceTable::starter().named("PARFUM")?.is_scent_mixture());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn is_scent_mixture(&self) -> bool {
        ["PARFUM", "FRAGRANCE", "AROMA", "FLAVOR"].iter().any(|name| self.inci.eq_ignore_ascii_case(name))
    }

    /// True for water.
    #[must_use]
    pub fn is_water(&self) -> bool {
        self.class == Class::Water
    }

    /// True for the nameless remainder.
    #[must_use]
    pub fn is_unspecified(&self) -> bool {
        self.class == Class::Unspecified
    }
}

impl fmt::Display for Substance {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.pad(&self.inci)
    }
}
