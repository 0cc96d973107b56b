//! What a brief requires.

use pyo3::prelude::*;
use tenside::brief::Requirement;
use tenside::error::{Fault, FaultKind};
use tenside::substance::Attribute;

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::input::Number;
use crate::convert::output::Fraction;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::measure::basis::Basis;
use crate::measure::{AMeasure, Measure};
record! {
    "tenside.brief",
    /// A measure and the values it may have.
    BriefRequirement of &Requirement, |requirement| {
        /// The user's name for it, else what it asks for.
        name: String = requirement.name(),
        /// The measure.
        measure: Measure = Measure(requirement.measure().clone()),
        /// The basis.
        basis: Basis = Basis(requirement.basis().clone()),
        /// The lowest allowed value.
        low: Option<Fraction> = requirement.low().cloned().map(Fraction),
        /// The highest allowed value.
        high: Option<Fraction> = requirement.high().cloned().map(Fraction),
        /// True if it is to hold for every composition.
        for_every_composition: bool = requirement.is_for_every_composition(),
    }
}

getters!(Brief {
    /// Its requirements.
    requirements: Rows<BriefRequirement> = |it| it.requirements().iter().map(BriefRequirement::from).collect();
});

impl Brief {
    fn requiring(
        &self,
        requirement: Requirement,
        basis: Option<Basis>,
        every: bool,
        name: Option<&str>,
    ) -> Outcome<Self> {
        let requirement = requirement.on(basis.map_or_else(Default::default, |basis| basis.0));
        let requirement = if every { requirement.for_every_composition() } else { requirement };
        let requirement = match name {
            Some(name) => requirement.named(name)?,
            None => requirement,
        };
        Ok(Brief(self.0.clone().require(requirement)?))
    }
}

#[pymethods]
impl Brief {
    /// With a measure at `equal`, or `at_least` and `at_most`, or one of these.
    /// `basis`, `for_every_composition` and `name` as for `at_least`.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).require(td.measure.water, at_least=5, at_most=9, name="workable")
    /// >>> brief.requirements[0].name
    /// 'workable'
    #[pyo3(signature = (measure, *, equal=None, at_least=None, at_most=None, basis=None, for_every_composition=false, name=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn require(
        &self,
        measure: AMeasure,
        equal: Option<Number>,
        at_least: Option<Number>,
        at_most: Option<Number>,
        basis: Option<Basis>,
        for_every_composition: bool,
        name: Option<&str>,
    ) -> Outcome<Self> {
        let requirement = match (equal, at_least, at_most) {
            (Some(value), None, None) => Requirement::equal(measure.0, value.0)?,
            (None, Some(low), Some(high)) => Requirement::between(measure.0, low.0, high.0)?,
            (None, Some(low), None) => Requirement::at_least(measure.0, low.0)?,
            (None, None, Some(high)) => Requirement::at_most(measure.0, high.0)?,
            _ => {
                let fault = Fault::new(
                    FaultKind::Contradiction,
                    "a requirement states either equal, or at_least, at_most or both",
                );
                return Err(fault.at(measure.0.name()).into());
            }
        };
        self.requiring(requirement, basis, for_every_composition, name)
    }

    /// With a measure at exactly this value.
    /// `basis`, `for_every_composition` and `name` as for `at_least`.
    #[pyo3(signature = (measure, value, *, basis=None, for_every_composition=false, name=None))]
    fn target(
        &self,
        measure: AMeasure,
        value: Number,
        basis: Option<Basis>,
        for_every_composition: bool,
        name: Option<&str>,
    ) -> Outcome<Self> {
        self.requiring(Requirement::equal(measure.0, value.0)?, basis, for_every_composition, name)
    }

    /// With a measure at or above this value. `basis` is what it is counted on, as charged unless stated;
    /// `for_every_composition` asks it of every composition inside the stated ranges, not of the typical one alone;
    /// `name` is what conflicts and axes call it.
    #[pyo3(signature = (measure, value, *, basis=None, for_every_composition=false, name=None))]
    fn at_least(
        &self,
        measure: AMeasure,
        value: Number,
        basis: Option<Basis>,
        for_every_composition: bool,
        name: Option<&str>,
    ) -> Outcome<Self> {
        self.requiring(Requirement::at_least(measure.0, value.0)?, basis, for_every_composition, name)
    }

    /// With a measure at or below this value.
    /// `basis`, `for_every_composition` and `name` as for `at_least`.
    #[pyo3(signature = (measure, value, *, basis=None, for_every_composition=false, name=None))]
    fn at_most(
        &self,
        measure: AMeasure,
        value: Number,
        basis: Option<Basis>,
        for_every_composition: bool,
        name: Option<&str>,
    ) -> Outcome<Self> {
        self.requiring(Requirement::at_most(measure.0, value.0)?, basis, for_every_composition, name)
    }

    /// With a measure between two values.
    /// From `low` to `high`; `basis`, `for_every_composition` and `name` as for `at_least`.
    #[pyo3(signature = (measure, low, high, *, basis=None, for_every_composition=false, name=None))]
    fn within(
        &self,
        measure: AMeasure,
        low: Number,
        high: Number,
        basis: Option<Basis>,
        for_every_composition: bool,
        name: Option<&str>,
    ) -> Outcome<Self> {
        self.requiring(Requirement::between(measure.0, low.0, high.0)?, basis, for_every_composition, name)
    }

    /// Without any raw material that has the attribute: "sulfate", "palm", "animal", "silicone" or "ethoxylated".
    fn without(&self, attribute: Word<Attribute>) -> Outcome<Self> {
        Ok(Brief(self.0.clone().without(attribute.0)?))
    }

    /// With the recommended use levels of a product use as named requirements, those of raw materials in premixes among
    /// them; `materials_without_use_level` lists what has none. `product_use` is a word such as "shampoo-bar", or what a material of your own states.
    fn within_use_levels(&self, product_use: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().within_use_levels(product_use)?.0))
    }

    /// The raw materials that state no use level for a product use.
    /// `product_use` is a word such as "shampoo-bar", or what a material of your own states.
    fn materials_without_use_level(&self, product_use: &str) -> Outcome<Vec<String>> {
        Ok(self.0.materials_without_use_level(product_use)?)
    }
}
