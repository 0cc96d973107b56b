//! Measures: a numerator over a denominator, each a linear functional of what a formula contains, over a scope of
//! lines.
//!
//! ```text
//! value = factor * N / D,   N = sum x_j n_j,   D = sum x_j d_j
//! ```
//!
//! with `x_j` the percentage of line `j` and `n_j`, `d_j` what one unit of its raw material brings. A percentage has
//! the mass of the formula as denominator; a ratio has another content. What a raw material brings is worked out once
//! and kept with it (`row.rs`), and every reader (a formula's table, a brief's requirement, a sweep's column, a rule)
//! adds the same rows up, so whoever adds a content adds it for all of them.
//!
//! Measures over one denominator and in one unit are a vector space: they can be added, subtracted and taken so many
//! times.
//!
//! ```
//! use tenside::measure::Measure;
//! use tenside::material::Form;
//! let wet = (Measure::form(Form::Liquid) + Measure::form(Form::Paste))?;
//! let dough = wet.per(&Measure::form(Form::Powder));
//! assert_eq!(dough.unit(None), "kg/kg");
//! # Ok::<(), tenside::Error>(())
//! ```
//!
//! # Why
//! - A typical value that is not known is no number: readings keep their ends, `solve` refuses such a limit or
//!   objective and names the line and both ways out, and a sweep's cell is null.
//! - Names in measures are looked up (`measure/names.rs`): a brief asks its catalogue; a formula, which carries
//!   none, asks what it holds and the starter catalogue (`Formula::measure_with` takes another).
//! - Intervals are exact: a continuous knapsack over the composition box of each raw material, ratios by
//!   Dinkelbach's steps.
//! - Charge measures count permanent charges. Those that depend on the pH are named in the notes; unknown ones make
//!   the value unknown. The unspecified remainder counts as no charge and no active matter, and the notes name it.
//! - A sum of substances counts a salt by the molar mass that the catalogue states of it, so that a hydrate
//!   described as one counts less; the list's own molar mass stands in where there is none. Contained substances
//!   count; classes count ingredients only.

mod arithmetic;
mod basis;
mod compile;
mod content;
mod document;
mod measured;
mod names;
mod page;
mod row;
mod scope;
mod term;
mod view;
mod weighing;

pub use basis::Basis;
pub(crate) use compile::{Compiled, Facts, Sense, TypicalSides, typical_sides};
pub use content::{Content, ScoreTable, Sign, SubstanceSum, SumFactor, SumMember};
pub use document::MeasureDocument;
pub(crate) use document::{BasisDocument, SumMemberDocument, read_basis, read_measure, read_sum_member};
pub(crate) use measured::Amount;
pub use measured::Measured;
pub(crate) use names::Names;
pub use page::ConstituentReading;
pub(crate) use row::{Ends, Row};
pub use scope::Scope;
pub use term::Term;
pub(crate) use view::LineView;

use std::sync::Arc;

use term::{common_scope, words, words_together};

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
    /// One term or more.
    numerator: Arc<[Term]>,
    /// One term or more.
    denominator: Arc<[Term]>,
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

getters!(Measure {
    /// What is counted: the sum of these.
    numerator: &[Term],
    /// What it is counted over: the sum of these.
    denominator: &[Term],
});

impl Measure {
    /// A content over the mass of the formula.
    #[must_use]
    pub fn of(content: Content) -> Self {
        Measure { numerator: [Term::of(content)].into(), denominator: [Term::of(Content::Mass)].into() }
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
        /// Percent of soap: alkali and amine salts of fatty acids. It washes as surfactants do, yet
        /// [active matter](Measure::active_matter), [anionic active](Measure::anionic_active) and
        /// [active moles](Measure::active_moles) leave it out, and the permanent charge does too.
        soap Content::Class(Class::Soap);
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

    /// Percent of surfactant with soap counted as one: [active matter](Measure::active_matter) and
    /// [soap](Measure::soap) together.
    ///
    /// ```
    /// use tenside::measure::Measure;
    /// assert_eq!(Measure::active_with_soap(), (Measure::active_matter() + Measure::soap())?);
    /// assert_eq!(Measure::active_with_soap().name(), "active matter + class soap");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn active_with_soap() -> Self {
        let terms = [Content::Active(None), Content::Class(Class::Soap)].map(Term::of);
        Measure { numerator: terms.into(), ..Measure::active_matter() }
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

    /// What this counts over what another measure counts: a ratio.
    #[must_use]
    pub fn per(mut self, other: &Measure) -> Self {
        self.denominator = other.numerator.clone();
        self
    }

    /// Both sides over these lines only: percent of the phase, cost of the group.
    #[must_use]
    pub fn within(self, scope: Scope) -> Self {
        let denominator = scoped(&self.denominator, &scope);
        Measure { denominator, ..self.contributed_by(scope) }
    }

    /// Counting only what these lines bring, over the whole formula.
    #[must_use]
    pub fn contributed_by(mut self, scope: Scope) -> Self {
        self.numerator = scoped(&self.numerator, &scope);
        self
    }

    /// With other scopes in place of its own.
    pub(crate) fn with_scopes(&self, scope: impl Fn(&Scope) -> Scope) -> Self {
        let side =
            |terms: &[Term]| terms.iter().map(|term| Term { scope: scope(&term.scope), ..term.clone() }).collect();
        Measure { numerator: side(&self.numerator), denominator: side(&self.denominator) }
    }

    /// Both sides.
    pub(crate) fn terms(&self) -> impl Iterator<Item = &Term> + Clone {
        self.numerator.iter().chain(self.denominator.iter())
    }

    /// True if it counts this, above or below.
    pub(crate) fn counts(&self, content: &Content) -> bool {
        self.terms().any(|term| term.content == *content)
    }

    /// The stable name of what it counts in documents.
    pub(crate) fn slug(&self) -> &'static str {
        if let [term] = self.numerator.as_ref() { term.content.slug() } else { term::SUM }
    }

