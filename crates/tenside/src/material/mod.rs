//! A raw material as bought: composition with ranges, form, handling limits, attributes, cautions; and the lots it
//! comes in.

mod attribute;
mod class;
mod composition;
mod constituent;
mod document;
mod handling;
mod holding;
mod lot;
mod page;
mod premix;
mod read;
mod stated;
mod words;

use std::collections::BTreeSet;
use std::fmt;
use std::sync::Arc;

pub use composition::{Composition, TightenedEnd};
pub use constituent::{Constituent, Contained, Declaration};
pub use document::{LotDocument, MaterialDocument};
pub(crate) use holding::{Footing, Held, Kind, NO_SCENT_IN_REMAINDERS, Unnamed};
pub use lot::{Certificate, CertificateChange, Lot, StatedActive};
pub(crate) use premix::{PartsFirst, check_distinct, check_joins};
pub(crate) use read::{MaterialRow, PremixPart, read_lot, read_material_row};
use rust_decimal::Decimal;
pub use words::{ActiveConvention, Caution, Form, PhRange, UseLevel};

use crate::document::{check_name, check_slug, fold, likeliest, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::memo::Shelf;
use crate::number::{Active, Exact, Ppm, Solids};
use crate::substance::{Attributes, Class, Substance, Volatility};

/// The mark of a page that rests on raw materials of the starter catalogue.
pub(crate) const DRAFT: &str =
    "DRAFT: rests on typical values of the starter catalogue, not on your suppliers' documents.";

/// A raw material, typical or one lot of it.
///
/// Reading documents gives materials; in code they are built from an id and a composition.
///
/// ```
/// use std::sync::Arc;
/// use tenside::material::{Composition, Constituent, Form, Material};
/// use tenside::number::Ppm;
/// use tenside::substance::{Class, Substance};
///
/// let active = Arc::new(Substance::new("COCAMIDOPROPYL BETAINE", Class::AmphotericSurfactant)?.counting_as_active(true));
/// let salt = Arc::new(Substance::new("SODIUM CHLORIDE", Class::Salt)?);
/// let water = Arc::new(Substance::new("WATER", Class::Water)?);
/// let percent = Ppm::from_percent;
/// let composition = Composition::stated(vec![
///     Constituent::typical(active, percent("30")?),
///     Constituent::typical(salt, percent("5")?),
///     Constituent::typical(water, percent("65")?),
/// ])?;
/// let betaine = Material::new("capb-30", "Cocamidopropyl betaine 30 %", Form::Liquid, composition)?;
/// assert_eq!(betaine.active()?.to_string(), "30 % active");
/// assert_eq!(betaine.solids()?.to_string(), "35 % solids");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct Material {
    id: String,
    name: String,
    form: Form,
    phase: String,
    composition: Composition,
    contained: Vec<Contained>,
    scent_reported_above: Option<Ppm>,
    remainder_may_hold: BTreeSet<Class>,
    difference_to: Option<String>,
    active_convention: Option<ActiveConvention>,
    ph_range: Option<PhRange>,
    use_levels: Vec<UseLevel>,
    density: Option<Decimal>,
    melting_point: Option<Decimal>,
    highest_process_temperature: Option<Decimal>,
    bound_water: Option<Ppm>,
    attributes: Attributes,
    cautions: BTreeSet<Caution>,
    aliases: Vec<String>,
    source: String,
    starter: bool,
    lot: Option<LotOf>,
    /// What upper floors worked out of it; whoever changes it in place empties the shelf.
    shelf: Shelf,
}

/// Which lot a material stands for, and the typical material it is a lot of.
#[derive(Clone, Debug, PartialEq)]
struct LotOf {
    lot: Arc<Lot>,
    typical: Arc<Material>,
    changes: Vec<CertificateChange>,
}

