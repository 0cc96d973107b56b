//! What a supplier declares of the scent constituents in a raw material.

use std::collections::BTreeMap;

use super::ScentEntry;
use crate::document::{check_prose, check_slug, fold};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Ppm, ToExact};
use crate::rule::{Market, RuleBook, StatusKind};

/// A supplier's allergen declaration for one raw material, percent of the material. It covers every entry: what it does
/// not name is declared to be absent, or below what the supplier reports.
///
/// ```
/// use tenside::label::ScentDeclaration;
/// let declared = ScentDeclaration::new("lavender-oil", "supplier's declaration of 2026-03-02")?
///     .holding("LINALOOL", "30", "36")?
///     .holding("d-limonene", "0.2", "0.5")?;
/// assert_eq!(declared.material(), "lavender-oil");
/// assert!(declared.clone().holding("LINALOOL", "1", "2").is_err());
/// assert!(declared.holding("GERANIOL", "2", "1").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct ScentDeclaration {
    material: String,
    source: String,
    /// Lowest and highest share by the entry's place; one name a share.
    shares: BTreeMap<usize, Vec<(String, Ppm, Ppm)>>,
    below: Ppm,
    /// Names of what is prohibited in the EU, with the highest share.
    prohibited: Vec<(String, Ppm)>,
}

getters!(ScentDeclaration {
    /// The id of the raw material.
    material: &str,
    /// Who declared it, and when.
    source: &str,
});

impl ScentDeclaration {
    /// A declaration that names none yet: kept so, it says that the raw material holds none.
    ///
    /// # Errors
    /// A bad id or source.
    pub fn new(material: &str, source: &str) -> Result<Self, Error> {
        Ok(ScentDeclaration {
            material: check_slug(material)?,
            source: check_prose(source)?,
            shares: BTreeMap::new(),
            below: Ppm::ZERO,
            prohibited: Vec::new(),
        })
    }

    /// With what it holds of one constituent, by any of its names or numbers; isomers are stated one by one and summed.
    ///
    /// # Errors
    /// A name of no entry, a percentage that is none, a low end above the high one, a name stated twice, and low ends
    /// that sum to more than the whole; an oil or extract that is an entry itself holds the others and is not summed
    /// with them.
    pub fn holding(mut self, name: &str, low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let (low, high) = (Ppm::from_percent(low)?, Ppm::from_percent(high)?);
        // A certificate names what is prohibited as well, as a rule to say that there is none.
        let status = RuleBook::starter().status(Market::Eu, name.trim());
        if low <= high && status.gravest() == Some(StatusKind::Prohibited) {
            self.prohibited.push((status.name, high));
            return Ok(self);
        }
        let entry = ScentEntry::find(name)?;
        let fault = |kind, what: &str| {
            Fault::new(kind, what).at(format!("declaration of {:?}, {}", self.material, entry.name()))
        };
        if low > high {
            return Err(fault(FaultKind::Contradiction, "the low end is above the high end")
                .value(format!("{low} to {high} %"))
                .into());
        }
        let shares = self.shares.entry(entry.place()).or_default();
        let folded = fold(name);
        if shares.iter().any(|(known, ..)| fold(known) == folded) {
            return Err(fault(FaultKind::Duplicate, "a constituent is declared twice")
                .value(format!("{name:?}"))
                .remedy("state one range for it")
                .into());
        }
        shares.push((name.trim().to_string(), low, high));
        let substances = self.shares.iter().filter(|(place, _)| !ScentEntry::all()[**place].holds_others());
        let sum: u64 = substances.flat_map(|(_, shares)| shares).map(|(_, low, _)| u64::from(low.parts())).sum();
        if sum > u64::from(Ppm::WHOLE.parts()) {
            return Err(Fault::new(
                FaultKind::Contradiction,
                "the lowest shares declared sum to more than the raw material",
            )
            .at(format!("declaration of {:?}", self.material))
            .value(format!("{} %", Exact::ratio(i64::try_from(sum).unwrap_or(i64::MAX), 10_000)))
            .allowed("at most 100 %")
            .remedy("state percent of the raw material, not of the product or in ppm")
            .into());
        }
        Ok(self)
    }

    /// With the supplier's reporting limit, percent of the material: what is not named is at most this much.
    ///
    /// # Errors
    /// A percentage that is none.
    pub fn reporting_from(mut self, percent: impl ToExact) -> Result<Self, Error> {
        self.below = Ppm::from_percent(percent)?;
        Ok(self)
    }

    /// What it names, as it was stated: name, lowest and highest share.
    pub fn shares(&self) -> impl Iterator<Item = (&str, Ppm, Ppm)> {
        self.shares.values().flatten().map(|(name, low, high)| (name.as_str(), *low, *high))
    }

    /// What it names that is prohibited in the European Union, with the highest share: a label there refuses more than
    /// none.
    pub fn prohibited(&self) -> impl Iterator<Item = (&str, Ppm)> {
        self.prohibited.iter().map(|(name, high)| (name.as_str(), *high))
    }

    /// The reporting limit: the most there can be of what it does not name.
    #[must_use]
    pub fn reporting(&self) -> Ppm {
        self.below
    }

    /// Lowest and highest percent of an entry in the material, in parts per million; never more than all of it.
    pub(super) fn range(&self, place: usize) -> (u32, u32) {
        let Some(shares) = self.shares.get(&place) else { return (0, self.below.parts()) };
        let sum =
            |end: fn(&(String, Ppm, Ppm)) -> Ppm| shares.iter().map(|share| u64::from(end(share).parts())).sum::<u64>();
        let whole = u64::from(Ppm::WHOLE.parts());
        let (low, high) = (sum(|share| share.1).min(whole), sum(|share| share.2).min(whole));
        (u32::try_from(low).unwrap_or(u32::MAX), u32::try_from(high).unwrap_or(u32::MAX))
    }

    /// The places of the entries it names.
    pub(super) fn places(&self) -> impl Iterator<Item = usize> {
        self.shares.keys().copied()
    }
}
