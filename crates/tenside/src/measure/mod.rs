//! Measures: a numerator over a denominator, each a linear functional of what a formula contains, over a scope of lines.
//!
//! ```text
//! value = factor * N / D,   N = sum x_j n_j,   D = sum x_j d_j
//! ```
//!
//! with `x_j` the percentage of line `j` and `n_j`, `d_j` what one unit of its raw material brings. A percentage has the mass of the
//! formula as denominator; a ratio has another content. Every reader (a formula's table, a brief's requirement, a sweep's column, a
//! rule) gets its numbers from the same compiled terms, so whoever adds a content adds it for all of them.
//!
//! # Why
//! - A typical value that is not known is no number: readings keep their ends, `solve` refuses such a limit or
//!   objective and names the line and both ways out, and a sweep's cell is null.
//! - Names in measures are looked up (`measure/names.rs`): a brief asks its catalogue; a formula, which carries
//!   none, asks what it holds and the starter catalogue (`Formula::measure_with` takes another).
//! - Typical compositions are compiled by themselves (`typical_sides`): most weights are 0 or 1, so that shares are
//!   added as whole parts and no ranges are carried. That and leaving out zeros brought a solved brief with its
//!   grid formula from 4.1 to 0.8 million instructions.
//! - Intervals are exact: a continuous knapsack over the composition box of each raw material, ratios by
//!   Dinkelbach's steps.
//! - Charge measures count permanent charges. Those that depend on the pH are named in the notes; unknown ones make
//!   the value unknown. The unspecified remainder counts as no charge and no active matter, and the notes name it.
//! - A sum of substances counts a salt by the molar mass that the catalogue states of it, so that a hydrate
//!   described as one counts less; the list's own molar mass stands in where there is none. Contained substances
//!   count; classes count ingredients only.

mod basis;
mod compile;
mod content;
mod document;
mod extreme;
mod measured;
mod names;
mod page;
mod scope;

pub use basis::Basis;
pub(crate) use compile::{Compiled, Ends, Facts, LineTerms, LineView, Sense, TypicalSides, typical_sides};
pub use content::{Content, ScoreTable, Sign, SubstanceSum, SumFactor, SumMember};
pub use document::MeasureDocument;
pub(crate) use document::{BasisDocument, SumMemberDocument, read_basis, read_measure, read_sum_member};
pub use measured::Measured;
pub(crate) use names::Names;
pub use page::ConstituentReading;
pub use scope::Scope;

use crate::document::check_name;
use crate::error::Error;
use crate::material::Form;
use crate::number::Exact;
use crate::substance::{Attribute, Class};

/// What is asked of a formula: a content over a content, each within a scope.
///
/// ```
/// use tenside::measure::{Measure, Scope};
/// let water = Measure::water();
/// assert_eq!(water.name(), "water");
/// let in_liquid = Measure::water().within(Scope::phase("liquid")?);
/// assert_eq!(in_liquid.name(), "water within phase liquid");
/// let cost_per_active = Measure::cost().per(&Measure::active_matter());
/// assert_eq!(cost_per_active.name(), "cost per active matter");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Measure {
    numerator: Content,
    numerator_scope: Scope,
    denominator: Content,
    denominator_scope: Scope,
}

