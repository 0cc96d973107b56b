//! Looking for raw materials by any of their names.

use std::cmp::Reverse;
use std::sync::Arc;

use super::{Catalogue, names_of};
use crate::document::{check_name, fold_spelling, named_enum};
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::{Exact, Ppm};

/// Fewer letters than this are looked for at the beginning of words only.
const FEWEST_INSIDE: usize = 3;
/// How alike two spellings must be (Jaro-Winkler, 0 to 1) for one to be a guess at the other.
const ALIKE: f64 = 0.86;
/// A guess that is this much less alike than the best one is none.
const FAR_FROM_BEST: f64 = 0.05;

named_enum! {
    /// How what was searched for stands in a name, from the surest on.
    MatchKind "kind of match" {
        /// It is the id.
        Id = "id",
        /// It is another name: the readable one, an alias, an INCI name, a name on a label, a CAS number.
        Name = "name",
        /// The name begins with it.
        Beginning = "beginning",
        /// Each word of it begins a word of the name.
        Word = "word",
        /// It stands somewhere in the name.
        Inside = "inside",
        /// Nothing is called so; the name is spelt alike.
        Guess = "guess",
    }
}

named_enum! {
    /// What kind of name a raw material was found by.
    NameKind "kind of name" {
        /// Its id.
        Id = "id",
        /// Its readable name.
        Name = "name",
        /// Another name of it.
        Alias = "alias",
        /// The INCI name of an ingredient.
        Inci = "inci",
        /// The name of an ingredient on a label.
        LabelName = "label-name",
        /// The CAS number of an ingredient.
        Cas = "cas",
    }
}

/// A raw material that a search found.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Hit {
    /// What was found.
    pub material: Arc<Material>,
    /// How the name was met.
    pub match_kind: MatchKind,
    /// Which kind of name it is.
    pub name_kind: NameKind,
    /// The name.
    pub name: String,
}

/// A name by which a material can be found.
struct Handle<'c> {
    kind: NameKind,
    name: &'c str,
    /// The typical, else the highest share of the ingredient it is the name of; of the material's own names all of it.
    share: Exact,
}

impl Catalogue {
    /// The materials that go by a name, the surest first: their ids, readable names and aliases, and the INCI names, label names and CAS
    /// numbers of their ingredients, upper and lower case, hyphens and British and American spellings alike. Ingredients of which there is
    /// more come first. Only if nothing is called so, what is spelt alike follows, marked as a guess.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, MatchKind};
    /// let catalogue = Catalogue::starter();
    /// let hits = catalogue.search("betaine")?;
    /// assert!(hits.iter().any(|hit| hit.material.id() == "capb-30"));
    /// assert_eq!(catalogue.search("56-81-5")?[0].name, "56-81-5");
    /// assert_eq!(catalogue.search("kaolinn")?[0].match_kind, MatchKind::Guess);
    /// assert!(catalogue.search(" ").unwrap_err().is_out_of_range());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A text without a letter or digit, and one that is longer than a name.
    pub fn search(&self, text: &str) -> Result<Vec<Hit>, Error> {
        let wanted = Wanted::new(text)?;
        let found = self.met(|handle| match wanted.met(handle.name) {
            Some(MatchKind::Name) if handle.kind == NameKind::Id => Some(MatchKind::Id),
            met => met,
        });
        let mut found = if found.is_empty() { self.guessed(&wanted) } else { found };
        found.sort_by(|(left_key, left), (right_key, right)| (left.match_kind, left_key).cmp(&(right.match_kind, right_key)));
        Ok(found.into_iter().map(|(_, hit)| hit).collect())
    }