getters!(Material {
    /// Its identifier.
    id: &str,
    /// Its readable name.
    name: &str,
    /// Powder, needles, paste, liquid and so on.
    form: Form,
    /// The phase it goes to unless a line says otherwise.
    phase: &str,
    /// What it consists of.
    composition: &Composition,
    /// Substances contained in its ingredients.
    contained: &[Contained],
    /// The share of the raw material above which its supplier reports every scent constituent, if stated.
    scent_reported_above: Option<Ppm>,
    /// What its nameless remainder may hold besides what remainders usually can.
    remainder_may_hold: &BTreeSet<Class>,
    /// What its active figure rests on.
    active_convention: Option<ActiveConvention>,
    /// The pH range in which it is stable, if stated.
    ph_range: Option<&PhRange>,
    /// Recommended use levels.
    use_levels: &[UseLevel],
    /// Density in g/mL, if stated.
    density: Option<Decimal>,
    /// Melting point in °C, if stated.
    melting_point: Option<Decimal>,
    /// The highest temperature in °C at which it may be worked, if stated.
    highest_process_temperature: Option<Decimal>,
    /// Water held by starch, clay or hydrate that the composition does not list as water.
    bound_water: Option<Ppm>,
    /// What is stated of the material as a whole; [`Material::attribute`] also looks at its ingredients.
    attributes: &Attributes,
    /// Unambiguous other names.
    aliases: &[String],
    /// Where its values come from.
    source: &str,
});

impl Material {
    /// A raw material of that composition; everything else is not stated yet.
    ///
    /// # Errors
    /// A bad id or name.
    pub fn new(id: &str, name: &str, form: Form, composition: Composition) -> Result<Self, Error> {
        Ok(Material {
            id: check_slug(id)?,
            name: check_name(name)?,
            form,
            phase: form.usual_phase().to_string(),
            composition,
            contained: Vec::new(),
            scent_reported_above: None,
            remainder_may_hold: BTreeSet::new(),
            difference_to: None,
            active_convention: None,
            ph_range: None,
            use_levels: Vec::new(),
            density: None,
            melting_point: None,
            highest_process_temperature: None,
            bound_water: None,
            attributes: Attributes::default(),
            cautions: BTreeSet::new(),
            aliases: Vec::new(),
            source: "stated by the user".to_string(),
            starter: false,
            lot: None,
            shelf: Shelf::default(),
        })
    }

    /// With contained substances: shares of one ingredient.
    ///
    /// # Errors
    /// A share of something that is no ingredient of this material.
    pub fn with_contained(mut self, contained: Vec<Contained>) -> Result<Self, Error> {
        let mut faults = Vec::new();
        for part in &contained {
            if !self.composition.constituents().iter().any(|constituent| constituent.substance().inci() == part.of()) {
                faults.push(
                    Fault::new(FaultKind::UnknownName, "a contained substance is a share of no ingredient here")
                        .value(format!("{:?}", part.of()))
                        .allowed(likeliest(
                            part.of(),
                            self.composition.constituents().iter().map(|row| row.substance().inci()),
                        )),
                );
            }
        }
        Error::check(faults, ())?;
        self.contained = contained;
        self.shelf = Shelf::default();
        Ok(self)
    }

    /// With the share of the raw material above which its supplier reports every scent constituent in the list of
    /// contained substances; 0 if that list is complete. Without it, scent mixtures, essential oils and botanicals may
    /// hold any.
    #[must_use]
    pub fn with_scent_reported_above(mut self, share: Ppm) -> Self {
        self.scent_reported_above = Some(share);
        self.shelf = Shelf::default();
        self
    }

    /// With classes of substances that its nameless remainder may hold besides those that remainders usually can.
    #[must_use]
    pub fn with_remainder_that_may_hold(mut self, classes: &[Class]) -> Self {
        self.remainder_may_hold = classes.iter().copied().collect();
        self.shelf = Shelf::default();
        self
    }

    /// With cautions for whoever handles it.
    #[must_use]
    pub fn with_cautions(mut self, cautions: &[Caution]) -> Self {
        self.cautions = cautions.iter().copied().collect();
        self.shelf = Shelf::default();
        self
    }

    /// With the phase it goes to when a line does not say otherwise.
    ///
    /// # Errors
    /// A bad name.
    pub fn with_phase(mut self, phase: &str) -> Result<Self, Error> {
        self.phase = check_name(phase)?;
        self.shelf = Shelf::default();
        Ok(self)
    }

