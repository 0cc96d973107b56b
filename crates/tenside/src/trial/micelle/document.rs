//! Mixed micelles as documents, and back. Floats have nine digits.

use super::{Dispersed, FormulaMicelles, MixedMicelles, MixedSurfactant};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::{Notation, Number, TableView, form, forms, restore, written};
use crate::error::Error;
use crate::formula::{FormulaDocument, read_formula};
use crate::number::Exact;

written! {
    /// A surfactant as it was given.
    struct GivenSurfactant {
        /// What it is called.
        name: String,
        /// Its mole parts.
        parts: Number,
        /// Its critical micelle concentration alone, mmol/L.
        cmc: Number,
    }
}

written! {
    /// The interaction of a pair as it was given.
    struct GivenInteraction {
        /// One surfactant.
        first: String,
        /// The other.
        second: String,
        /// Their interaction parameter, in units of RT.
        parameter: Number,
    }
}

fn given_interactions(mixed: &MixedMicelles) -> Vec<GivenInteraction> {
    let given = |(first, second, parameter): (&str, &str, &Exact)| GivenInteraction {
        first: first.to_string(),
        second: second.to_string(),
        parameter: parameter.into(),
    };
    mixed.interactions().map(given).collect()
}

form! {
    /// A surfactant of the first micelles.
    MixedSurfactantDocument of MixedSurfactant, |it| {
        /// What it is called.
        name: String,
        /// Its mole share of all surfactants.
        share: Number = Number::of_float(it.share),
        /// Its mole share of the first micelles.
        in_micelles: Number = Number::of_float(it.in_micelles),
        /// Its activity coefficient in them.
        activity: Number = Number::of_float(it.activity),
    }
}

form! {
    /// Surfactants that form micelles together.
    MixedMicellesDocument of MixedMicelles as "mixed-micelles/1", |it, _materials| {
        /// The surfactants.
        surfactants: Vec<GivenSurfactant> = it.given().map(|(name, parts, cmc)| GivenSurfactant { name: name.to_string(), parts: parts.into(), cmc: cmc.into() }).collect(),
        /// The interactions of pairs; the others mix ideally.
        interactions: Vec<GivenInteraction> = given_interactions(it),
        /// The critical micelle concentration of the mixture, mmol/L.
        cmc: Number = Number::of_float(it.cmc()?),
        /// That of an ideal mixture, mmol/L.
        ideal_cmc: Number = Number::of_float(it.ideal_cmc()),
        /// The micelles that form first.
        first_micelles: Vec<MixedSurfactantDocument> = forms(&it.surfactants()?),
        /// What to know about it.
        notes: Vec<String>,
    }
}

fn read_surfactant(view: &TableView<'_>) -> Option<(String, Exact, Exact)> {
    let name = view.needed_name("name");
    let parts = view.needed("parts", |view| view.exact("parts", Some(Quantity::MoleParts)));
    let cmc = view.needed("cmc", |view| view.exact("cmc", Some(Quantity::CriticalConcentration)));
    Some((name?, parts?, cmc?))
}

fn read_interaction(view: &TableView<'_>) -> Option<(String, String, Exact)> {
    let (first, second) = (view.needed_name("first"), view.needed_name("second"));
    let parameter = view.needed("parameter", |view| view.exact("parameter", Some(Quantity::MicelleInteraction)));
    Some((first?, second?, parameter?))
}

impl MixedMicelles {
    /// Reads mixed micelles back. They are believed where working them out again gives just what they say.
    ///
    /// # Errors
    /// Every fault of the surfactants and interactions; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["surfactants", "interactions"], |view| {
            let surfactants = view.tables("surfactants", read_surfactant);
            let interactions = view.tables("interactions", read_interaction);
            // What could not be read is reported already.
            let whole =
                surfactants.len() == view.count("surfactants") && interactions.len() == view.count("interactions");
            let mut mixed = view.accept("surfactants", MixedMicelles::new(surfactants)).filter(|_| whole)?;
            for (first, second, parameter) in interactions {
                mixed = view.accept("interactions", mixed.with_interaction(&first, &second, parameter))?;
            }
            Some(mixed)
        })
    }
}

written! {
    /// The critical micelle concentration of a substance as it was given.
    struct GivenConcentration {
        /// The substance, by its INCI name.
        name: String,
        /// Its critical micelle concentration alone, mmol/L.
        cmc: Number,
    }
}

form! {
    /// A surfactant at a concentration of all together.
    DispersedDocument of Dispersed, |it| {
        /// What it is called.
        name: String,
        /// In all, mmol/L.
        total: Number = Number::of_float(it.total),
        /// Single, mmol/L.
        single: Number = Number::of_float(it.single),
        /// Its mole share of the micelles; null where there are none.
        in_micelles: Option<Number> = it.in_micelles.map(Number::of_float),
    }
}

form! {
    /// The mixed micelles of a formula in use.
    FormulaMicellesDocument of FormulaMicelles as "formula-micelles/1", |it, materials| {
        /// The formula.
        formula: FormulaDocument = FormulaDocument::of(&it.formula, materials),
        /// The dilution with water by mass.
        dilution: String = it.dilution.to_string(),
        /// Critical micelle concentrations.
        concentrations: Vec<GivenConcentration> = it.cmcs.iter().map(|(name, cmc)| GivenConcentration { name: name.clone(), cmc: cmc.into() }).collect(),
        /// The interactions of pairs; the others mix ideally.
        interactions: Vec<GivenInteraction> = given_interactions(&it.mixture),
        /// The critical micelle concentration of the mixture, mmol/L.
        cmc: Number = Number::of_float(it.mixture.cmc()?),
        /// All surfactants together at that dilution, mmol/L.
        concentration: Number = Number::of_float(it.concentration),
        /// Each at that dilution.
        dispersed: Vec<DispersedDocument> = forms(&it.dispersed),
        /// What to know about it.
        notes: Vec<String> = it.mixture.notes(),
    }
}

impl FormulaMicelles {
    /// Reads the mixed micelles of a formula back. They are believed where working them out again gives just what they
    /// say.
    ///
    /// # Errors
    /// Every fault of the formula, the concentrations and interactions; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["formula", "dilution", "concentrations", "interactions"], |view| {
            let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
            let dilution = view.needed("dilution", |view| view.accept("dilution", view.text("dilution")?.parse()));
            let concentrations = view.tables("concentrations", |view| {
                let name = view.needed_name("name");
                let cmc = view.needed("cmc", |view| view.exact("cmc", Some(Quantity::CriticalConcentration)));
                Some((name?, cmc?))
            });
            let interactions = view.tables("interactions", read_interaction);
            // What could not be read is reported already.
            let whole = concentrations.len() == view.count("concentrations")
                && interactions.len() == view.count("interactions");
            let formula = formula.filter(|_| whole)?;
            view.accept("formula", formula.mixed_micelles(dilution?, concentrations, interactions))
        })
    }
}
