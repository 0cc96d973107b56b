//! A requirement: a measure and the values it may have.

use std::sync::Arc;

use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Content, Measure};
use crate::memo::Memo;
use crate::number::{Exact, ToExact};

/// A measure held at a value, below one, above one, or between two; for typical compositions or for every one. A ratio
/// `N / D` is asked for as `N` against so many times `D`: a formula with nothing of either meets it, though its ratio
/// has no value, and the answer's notes say so.
///
/// ```
/// use tenside::brief::Requirement;
/// use tenside::measure::{Basis, Measure};
/// let dry = Requirement::at_least(Measure::active_matter(), 60)?.on(Basis::finished(5)?);
/// assert_eq!(dry.name(), "active matter at least 60 %, finished at 5 % residual moisture");
/// let sure = Requirement::at_most(Measure::water(), 9)?.for_every_composition();
/// assert_eq!(sure.name(), "water at most 9 %, for every composition");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Requirement(Arc<Asked>);

#[derive(Clone, Debug, PartialEq)]
struct Asked {
    name: Option<String>,
    measure: Measure,
    basis: Basis,
    low: Option<Exact>,
    high: Option<Exact>,
    every_composition: bool,
    /// What it is called where the user gave it no name.
    words: Memo<String>,
}

impl Requirement {
    fn new(measure: Measure, low: Option<Exact>, high: Option<Exact>) -> Self {
        let (basis, words) = (Basis::AsCharged, Memo::default());
        Requirement(Arc::new(Asked { name: None, measure, basis, low, high, every_composition: false, words }))
    }

    /// What it asks, to be changed: other briefs' requirements stay as they are.
    fn change(&mut self) -> &mut Asked {
        let asked = Arc::make_mut(&mut self.0);
        asked.words = Memo::default();
        asked
    }

    /// Exactly this value.
    ///
    /// # Errors
    /// What is no number.
    pub fn equal(measure: Measure, value: impl ToExact) -> Result<Self, Error> {
        let value = value.to_exact()?;
        Ok(Requirement::new(measure, Some(value.clone()), Some(value)))
    }

    /// This value or less.
    ///
    /// # Errors
    /// What is no number.
    pub fn at_most(measure: Measure, value: impl ToExact) -> Result<Self, Error> {
        Ok(Requirement::new(measure, None, Some(value.to_exact()?)))
    }

    /// This value or more.
    ///
    /// # Errors
    /// What is no number.
    pub fn at_least(measure: Measure, value: impl ToExact) -> Result<Self, Error> {
        Ok(Requirement::new(measure, Some(value.to_exact()?), None))
    }

    /// From low to high.
    ///
    /// # Errors
    /// What is no number, a low end above the high end.
    pub fn between(measure: Measure, low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let (low, high) = (low.to_exact()?, high.to_exact()?);
        if low > high {
            return Err(Fault::new(FaultKind::Contradiction, "the lower end of a range is above its upper end")
                .at(measure.name())
                .value(format!("{low} to {high}"))
                .allowed("low <= high")
                .into());
        }
        Ok(Requirement::new(measure, Some(low), Some(high)))
    }

    /// On another basis than as charged.
    #[must_use]
    pub fn on(mut self, basis: Basis) -> Self {
        self.change().basis = basis;
        self
    }

    /// For every composition inside the stated ranges, not only the typical one.
    #[must_use]
    pub fn for_every_composition(mut self) -> Self {
        self.change().every_composition = true;
        self
    }

    /// With a name of the user's.
    ///
    /// # Errors
    /// A bad name.
    pub fn named(mut self, name: &str) -> Result<Self, Error> {
        self.change().name = Some(check_name(name)?);
        Ok(self)
    }

    /// Its name: the user's, else what it asks for.
    #[must_use]
    pub fn name(&self) -> String {
        self.own_or_words().to_string()
    }

