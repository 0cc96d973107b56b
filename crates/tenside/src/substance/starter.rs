//! The embedded substance table.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::{Arc, LazyLock};

use super::{Substance, SubstanceTable, read_substance};
use crate::document::{Notation, Reader, names_alike};
use crate::error::Error;

macro_rules! embedded {
    ($($file:literal),* $(,)?) => {
        &[$(($file, include_str!(concat!("../../data/substances/", $file)))),*]
    };
}

/// One file a family, each with its source.
const FILES: &[(&str, &str)] = embedded![
    "surfactants.toml",
    "soaps.toml",
    "fats.toml",
    "silicones.toml",
    "conditioners.toml",
    "humectants.toml",
    "preservatives.toml",
    "fragrance_constituents.toml",
    "natural_oil_constituents.toml",
    "essential_oils.toml",
    "minerals.toml",
    "colourants.toml",
    "acids_and_solvents.toml",
    "scalp_actives_and_others.toml",
    "ruled.toml",
];

static STARTER: LazyLock<Arc<SubstanceTable>> = LazyLock::new(|| {
    let mut table = SubstanceTable::default();
    for (file, text) in FILES {
        // The embedded files are read by a test; a fault there is a fault of the build.
        table.read(text, Notation::Toml).unwrap_or_else(|error| panic!("{file}: {error}"));
    }
    Arc::new(table)
});

impl SubstanceTable {
    /// The embedded table: INCI names with classes, CAS numbers, charges and molar masses; every row names its source.
    ///
    /// ```
    /// let table = tenside::substance::SubstanceTable::starter();
    /// assert!(table.get("sodium cocoyl isethionate")?.counts_as_active());
    /// let error = table.get("SODIUM COCOYL ISETIONATE").unwrap_err();
    /// assert!(error.to_string().contains("did you mean \"SODIUM COCOYL ISETHIONATE\"?"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn starter() -> Arc<SubstanceTable> {
        Arc::clone(&STARTER)
    }

    /// Adds the substances of a document, all or none.
    ///
    /// # Errors
    /// Every fault of the document.
    pub fn read(&mut self, text: &str, notation: Notation) -> Result<(), Error> {
        let rows = Reader::read(text, notation, |view| {
            view.version("substances/1");
            let source = view.prose("source");
            Some(view.tables("substance", |view| read_substance(view, source.as_deref())))
        })?;
        let mut table = self.clone();
        let mut faults = Vec::new();
        for row in rows {
            if let Err(error) = table.insert(Arc::new(row)) {
                faults.extend(error.into_faults());
            }
        }
        Error::check(faults, ())?;
        *self = table;
        Ok(())
    }
}

impl Substance {
    /// True for two that are one substance: of one INCI name, or of one CAS number where one of them is not in the
    /// embedded table. Limits and measures then hold for an embedded substance under a name of the user's own. Embedded
    /// substances may share a number.
    pub(crate) fn is_same_as(&self, other: &Substance) -> bool {
        names_alike(&self.inci, &other.inci)
            || (self.cas.iter().any(|cas| other.cas.contains(cas)) && self.is_embedded() != other.is_embedded())
    }

    /// The names of the embedded substances that it is the same as.
    pub(crate) fn embedded_names(&self) -> Vec<String> {
        if self.cas.is_empty() || self.is_embedded() {
            return vec![self.inci.clone()];
        }
        let same = SubstanceTable::starter();
        let same = same.iter().filter(|known| self.is_same_as(known)).map(|known| known.inci.clone());
        let names: Vec<String> = same.collect();
        if names.is_empty() { vec![self.inci.clone()] } else { names }
    }

    /// True where the embedded table has the name.
    pub(crate) fn is_embedded(&self) -> bool {
        *self.is_embedded.get_or(|| SubstanceTable::starter().find(&self.inci).is_some())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_embedded_file_is_read_and_large_enough() {
        let mut table = SubstanceTable::default();
        for (file, text) in FILES {
            table.read(text, Notation::Toml).unwrap_or_else(|error| panic!("{file}: {error}"));
        }
        assert!(table.len() >= 250, "{}", table.len());
        // Regulation (EU) 2023/1545: 24 older and 57 newer entries; its recitals 5 to 7 count 56.
        let entries: Vec<_> = table.iter().filter(|row| row.annex_iii_entry().is_some()).collect();
        assert_eq!(entries.len(), 81);
        assert_eq!(entries.iter().filter(|row| row.declared_since_2023()).count(), 57);
    }
}
