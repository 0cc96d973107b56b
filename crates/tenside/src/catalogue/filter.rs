//! The raw materials of a catalogue that meet some conditions.

use std::collections::BTreeSet;
use std::sync::Arc;

use indexmap::IndexMap;

use super::Catalogue;
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Form, Kind, Material, Unnamed};
use crate::substance::{Attribute, Class, Substance};

/// So many unknown words are told at once.
const MOST_UNKNOWN: usize = 100;

/// Conditions that raw materials are to meet: every kind of them that is set, and of one kind that is set several times
/// one. Of attributes each one has to hold.
///
/// ```
/// use tenside::catalogue::{Catalogue, Filter};
/// use tenside::material::Form;
/// use tenside::substance::{Attribute, Class};
/// let mild = Filter::new().form(Form::Powder).class(Class::AnionicSurfactant).without(Attribute::Sulfate).product_use("shampoo-bar");
/// let found = Catalogue::starter().filter(&mild)?;
/// assert!(found.materials.iter().any(|material| material.id() == "sci-powder"));
/// assert!(!found.materials.iter().any(|material| material.id().starts_with("scs-")));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Filter {
    forms: BTreeSet<Form>,
    classes: BTreeSet<Class>,
    with: BTreeSet<Attribute>,
    without: BTreeSet<Attribute>,
    uses: BTreeSet<String>,
    phases: BTreeSet<String>,
    holding: BTreeSet<String>,
    starter: Option<bool>,
}

/// What a filter found.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Found {
    /// The materials that meet every condition, in the catalogue's order.
    pub materials: Vec<Arc<Material>>,
    /// Those that meet what is known of them, where something else is not known: nobody says whether they have an
    /// attribute, or what a remainder holds.
    pub not_known: Vec<Arc<Material>>,
}

impl Filter {
    /// Without a condition.
    #[must_use]
    pub fn new() -> Self {
        Filter::default()
    }

    /// Of that form.
    #[must_use]
    pub fn form(mut self, form: Form) -> Self {
        self.forms.insert(form);
        self
    }

    /// Whose largest named constituent is of that class, or its largest surfactant.
    #[must_use]
    pub fn class(mut self, class: Class) -> Self {
        self.classes.insert(class);
        self
    }

    /// Of which it is stated that they have the attribute.
    #[must_use]
    pub fn with(mut self, attribute: Attribute) -> Self {
        self.with.insert(attribute);
        self
    }

    /// Of which it is stated that they do not have the attribute.
    #[must_use]
    pub fn without(mut self, attribute: Attribute) -> Self {
        self.without.insert(attribute);
        self
    }

    /// With a recommended use level for that product use.
    #[must_use]
    pub fn product_use(mut self, product_use: &str) -> Self {
        self.uses.insert(product_use.to_string());
        self
    }

    /// That go to that phase unless a line says otherwise.
    #[must_use]
    pub fn phase(mut self, phase: &str) -> Self {
        self.phases.insert(phase.to_string());
        self
    }

    /// That name the substance, by INCI name, name on a label or CAS number, among their ingredients or what these
    /// contain.
    #[must_use]
    pub fn holding(mut self, substance: &str) -> Self {
        self.holding.insert(substance.to_string());
        self
    }

    /// Whose values are the starter catalogue's, or a supplier's.
    #[must_use]
    pub fn starter(mut self, starter: bool) -> Self {
        self.starter = Some(starter);
        self
    }
}

impl Catalogue {
    /// The materials that meet the conditions. What is not known of a material meets none: such materials stand apart.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, Filter};
    /// let error = Catalogue::starter().filter(&Filter::new().product_use("shampoo bar")).unwrap_err();
    /// assert!(error.to_string().contains("did you mean \"shampoo-bar\"?"));
    /// ```
    ///
    /// # Errors
    /// Each product use and phase that no material of the catalogue has, and each unknown substance, with what there
    /// is.
    pub fn filter(&self, filter: &Filter) -> Result<Found, Error> {
        let mut faults = Vec::new();
        check("product use", &filter.uses, &self.product_uses(), &mut faults);
        check("phase", &filter.phases, &self.phases(), &mut faults);
        let mut holding: IndexMap<&str, &Arc<Substance>> = IndexMap::new();
        for name in &filter.holding {
            if faults.len() >= MOST_UNKNOWN {
                break;
            }
            match self.substances().named(name) {
                Ok(substance) => {
                    holding.insert(substance.inci(), substance);
                }
                Err(error) => faults.extend(error.into_faults()),
            }
        }
        if faults.len() >= MOST_UNKNOWN {
            faults.push(Fault::new(FaultKind::UnknownName, "further words are not looked at"));
        }
        Error::check(faults, ())?;
        let (mut materials, mut not_known) = (Vec::new(), Vec::new());
        for material in self.materials() {
            match filter.is_met(material, &holding.values().copied().collect::<Vec<_>>()) {
                Some(true) => materials.push(Arc::clone(material)),
                None => not_known.push(Arc::clone(material)),
                Some(false) => {}
            }
        }
        Ok(Found { materials, not_known })
    }