    /// With the constituent that takes the difference when a lot's certificate departs from the typical composition.
    ///
    /// # Errors
    /// A name that is neither a constituent nor `unspecified`.
    pub fn with_difference_to(mut self, constituent: &str) -> Result<Self, Error> {
        let names = || {
            self.composition
                .constituents()
                .iter()
                .map(|row| row.substance().inci())
                .chain([crate::substance::UNSPECIFIED])
        };
        let Some(name) = names().find(|name| fold(name) == fold(constituent)).map(str::to_string) else {
            let fault = Fault::new(FaultKind::UnknownName, "the difference of a lot goes to no constituent here")
                .value(shown(constituent));
            return Err(fault.allowed(likeliest(constituent, names())).into());
        };
        self.difference_to = Some(name);
        self.shelf = Shelf::default();
        Ok(self)
    }

    /// Where upper floors keep what they worked out of it.
    pub(crate) fn shelf(&self) -> &Shelf {
        &self.shelf
    }

    /// The constituent that takes a lot's difference: as stated, else water in liquids and pastes, `unspecified` in the
    /// rest.
    #[must_use]
    pub fn difference_to(&self) -> &str {
        match (&self.difference_to, self.form) {
            (Some(name), _) => name,
            (None, Form::Liquid | Form::Paste) => self
                .composition
                .constituents()
                .iter()
                .find(|row| row.substance().is_water())
                .map_or(crate::substance::UNSPECIFIED, |row| row.substance().inci()),
            (None, _) => crate::substance::UNSPECIFIED,
        }
    }

    /// The constituent that takes a lot's difference, if it is stated.
    pub(crate) fn stated_difference_to(&self) -> Option<&str> {
        self.difference_to.as_deref()
    }

    /// Cautions for whoever handles it, those of a premix's parts included.
    #[must_use]
    pub fn cautions(&self) -> BTreeSet<Caution> {
        self.parts_first().into_iter().flat_map(|material| material.cautions.iter().copied()).collect()
    }

    /// True where its values, or those of a premix's part, are the starter catalogue's: output resting on them is a
    /// DRAFT.
    #[must_use]
    pub fn is_starter(&self) -> bool {
        self.parts_first().into_iter().any(|material| material.starter)
    }

    /// The lot it stands for, if it is one.
    #[must_use]
    pub fn lot(&self) -> Option<&Arc<Lot>> {
        self.lot.as_ref().map(|of| &of.lot)
    }

    /// The typical material that this is a lot of.
    #[must_use]
    pub fn typical(&self) -> Option<&Arc<Material>> {
        self.lot.as_ref().map(|of| &of.typical)
    }

    /// What the lot's certificate changed against the typical material.
    #[must_use]
    pub fn certificate_changes(&self) -> &[CertificateChange] {
        self.lot.as_ref().map_or(&[], |of| &of.changes)
    }

    /// True where every share has a typical value.
    #[must_use]
    pub fn has_typical(&self) -> bool {
        self.leaves().iter().all(|(leaf, _)| leaf.composition.has_typical())
    }

    /// The typical percentage of the constituents that `chosen` accepts.
    ///
    /// # Errors
    /// A composition of bounds without typical values.
    pub fn typical_percent(&self, chosen: impl Fn(&Substance) -> bool) -> Result<Exact, Error> {
        let mut sum = Exact::ZERO;
        for (leaf, share) in self.leaves() {
            for row in leaf.composition.constituents() {
                let typical = row.share().ok_or_else(|| leaf.no_typical())?;
                if chosen(row.substance()) {
                    sum += typical.percent() * &share;
                }
            }
        }
        Ok(sum)
    }

    pub(crate) fn no_typical(&self) -> Fault {
        Fault::new(FaultKind::NotKnown, "the composition is bounded only; it has no typical values")
            .at(format!("material {:?}", self.id))
            .remedy("state typical percentages, or ask for requirements that hold for every composition")
    }

    /// What counts as active, percent of the material.
    ///
    /// # Errors
    /// A composition of bounds without typical values.
    pub fn active(&self) -> Result<Active, Error> {
        Active::new(self.typical_percent(Substance::counts_as_active)?)
    }