    /// Its denominator over the mass of the formula, as a measure of its own.
    #[must_use]
    pub fn denominator_over_the_whole(&self) -> Self {
        Measure { numerator: self.denominator.clone(), ..Measure::as_supplied() }
    }

    /// True where the denominator is the mass of the whole formula, which as charged is always 100 %.
    /// True for copies of one measure, which are equal; others may be equal too.
    pub(crate) fn is_shared_with(&self, other: &Measure) -> bool {
        Arc::ptr_eq(&self.numerator, &other.numerator) && Arc::ptr_eq(&self.denominator, &other.denominator)
    }

    /// True if it depends on a price list.
    pub(crate) fn is_priced(&self) -> bool {
        self.terms().any(|term| term.content == Content::Cost)
    }

    pub(crate) fn is_over_the_whole(&self) -> bool {
        matches!(self.denominator.as_ref(), [term] if term.is_mass() && term.scope == Scope::All)
    }

    /// True where the denominator is not the mass of lines.
    #[must_use]
    pub fn is_ratio(&self) -> bool {
        !self.denominator.iter().all(Term::is_mass)
    }

    /// What it is called in tables and messages.
    #[must_use]
    pub fn name(&self) -> String {
        let scopes = (common_scope(&self.numerator), common_scope(&self.denominator));
        let is_charge = |terms: &[Term], sign: Sign| matches!(terms, [term] if term.factor == Exact::ONE && term.content == Content::Charge(sign));
        let name = if is_charge(&self.numerator, Sign::Positive) && is_charge(&self.denominator, Sign::Negative) {
            "charge ratio, cationic per anionic".to_string()
        } else if self.is_ratio() {
            format!("{} per {}", words_together(&self.numerator), words_together(&self.denominator))
        } else if scopes.0.is_none_or(|scope| *scope == Scope::All) && scopes.1 == Some(&Scope::All) {
            words(&self.numerator)
        } else {
            words_together(&self.numerator)
        };
        match scopes {
            (Some(Scope::All) | None, Some(Scope::All)) => name,
            (Some(numerator), Some(denominator)) if numerator == denominator => format!("{name} within {numerator}"),
            (numerator, denominator) => {
                let from = numerator.map_or_else(String::new, |scope| format!(" from {scope}"));
                let over = match denominator {
                    Some(Scope::All) => String::new(),
                    Some(scope) => format!(" over {scope}"),
                    // The words of a ratio tell it already.
                    None if self.is_ratio() => String::new(),
                    None => format!(" over {}", words(&self.denominator)),
                };
                format!("{name}{from}{over}")
            }
        }
    }

    /// Its unit; `currency` is the price list's.
    ///
    /// ```
    /// use tenside::measure::Measure;
    /// let (cost, active) = (Measure::cost(), Measure::active_matter());
    /// assert_eq!(active.clone().per(&cost).unit(Some("EUR")), "kg per EUR");
    /// assert_eq!(cost.per(&active).unit(Some("EUR")), "EUR per kg of active matter");
    /// ```
    #[must_use]
    pub fn unit(&self, currency: Option<&str>) -> String {
        let (numerator, denominator) = (&self.numerator[0].content, &self.denominator[0].content);
        if !self.is_ratio() {
            return numerator.unit(currency);
        }
        if denominator.is_share() && !numerator.is_share() {
            return format!("{} of {}", numerator.weight_unit(currency), words_together(&self.denominator));
        }
        let (above, below) = (numerator.amount_unit(currency), denominator.amount_unit(currency));
        if above == below { format!("{above}/{below}") } else { format!("{above} per {below}") }
    }

    /// The factor before N/D.
    pub(crate) fn factor(&self) -> Exact {
        if !self.is_ratio() && self.numerator[0].content.is_share() { Exact::hundred() } else { Exact::ONE }
    }
}

fn scoped(terms: &[Term], scope: &Scope) -> Arc<[Term]> {
    terms.iter().map(|term| Term { scope: scope.clone(), ..term.clone() }).collect()
}