    /// Each material with the best of its names that are met, and what hits of one kind are sorted by.
    fn met(&self, met: impl Fn(&Handle<'_>) -> Option<MatchKind>) -> Vec<(Key, Hit)> {
        let mut found = Vec::new();
        let others = self.names_in_aliases();
        for (place, material) in self.materials().enumerate() {
            let leaves = material.leaves();
            let aliases = others.get(material.id()).into_iter().flatten().map(|name| Handle { kind: NameKind::Alias, name, share: Exact::ONE });
            let handles = handles(material, &leaves).into_iter().chain(aliases);
            let best = handles.filter_map(|handle| Some((met(&handle)?, handle))).min_by_key(|(kind, handle)| (*kind, handle.kind, Reverse(handle.share.clone())));
            if let Some((match_kind, handle)) = best {
                let hit = Hit { material: Arc::clone(material), match_kind, name_kind: handle.kind, name: handle.name.to_string() };
                found.push(((handle.kind, Reverse(handle.share), place), hit));
            }
        }
        found
    }

    /// The names that could mean several materials, by the ids of these.
    fn names_in_aliases(&self) -> std::collections::HashMap<&str, Vec<&str>> {
        let mut names: std::collections::HashMap<&str, Vec<&str>> = std::collections::HashMap::new();
        for alias in self.aliases().iter() {
            alias.candidates.iter().for_each(|id| names.entry(id).or_default().push(&alias.name));
        }
        names
    }

    fn guessed(&self, wanted: &Wanted) -> Vec<(Key, Hit)> {
        let mut best = ALIKE;
        for material in self.materials() {
            for handle in handles(material, &material.leaves()) {
                best = best.max(wanted.likeness(handle.name));
            }
        }
        let least = ALIKE.max(best - FAR_FROM_BEST);
        self.met(|handle| (handle.kind != NameKind::Cas && wanted.likeness(handle.name) >= least).then_some(MatchKind::Guess))
    }
}

/// By which kind of name, how much of the material it is, and where the material stands.
type Key = (NameKind, Reverse<Exact>, usize);

fn handles<'c>(material: &'c Material, leaves: &[(&'c Material, Exact)]) -> Vec<Handle<'c>> {
    let own = names_of(material).enumerate().map(|(place, name)| Handle {
        kind: [NameKind::Id, NameKind::Name].get(place).copied().unwrap_or(NameKind::Alias),
        name,
        share: Exact::ONE,
    });
    let mut handles: Vec<Handle<'c>> = own.collect();
    for (leaf, share) in leaves {
        for row in leaf.composition().constituents().iter().filter(|row| !row.substance().is_unspecified()) {
            let share = row.share().or(row.high()).unwrap_or(Ppm::ZERO).share() * share;
            let substance = row.substance();
            let labels = [substance.label_eu(), substance.label_us()].into_iter().filter(|label| *label != substance.inci());
            let cas = substance.cas().iter().map(|cas| (NameKind::Cas, cas.as_str()));
            let names = [(NameKind::Inci, substance.inci())].into_iter().chain(labels.map(|label| (NameKind::LabelName, label))).chain(cas);
            handles.extend(names.map(|(kind, name)| Handle { kind, name, share: share.clone() }));
        }
    }
    handles
}

/// What is searched for.
struct Wanted {
    folded: String,
}

impl Wanted {
    fn new(text: &str) -> Result<Self, Error> {
        if !text.chars().any(char::is_alphanumeric) {
            let fault = Fault::new(FaultKind::OutOfRange, "nothing to search for").value(crate::document::shown(text));
            return Err(fault.allowed("a name, a part of one, or a CAS number").remedy("to see all raw materials, go through the catalogue").into());
        }
        Ok(Wanted { folded: fold_spelling(&check_name(text)?) })
    }

    fn words(&self) -> impl Iterator<Item = &str> {
        words_of(&self.folded)
    }

    fn met(&self, name: &str) -> Option<MatchKind> {
        let folded = fold_spelling(name);
        let begins = |wanted: &str| words_of(&folded).any(|word| word.starts_with(wanted));
        if folded == self.folded {
            Some(MatchKind::Name)
        } else if folded.starts_with(&self.folded) {
            Some(MatchKind::Beginning)
        } else if self.words().all(begins) {
            Some(MatchKind::Word)
        } else {
            (self.folded.chars().count() >= FEWEST_INSIDE && folded.contains(&self.folded)).then_some(MatchKind::Inside)
        }
    }

    /// How alike name or words are spelt, 0 to 1.
    fn likeness(&self, name: &str) -> f64 {
        let folded = fold_spelling(name);
        let of_word = |wanted: &str| words_of(&folded).map(|word| strsim::jaro_winkler(wanted, word)).fold(0.0, f64::max);
        self.words().map(of_word).fold(1.0, f64::min).max(strsim::jaro_winkler(&self.folded, &folded))
    }
}

/// The words of a folded name, without what they stand in.
fn words_of(folded: &str) -> impl Iterator<Item = &str> {
    folded.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty())
}