    /// Whether any of it counts as active, typically.
    pub(crate) fn brings_active(&self) -> Result<bool, Error> {
        let mut brings = false;
        for (leaf, _) in self.leaves() {
            for row in leaf.composition.constituents() {
                let typical = row.share().ok_or_else(|| leaf.no_typical())?;
                brings |= !typical.is_zero() && row.substance().counts_as_active();
            }
        }
        Ok(brings)
    }

    /// What counts as active in one class, percent of the material.
    ///
    /// # Errors
    /// A composition of bounds without typical values, and a class of which there is some and nothing counts as active
    /// matter.
    pub fn active_of(&self, class: Class) -> Result<Active, Error> {
        let counted = self.typical_percent(|substance| substance.counts_as_active() && substance.class() == class)?;
        if counted.is_zero() && !self.typical_percent(|substance| substance.class() == class)?.is_zero() {
            return Err(Fault::new(
                FaultKind::Unsupported,
                "what there is of this class does not count as active matter",
            )
            .at(format!("material {:?}", self.id))
            .value(class)
            .remedy("measure the class itself, which counts all of it")
            .into());
        }
        Active::new(counted)
    }

    /// What is left when water and volatile constituents are gone; constituents of unknown volatility are taken to
    /// stay.
    ///
    /// # Errors
    /// A composition of bounds without typical values.
    pub fn solids(&self) -> Result<Solids, Error> {
        let gone = self.typical_percent(|substance| {
            matches!(substance.volatility(), Volatility::Water | Volatility::Volatile) || substance.is_water()
        })?;
        Solids::new(Exact::hundred() - gone)
    }

    /// The use level for a product use, if stated.
    #[must_use]
    pub fn use_level(&self, product_use: &str) -> Option<&UseLevel> {
        self.use_levels.iter().find(|level| level.product_use == product_use)
    }

    /// Equal, with premixes of the same shares; whether the parts are equal is left open.
    fn same_but_for_parts(&self, other: &Material) -> bool {
        // Taken apart, so that a field added later cannot be forgotten.
        let Material {
            id,
            name,
            form,
            phase,
            composition,
            contained,
            scent_reported_above,
            remainder_may_hold,
            difference_to,
            active_convention,
            ph_range,
            use_levels,
            density,
            melting_point,
            highest_process_temperature,
            bound_water,
            attributes,
            cautions,
            aliases,
            source,
            starter,
            lot,
            shelf: _,
        } = self;
        *id == other.id
            && *name == other.name
            && *form == other.form
            && *phase == other.phase
            && composition.same_but_for_parts(&other.composition)
            && *contained == other.contained
            && *scent_reported_above == other.scent_reported_above
            && *remainder_may_hold == other.remainder_may_hold
            && *difference_to == other.difference_to
            && *active_convention == other.active_convention
            && *ph_range == other.ph_range
            && *use_levels == other.use_levels
            && *density == other.density
            && *melting_point == other.melting_point
            && *highest_process_temperature == other.highest_process_temperature
            && *bound_water == other.bound_water
            && *attributes == other.attributes
            && *cautions == other.cautions
            && *aliases == other.aliases
            && *source == other.source
            && *starter == other.starter
            && *lot == other.lot
    }

    /// Naming the substances of this table where it has others of the same names.
    pub(crate) fn with_substances_of(&self, table: &crate::substance::SubstanceTable) -> Material {
        let winner = |substance: &Arc<Substance>| table.find(substance.inci()).unwrap_or(substance).clone();
        // The winner may be spelt otherwise, "Glycerin" for "GLYCERIN".
        let respelt =
            |name: &mut String| table.find(name).into_iter().for_each(|winner| *name = winner.inci().to_string());
        let mut material = self.clone();
        for row in material.composition.constituents_mut() {
            row.substance = winner(&row.substance);
        }
        for part in &mut material.contained {
            part.substance = winner(&part.substance);
            respelt(&mut part.of);
        }
        material.difference_to.as_mut().into_iter().for_each(respelt);
        material
    }

    /// Marked as resting on starter values.
    pub(crate) fn marked_as_starter(mut self) -> Self {
        self.starter = true;
        self.shelf = Shelf::default();
        self
    }
}

impl fmt::Display for Material {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.lot {
            Some(of) => write!(formatter, "{} (lot {})", self.name, of.lot.id()),
            None => formatter.pad(&self.name),
        }
    }
}