macro_rules! plain {
    ($($(#[doc = $doc:literal])* $name:ident $content:expr;)*) => {
        $(
            $(#[doc = $doc])*
            #[must_use]
            pub fn $name() -> Self {
                Measure::of($content)
            }
        )*
    };
}

impl Measure {
    /// A content over the mass of the formula.
    #[must_use]
    pub fn of(content: Content) -> Self {
        Measure { numerator: content, numerator_scope: Scope::All, denominator: Content::Mass, denominator_scope: Scope::All }
    }

    plain! {
        /// Percent of what counts as active.
        active_matter Content::Active(None);
        /// Percent of anionic active.
        anionic_active Content::Active(Some(Class::AnionicSurfactant));
        /// Percent of amphoteric active.
        amphoteric_active Content::Active(Some(Class::AmphotericSurfactant));
        /// Percent of nonionic active.
        nonionic_active Content::Active(Some(Class::NonionicSurfactant));
        /// Percent of cationic surfactant, whether or not it counts as active.
        cationic_surfactant Content::Class(Class::CationicSurfactant);
        /// Percent of water listed as a constituent.
        water Content::Water;
        /// Percent of water held by starches, clays and hydrates and not listed as water.
        bound_water Content::BoundWater;
        /// Percent left when water and volatile constituents are gone.
        solids Content::Solids;
        /// Percent of raw material as supplied; useful within a scope.
        as_supplied Content::Mass;
        /// Cost of the raw materials per kilogram.
        cost Content::Cost;
        /// Negative charge of permanent ions, mmol per gram.
        anionic_charge Content::Charge(Sign::Negative);
        /// Positive charge of permanent ions, mmol per gram.
        cationic_charge Content::Charge(Sign::Positive);
        /// Amount of active substance, mmol per gram.
        active_moles Content::ActiveMoles;
        /// Percent of natural origin, water included, in the sense of ISO 16128-2 (from memory).
        natural_origin Content::NaturalOrigin;
        /// Percent that the suppliers do not name.
        unspecified Content::Unspecified;
    }

    /// Cationic over anionic permanent charge, mol per mol.
    #[must_use]
    pub fn charge_ratio() -> Self {
        Measure::cationic_charge().per(&Measure::anionic_charge())
    }

    /// Percent of one constituent, as an ingredient.
    ///
    /// # Errors
    /// A bad name.
    pub fn constituent(inci: &str) -> Result<Self, Error> {
        Ok(Measure::of(Content::Constituent(check_name(inci)?)))
    }

    /// Percent of one substance, as an ingredient and contained in ingredients: an allergen in essential oils.
    ///
    /// # Errors
    /// A bad name.
    pub fn substance(inci: &str) -> Result<Self, Error> {
        Ok(Measure::of(Content::Substance(check_name(inci)?)))
    }

    /// Percent of the constituents of one class.
    #[must_use]
    pub fn class(class: Class) -> Self {
        Measure::of(Content::Class(class))
    }

    /// Percent of raw materials that have an attribute.
    #[must_use]
    pub fn attribute(attribute: Attribute) -> Self {
        Measure::of(Content::Attribute(attribute))
    }

    /// Percent of raw materials of one form, as supplied.
    #[must_use]
    pub fn form(form: Form) -> Self {
        Measure::of(Content::Form(form))
    }

    /// Percent of one raw material, as supplied, over all its lines.
    ///
    /// # Errors
    /// A bad id.
    pub fn material(id: &str) -> Result<Self, Error> {
        Ok(Measure::of(Content::Material(crate::document::check_slug(id)?)))
    }

    /// A user's score: the mean of what each raw material is given, weighted by mass.
    #[must_use]
    pub fn score(table: ScoreTable) -> Self {
        Measure::of(Content::Score(table))
    }

    /// Percent of several substances, each by a factor: a preservative and its salts counted as the acid.
    #[must_use]
    pub fn substance_sum(sum: SubstanceSum) -> Self {
        Measure::of(Content::Sum(sum))
    }

    /// This content over the content of another measure: a ratio.
    #[must_use]
    pub fn per(mut self, other: &Measure) -> Self {
        self.denominator = other.numerator.clone();
        self.denominator_scope = other.numerator_scope.clone();
        self
    }

    /// Both sides over these lines only: percent of the phase, cost of the group.
    #[must_use]
    pub fn within(mut self, scope: Scope) -> Self {
        self.numerator_scope = scope.clone();
        self.denominator_scope = scope;
        self
    }

    /// Counting only what these lines bring, over the whole formula.
    #[must_use]
    pub fn contributed_by(mut self, scope: Scope) -> Self {
        self.numerator_scope = scope;
        self
    }

    /// What is counted.
    #[must_use]
    pub fn numerator(&self) -> (&Content, &Scope) {
        (&self.numerator, &self.numerator_scope)
    }

    /// What it is counted over.
    #[must_use]
    pub fn denominator(&self) -> (&Content, &Scope) {
        (&self.denominator, &self.denominator_scope)
    }

    /// True where the denominator is not the mass of the formula.
    #[must_use]
    pub fn is_ratio(&self) -> bool {
        self.denominator != Content::Mass
    }

    /// What it is called in tables and messages.
    #[must_use]
    pub fn name(&self) -> String {
        let mut name = self.numerator.name();
        if self.is_ratio() {
            name = if self.numerator == Content::Charge(Sign::Positive) && self.denominator == Content::Charge(Sign::Negative) {
                "charge ratio, cationic per anionic".to_string()
            } else {
                format!("{name} per {}", self.denominator.name())
            };
        }
        match (&self.numerator_scope, &self.denominator_scope) {
            (Scope::All, Scope::All) => name,
            (numerator, denominator) if numerator == denominator => format!("{name} within {numerator}"),
            (numerator, Scope::All) => format!("{name} from {numerator}"),
            (numerator, denominator) => format!("{name} from {numerator} over {denominator}"),
        }
    }

    /// Its unit; `currency` is the price list's.
    #[must_use]
    pub fn unit(&self, currency: Option<&str>) -> String {
        if self.is_ratio() {
            let above = self.numerator.weight_unit(currency);
            return match (self.numerator.is_share(), self.denominator.is_share()) {
                (true, true) => "kg/kg".to_string(),
                (_, true) => format!("{above} of {}", self.denominator.name()),
                _ if above == self.denominator.weight_unit(currency) => "mol/mol".to_string(),
                _ => format!("{above} per {}", self.denominator.weight_unit(currency)),
            };
        }
        self.numerator.unit(currency)
    }

    /// The factor before N/D.
    pub(crate) fn factor(&self) -> Exact {
        if !self.is_ratio() && self.numerator.is_share() { Exact::hundred() } else { Exact::ONE }
    }
}
