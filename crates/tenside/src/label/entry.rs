//! The scent constituents that a label in the European Union names one by one, each with what is summed under its name.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use super::rules::members;
use crate::document::{fold, unknown_name};
use crate::error::Error;
use crate::substance::{Cas, Class, Substance, SubstanceTable};

/// An entry of Annex III of Regulation (EC) No 1223/2009 that asks for its name on the label.
///
/// ```
/// use tenside::label::ScentEntry;
/// assert_eq!(ScentEntry::all().len(), 81);
/// let limonene = ScentEntry::find("D-Limonene")?;
/// assert_eq!((limonene.number(), limonene.name(), limonene.is_newer()), (88, "LIMONENE", false));
/// assert_eq!(ScentEntry::find("5989-27-5")?, limonene);
/// assert!(ScentEntry::find("vinegar").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Debug, PartialEq)]
pub struct ScentEntry {
    substance: Arc<Substance>,
    number: u32,
    members: &'static [String],
}

struct Table {
    entries: Vec<ScentEntry>,
    by_name: HashMap<String, usize>,
    /// For each first letter the lengths of names, a bit each: most names of ingredients are of none and need not be
    /// looked up.
    lengths: [u64; 128],
    by_cas: HashMap<Cas, Vec<usize>>,
}

static TABLE: LazyLock<Table> = LazyLock::new(|| {
    let mut entries: Vec<ScentEntry> = SubstanceTable::starter()
        .iter()
        .filter_map(|substance| {
            let number = substance.annex_iii_entry()?;
            let members =
                members().iter().find(|members| members.number == number).map_or(&[][..], |members| &members.names);
            Some(ScentEntry { substance: Arc::clone(substance), number, members })
        })
        .collect();
    entries.sort_by_key(|entry| entry.number);
    let mut table = Table { entries, by_name: HashMap::new(), lengths: [0; 128], by_cas: HashMap::new() };
    for (index, entry) in table.entries.iter().enumerate() {
        for name in [entry.substance.inci(), entry.substance.label_eu()]
            .into_iter()
            .chain(entry.members.iter().map(String::as_str))
        {
            let name = capitals(name);
            if let Some(lengths) = name.bytes().next().and_then(|first| table.lengths.get_mut(usize::from(first))) {
                *lengths |= length_bit(&name);
            }
            table.by_name.insert(name, index);
        }
        for cas in entry.substance.cas() {
            table.by_cas.entry(cas.clone()).or_default().push(index);
        }
    }
    table
});

/// Capitals, blanks for hyphens: most INCI names are so already.
fn capitals(name: &str) -> String {
    fold(name).to_uppercase()
}

impl Table {
    fn find_name(&self, name: &str) -> Option<usize> {
        let is_plain =
            name.bytes().all(|byte| byte.is_ascii() && !byte.is_ascii_lowercase() && !matches!(byte, b'-' | b'_'));
        if !is_plain {
            return self.by_name.get(&capitals(name)).copied();
        }
        let lengths = name.bytes().next().and_then(|first| self.lengths.get(usize::from(first)));
        lengths.filter(|lengths| *lengths & length_bit(name) != 0).and_then(|_| self.by_name.get(name)).copied()
    }
}

/// The bit of a name's length; long ones share the last.
fn length_bit(name: &str) -> u64 {
    1 << name.len().min(63)
}

impl ScentEntry {
    /// Every entry, by number.
    #[must_use]
    pub fn all() -> &'static [ScentEntry] {
        &TABLE.entries
    }

    /// The entry of that name, member's name or CAS number.
    ///
    /// # Errors
    /// A name or number of none, with the nearest known name, and a number that several entries have.
    pub fn find(name: &str) -> Result<&'static ScentEntry, Error> {
        let name = name.trim();
        let number: Option<Cas> = name.parse().ok();
        let by_cas = number
            .as_ref()
            .and_then(|number| TABLE.by_cas.get(number))
            .and_then(|indices| if let [index] = indices.as_slice() { Some(index) } else { None });
        by_cas.copied().or_else(|| TABLE.find_name(name)).map(|index| &TABLE.entries[index]).ok_or_else(|| {
            unknown_name("scent constituent", name, TABLE.by_name.keys().map(String::as_str))
                .allowed("the names and CAS numbers of the 81 entries")
                .into()
        })
    }

    /// The places, in [`ScentEntry::all`], of the entries that a substance counts under: by its name, else by its CAS
    /// numbers, else by the entry it is stated to belong to. More than one only where entries share a number.
    pub(super) fn places_of(substance: &Substance) -> Vec<usize> {
        if let Some(index) = TABLE.find_name(substance.inci()) {
            return vec![index];
        }
        let mut places: Vec<usize> =
            substance.cas().iter().filter_map(|cas| TABLE.by_cas.get(cas)).flatten().copied().collect();
        if let Some(number) = substance.annex_iii_entry() {
            places.extend(TABLE.entries.iter().position(|entry| entry.number == number));
        }
        places.sort_unstable();
        places.dedup();
        places
    }

    /// Its number in the annex.
    #[must_use]
    pub fn number(&self) -> u32 {
        self.number
    }

    /// Its name on the label.
    #[must_use]
    pub fn name(&self) -> &str {
        self.substance.label_eu()
    }

    /// Its CAS numbers.
    #[must_use]
    pub fn cas(&self) -> &[Cas] {
        self.substance.cas()
    }

    /// Other names summed under it, from memory.
    #[must_use]
    pub fn members(&self) -> &[String] {
        self.members
    }

    /// Whether it came with Regulation (EU) 2023/1545.
    #[must_use]
    pub fn is_newer(&self) -> bool {
        self.substance.declared_since_2023()
    }

    /// Whether it is an oil or extract, which other entries are part of.
    pub(super) fn holds_others(&self) -> bool {
        matches!(self.substance.class(), Class::EssentialOil | Class::Botanical)
    }

    /// Where it stands in [`ScentEntry::all`].
    pub(super) fn place(&self) -> usize {
        TABLE.entries.iter().position(|entry| entry.number == self.number).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn members_belong_to_entries_and_no_two_claim_a_name() {
        assert_eq!(TABLE.entries.iter().filter(|entry| !entry.members.is_empty()).count(), members().len());
        let mut seen = std::collections::HashSet::new();
        for entry in ScentEntry::all() {
            assert!(entry.members.iter().all(|name| seen.insert(fold(name))), "{}", entry.name());
            assert!(entry.members.iter().all(|name| fold(name) != fold(entry.name())), "{}", entry.name());
        }
    }

    #[test]
    fn isomers_are_found_by_name_and_by_number() {
        let unknown_name =
            Substance::new("SOME PINENE", Class::FragranceConstituent).unwrap().with_cas(&["80-56-8"]).unwrap();
        for substance in [Substance::new("beta-pinene", Class::Other).unwrap(), unknown_name] {
            let places = ScentEntry::places_of(&substance);
            assert_eq!(places.iter().map(|place| ScentEntry::all()[*place].name()).collect::<Vec<_>>(), ["PINENE"]);
        }
        assert!(ScentEntry::places_of(&Substance::new("4-TERPINEOL", Class::Other).unwrap()).is_empty());
    }
}