    /// The product uses that its materials state use levels for.
    ///
    /// ```
    /// assert!(tenside::catalogue::Catalogue::starter().product_uses().contains("shampoo-bar"));
    /// ```
    #[must_use]
    pub fn product_uses(&self) -> BTreeSet<&str> {
        self.materials().flat_map(|material| material.use_levels()).map(|level| level.product_use.as_str()).collect()
    }

    /// The phases that its materials go to unless a line says otherwise.
    #[must_use]
    pub fn phases(&self) -> BTreeSet<&str> {
        self.materials().map(|material| material.phase()).collect()
    }
}

fn check(kind: &str, asked: &BTreeSet<String>, known: &BTreeSet<&str>, faults: &mut Vec<Fault>) {
    for word in asked.iter().filter(|word| !known.contains(word.as_str())).take(MOST_UNKNOWN) {
        let fault = if known.is_empty() {
            Fault::new(FaultKind::UnknownName, format!("no raw material of the catalogue has a {kind}"))
                .value(crate::document::shown(word))
        } else {
            let listed: Vec<&str> = known.iter().copied().collect();
            unknown_name(kind, word, listed.iter().copied()).allowed(listed.join(", "))
        };
        faults.push(fault);
    }
}

impl Filter {
    fn is_of_class(&self, material: &Material) -> bool {
        self.classes.contains(&material.main_class())
            || material.surfactant_class().is_some_and(|class| self.classes.contains(&class))
    }

    /// Whether every condition is met; `None` if that hangs on what is not known.
    fn is_met(&self, material: &Material, holding: &[&Arc<Substance>]) -> Option<bool> {
        let sure = (self.forms.is_empty() || self.forms.contains(&material.form()))
            && (self.phases.is_empty() || self.phases.contains(material.phase()))
            && (self.uses.is_empty()
                || material.use_levels().iter().any(|level| self.uses.contains(&level.product_use)))
            && self.starter.is_none_or(|starter| starter == material.is_starter())
            && (self.classes.is_empty() || self.is_of_class(material));
        if !sure {
            return Some(false);
        }
        let states = |attribute: &Attribute| material.attribute(*attribute).map(|statement| statement.value);
        let mut open = self
            .with
            .iter()
            .map(states)
            .chain(self.without.iter().map(|attribute| states(attribute).map(|has| !has)))
            .collect::<Vec<_>>();
        if !holding.is_empty() {
            let held: Vec<Option<bool>> = holding.iter().map(|substance| material.holds(substance)).collect();
            open.push(if held.contains(&Some(true)) {
                Some(true)
            } else {
                held.into_iter().find(Option::is_none).unwrap_or(Some(false))
            });
        }
        if open.contains(&Some(false)) {
            Some(false)
        } else {
            open.into_iter().all(|met| met.is_some()).then_some(true)
        }
    }
}

impl Material {
    /// Whether it names the substance among its ingredients or what they contain; `None` if an unnamed part could hold
    /// it.
    fn holds(&self, substance: &Substance) -> Option<bool> {
        let is = |other: &Substance| other.inci() == substance.inci();
        let kind = Kind::of(substance);
        let leaves = self.leaves();
        let rows =
            || leaves.iter().flat_map(|(leaf, _)| leaf.composition().constituents().iter().map(move |row| (leaf, row)));
        let contained = leaves.iter().any(|(leaf, _)| leaf.contained().iter().any(|part| is(part.substance())));
        if contained || rows().any(|(_, row)| is(row.substance())) {
            return Some(true);
        }
        if rows().any(|(leaf, row)| leaf.unnamed_in(row, kind, is) != Unnamed::Nothing) { None } else { Some(false) }
    }
}
