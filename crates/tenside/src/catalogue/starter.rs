//! The embedded starter catalogue.
//!
//! # Why
//! - Starter values are from memory or common practice but for the essential oils that name a source; the
//!   by-product ranges of sulfoacetate, taurate and sulfosuccinate powders are the weakest.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::collections::HashSet;
use std::sync::{Arc, LazyLock};

use indexmap::IndexMap;

use super::{AliasTable, Catalogue};
use crate::document::{Notation, Reader};
use crate::material::Material;
use crate::substance::SubstanceTable;

macro_rules! embedded {
    ($($file:literal),* $(,)?) => {
        &[$(($file, include_str!(concat!("../../data/materials/", $file)))),*]
    };
}

/// One file a family, each with its source.
const FILES: &[(&str, &str)] = embedded![
    "acids.toml",
    "alkalis_buffers.toml",
    "amphoteric_surfactants.toml",
    "anionic_surfactants.toml",
    "botanicals.toml",
    "butters_oils.toml",
    "chelants_antioxidants.toml",
    "clays_starches.toml",
    "colourants.toml",
    "conditioners.toml",
    "emulsifiers_esters.toml",
    "essential_oils.toml",
    "fatty_acids_alcohols.toml",
    "humectants.toml",
    "nonionic_surfactants.toml",
    "preservatives.toml",
    "proteins_vitamins.toml",
    "salts_minerals.toml",
    "scalp_actives.toml",
    "water_solvents.toml",
    "waxes.toml",
];
const ALIASES: &str = include_str!("../../data/aliases.toml");

static STARTER: LazyLock<Catalogue> = LazyLock::new(|| {
    // The embedded files are read by a test; a fault there is a fault of the build.
    read().unwrap_or_else(|(file, error)| panic!("{file}: {error}"))
});

fn read() -> Result<Catalogue, (&'static str, crate::error::Error)> {
    let substances = SubstanceTable::starter();
    let mut starter = Catalogue::empty();
    let contents = starter.change();
    for (file, text) in FILES {
        let catalogue = Catalogue::read_over(text, Notation::Toml, &substances).map_err(|error| (*file, error))?;
        for material in catalogue.materials() {
            let marked = Arc::new(Material::clone(material).marked_as_starter());
            if contents.materials.insert(marked.id().to_string(), marked).is_some() {
                let fault =
                    crate::error::Fault::new(crate::error::FaultKind::Duplicate, "a material stands in two files")
                        .value(material.id());
                return Err((*file, fault.into()));
            }
        }
    }
    contents.aliases = read_aliases(&contents.materials).map_err(|error| ("aliases.toml", error))?;
    Ok(starter)
}

fn read_aliases(materials: &IndexMap<String, Arc<Material>>) -> Result<AliasTable, crate::error::Error> {
    Reader::read(ALIASES, Notation::Toml, |view| {
        view.version("aliases/1");
        view.prose("source");
        Some(super::document::read_aliases(view, materials, &HashSet::new()))
    })
}

impl Catalogue {
    /// The embedded catalogue of generic raw materials: typical values without prices, every one with its source.
    /// What rests on them is marked DRAFT.
    #[must_use]
    pub fn starter() -> Catalogue {
        STARTER.clone()
    }

    /// The embedded catalogue, to look names up in.
    pub(crate) fn embedded() -> &'static Catalogue {
        &STARTER
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_embedded_file_is_read_and_large_enough() {
        let starter = read().unwrap_or_else(|(file, error)| panic!("{file}: {error}"));
        assert!(starter.materials().count() >= 100, "{}", starter.materials().count());
        assert!(starter.materials().all(|material| material.is_starter() && material.has_typical()));
    }

    #[test]
    fn trade_abbreviations_with_several_meanings_are_refused() {
        for name in ["SCS", "sls", "SLES", "SLSA", "betaine", "citric acid", "lactic acid"] {
            let error = Catalogue::starter().material(name).unwrap_err();
            assert!(error.is_ambiguous_name(), "{name}: {error}");
        }
    }
}
