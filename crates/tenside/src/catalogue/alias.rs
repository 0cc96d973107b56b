//! Names that mean one material, or several: the trade's abbreviations.

use indexmap::IndexMap;

use crate::document::fold_spelling;

/// A name and the ids of the materials it could mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Alias {
    /// As people write it.
    pub name: String,
    /// Ids; more than one makes the name ambiguous.
    pub candidates: Vec<String>,
    /// What the confusion is about.
    pub note: Option<String>,
}

/// Aliases by name, upper and lower case and British and American spellings alike.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AliasTable {
    rows: IndexMap<String, Alias>,
}

impl AliasTable {
    /// The aliases, in the order added.
    pub fn iter(&self) -> impl Iterator<Item = &Alias> {
        self.rows.values()
    }

    /// The ids a name could mean; none for a name that is no alias.
    #[must_use]
    pub fn candidates(&self, name: &str) -> &[String] {
        self.rows.get(&fold_spelling(name)).map_or(&[], |alias| &alias.candidates)
    }

    /// Adds an alias; the candidates of one that is there already are joined, since a name is no less ambiguous for
    /// being listed twice.
    pub fn insert(&mut self, alias: Alias) {
        match self.rows.get_mut(&fold_spelling(&alias.name)) {
            None => {
                self.rows.insert(fold_spelling(&alias.name), alias);
            }
            Some(known) => {
                for id in alias.candidates {
                    if !known.candidates.contains(&id) {
                        known.candidates.push(id);
                    }
                }
            }
        }
    }

    /// Adds every alias of another table.
    pub fn extend(&mut self, other: &AliasTable) {
        for alias in other.iter() {
            self.insert(alias.clone());
        }
    }
}
