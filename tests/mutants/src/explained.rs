//! Why a change that no test notices may stay unnoticed, as `tests/mutants/explained` says it.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::Path;

use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Document {
    reasons: Vec<Reason>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Reason {
    why: String,
    changes: Vec<String>,
}

/// The reasons by the label of the change.
#[derive(Debug, Default)]
pub(crate) struct Explained(BTreeMap<String, String>);

impl Explained {
    /// Reads every document of `folder`.
    pub(crate) fn read(folder: &Path) -> io::Result<Self> {
        let mut explained = Explained::default();
        let mut paths = fs::read_dir(folder)?.map(|entry| entry.map(|entry| entry.path())).collect::<io::Result<Vec<_>>>()?;
        paths.sort();
        for path in paths {
            explained.add(&fs::read_to_string(&path)?).map_err(|sentence| io::Error::other(format!("{}: {sentence}", path.display())))?;
        }
        Ok(explained)
    }

    fn add(&mut self, text: &str) -> Result<(), String> {
        let document: Document = toml::from_str(text).map_err(|error| error.to_string())?;
        for reason in document.reasons {
            for change in reason.changes {
                if self.0.insert(change.clone(), reason.why.clone()).is_some() {
                    return Err(format!("{change:?} is explained twice"));
                }
            }
        }
        Ok(())
    }

    /// Whether `label` is explained.
    pub(crate) fn explains(&self, label: &str) -> bool {
        self.0.contains_key(label)
    }

    /// Those of `unnoticed` that nothing explains.
    pub(crate) fn lacking<'a>(&self, unnoticed: &BTreeSet<&'a str>) -> Vec<&'a str> {
        unnoticed.iter().filter(|label| !self.explains(label)).copied().collect()
    }

    /// Explanations of changes that were tried and noticed, or that no longer exist.
    pub(crate) fn needless(&self, unnoticed: &BTreeSet<&str>, in_question: impl Fn(&str) -> bool) -> Vec<&str> {
        self.0.keys().map(String::as_str).filter(|label| in_question(label) && !unnoticed.contains(label)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_explained_and_what_need_not_be_is_told() {
        let mut explained = Explained::default();
        explained.add("[[reasons]]\nwhy = \"only slower\"\nchanges = [\"a\", \"b\"]\n").expect("a document");
        let unnoticed = BTreeSet::from(["a", "c"]);
        assert_eq!(explained.lacking(&unnoticed), ["c"]);
        assert_eq!(explained.needless(&unnoticed, |_| true), ["b"]);
        assert!(explained.add("[[reasons]]\nwhy = \"again\"\nchanges = [\"a\"]\n").expect_err("twice").contains("twice"));
    }
}
