//! Mixed micelles as documents, and back. Floats have nine digits.

use super::{MixedMicelles, MixedSurfactant};
use crate::bounds::Quantity;
use crate::document::{Notation, Number, TableView, form, forms, restore};
use crate::error::Error;
use crate::number::Exact;

/// A surfactant as it was given.
#[derive(Clone, Debug, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct GivenSurfactant {
    /// What it is called.
    name: String,
    /// Its mole parts.
    parts: Number,
    /// Its critical micelle concentration alone, mmol/L.
    cmc: Number,
}

/// The interaction of a pair as it was given.
#[derive(Clone, Debug, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct GivenInteraction {
    /// One surfactant.
    first: String,
    /// The other.
    second: String,
    /// Their interaction parameter, in units of RT.
    parameter: Number,
}

form! {
    /// A surfactant of the first micelles.
    MixedSurfactantDocument of MixedSurfactant, |it| {
        /// What it is called.
        name: String = it.name.clone(),
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
        interactions: Vec<GivenInteraction> = it.interactions().map(|(first, second, parameter)| GivenInteraction { first: first.to_string(), second: second.to_string(), parameter: parameter.into() }).collect(),
        /// The critical micelle concentration of the mixture, mmol/L.
        cmc: Number = Number::of_float(it.cmc()?),
        /// That of an ideal mixture, mmol/L.
        ideal_cmc: Number = Number::of_float(it.ideal_cmc()),
        /// The micelles that form first.
        first_micelles: Vec<MixedSurfactantDocument> = forms(&it.surfactants()?),
        /// What to know about it.
        notes: Vec<String> = it.notes(),
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