    /// What sentences say of it: the user's name with what it asks for, so that a limit is not lost behind a name.
    ///
    /// ```
    /// use tenside::brief::Requirement;
    /// use tenside::measure::Measure;
    /// let dry = Requirement::at_most(Measure::water(), 9)?.named("dry enough")?;
    /// assert_eq!(dry.words(), "dry enough (water at most 9 %)");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn words(&self) -> String {
        match &self.0.name {
            Some(name) => format!("{name} ({})", self.words_of_values()),
            None => self.name(),
        }
    }

    pub(super) fn own_or_words(&self) -> &str {
        self.0.name.as_deref().unwrap_or_else(|| self.0.words.get_or(|| self.words_of_values()))
    }

    fn words_of_values(&self) -> String {
        let unit = self.unit_words();
        let values = match (&self.0.low, &self.0.high) {
            (Some(low), Some(high)) if low == high => format!("at {low}{unit}"),
            (Some(low), Some(high)) => format!("between {low} and {high}{unit}"),
            (Some(low), None) => format!("at least {low}{unit}"),
            (None, Some(high)) => format!("at most {high}{unit}"),
            (None, None) => String::new(),
        };
        let basis = if self.0.basis == Basis::AsCharged { String::new() } else { format!(", {}", self.0.basis) };
        self.words_with(&values, &basis)
    }

    /// What it asks for, with these words for its values and its basis.
    pub(crate) fn words_with(&self, values: &str, basis: &str) -> String {
        let every = if self.0.every_composition { ", for every composition" } else { "" };
        format!("{} {values}{basis}{every}", self.0.measure.name())
    }

    /// The unit as it stands behind a value; of a cost without its currency, which is the price list's: "cost at most 5
    /// per kg". What is divided by the cost is one per currency, whichever that is.
    pub(crate) fn unit_words(&self) -> String {
        let is_below = self.0.measure.denominator().iter().any(|term| term.content == Content::Cost);
        let unit = self.0.measure.unit(if is_below { None } else { Some("") });
        let unit = unit.trim_start();
        if unit.is_empty() { String::new() } else { format!(" {unit}") }
    }

    /// True where its name is the user's, which no value changes.
    pub(crate) fn is_named(&self) -> bool {
        self.0.name.is_some()
    }

    pub(super) fn own_name(&self) -> Option<&str> {
        self.0.name.as_deref()
    }

    /// The same asked of another measure, under the name that it has.
    pub(crate) fn of_measure(&self, measure: Measure) -> Self {
        let mut other = self.clone();
        let name = self.name();
        let asked = other.change();
        asked.name = Some(name);
        asked.measure = measure;
        other
    }

    /// Its measure.
    #[must_use]
    pub fn measure(&self) -> &Measure {
        &self.0.measure
    }

    /// Its basis.
    #[must_use]
    pub fn basis(&self) -> &Basis {
        &self.0.basis
    }

    /// The lowest allowed value.
    #[must_use]
    pub fn low(&self) -> Option<&Exact> {
        self.0.low.as_ref()
    }

    /// The highest allowed value.
    #[must_use]
    pub fn high(&self) -> Option<&Exact> {
        self.0.high.as_ref()
    }

    /// True where it asks for one value: an equation, since for every composition it would be two limits.
    pub(crate) fn is_target(&self) -> bool {
        self.low().is_some() && self.low() == self.high() && !self.is_for_every_composition()
    }

    /// True where it is to hold for every composition.
    #[must_use]
    pub fn is_for_every_composition(&self) -> bool {
        self.0.every_composition
    }

    /// For typical compositions only.
    pub(super) fn for_typical_compositions(mut self) -> Self {
        self.change().every_composition = false;
        self
    }

    /// With another value at the low end, the high end, or both.
    pub(super) fn with_end(&self, low: bool, high: bool, value: &Exact) -> Result<Self, Error> {
        let end = |turned: bool, end: &Option<Exact>| if turned { Some(value.clone()) } else { end.clone() };
        let (low, high) = (end(low, &self.0.low), end(high, &self.0.high));
        if let (Some(low), Some(high)) = (&low, &high) {
            Requirement::between(self.0.measure.clone(), low.clone(), high.clone())?;
        }
        let mut turned = self.clone();
        (turned.change().low, turned.change().high) = (low, high);
        Ok(turned)
    }

    /// What is left without one end: nothing of an equation or a one-sided requirement.
    pub(super) fn without_end(&self, upper: bool) -> Option<Self> {
        let mut rest = self.clone();
        if self.low() != self.high() {
            let asked = rest.change();
            *(if upper { &mut asked.high } else { &mut asked.low }) = None;
        }
        let left = (rest.low().is_some() || rest.high().is_some()) && self.low() != self.high();
        left.then_some(rest)
    }
}
