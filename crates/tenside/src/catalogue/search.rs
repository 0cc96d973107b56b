//! Looking for raw materials by any of their names.

use std::cmp::Reverse;
use std::collections::HashMap;
use std::sync::Arc;

use super::Catalogue;
use super::vocabulary::names_of;
use crate::document::{check_name, fold_spelling, named_enum};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Constituent, Material};
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
    /// Of a name that could mean several materials, the place of this one among them: the likeliest first.
    place: usize,
}

impl Catalogue {
    /// The materials that go by a name, the surest first: their ids, readable names and aliases, and the INCI names,
    /// label names and CAS numbers of their ingredients and what these contain, upper and lower case, hyphens and
    /// British and American spellings alike. Ingredients of which there is more come first. Only if nothing is called
    /// so, what is spelt alike follows, marked as a guess.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, MatchKind};
    /// let catalogue = Catalogue::starter();
    /// let hits = catalogue.search("betaine")?;
    /// assert!(hits.iter().any(|hit| hit.material.id() == "capb-30"));
    /// assert_eq!(catalogue.search("fragrance")?[0].material.id(), "fragrance-oil");
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
        let found = self.met(|handle| match wanted.met(handle.name)? {
            MatchKind::Name if handle.kind == NameKind::Id => Some((MatchKind::Id, 0)),
            // A name on a label can stand for many things, such as every scent: what is itself called so comes first.
            MatchKind::Name if handle.kind == NameKind::LabelName => Some((MatchKind::Beginning, 0)),
            met => Some((met, 0)),
        });
        let mut found = if found.is_empty() { self.guessed(&wanted) } else { found };
        found.sort_by(|(left_key, left), (right_key, right)| {
            (left.match_kind, left_key).cmp(&(right.match_kind, right_key))
        });
        Ok(found.into_iter().map(|(_, hit)| hit).collect())
    }

    /// Each material with the best of its names that are met, and what hits of one kind are sorted by.
    fn met(&self, met: impl Fn(&Handle<'_>) -> Option<(MatchKind, u32)>) -> Vec<(Key, Hit)> {
        let mut found = Vec::new();
        let others = self.names_in_aliases();
        for (place, material) in self.materials().enumerate() {
            let leaves = material.leaves();
            let aliases = others.get(material.id()).into_iter().flatten().map(|(name, place)| Handle {
                kind: NameKind::Alias,
                name,
                share: Exact::ONE,
                place: *place,
            });
            let handles = handles(material, &leaves).into_iter().chain(aliases);
            let met = handles.filter_map(|handle| Some((met(&handle)?, handle)));
            let best = met.min_by(|(left, l), (right, r)| {
                (left, l.kind, Reverse(&l.share), l.place).cmp(&(right, r.kind, Reverse(&r.share), r.place))
            });
            if let Some(((match_kind, unlike), handle)) = best {
                let hit = Hit {
                    material: Arc::clone(material),
                    match_kind,
                    name_kind: handle.kind,
                    name: handle.name.to_string(),
                };
                found.push(((unlike, handle.kind, Reverse(handle.share), [handle.place, place]), hit));
            }
        }
        found
    }

    /// The names that could mean several materials, by the ids of these, which stand at some place among them.
    fn names_in_aliases(&self) -> HashMap<&str, Vec<(&str, usize)>> {
        let mut names: HashMap<&str, Vec<(&str, usize)>> = HashMap::new();
        for alias in self.aliases().iter() {
            for (place, id) in alias.candidates.iter().enumerate() {
                names.entry(id).or_default().push((&alias.name, place));
            }
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
        // Of names with a word as much alike, the name comes first that is more alike as a whole.
        let unlike = |name: &str| ((1.0 - strsim::jaro_winkler(&wanted.folded, &fold_spelling(name))) * 1000.0) as u32;
        let near = |handle: &Handle<'_>| handle.kind != NameKind::Cas && wanted.likeness(handle.name) >= least;
        self.met(|handle| near(handle).then(|| (MatchKind::Guess, unlike(handle.name))))
    }
}

/// How unlike the name is, which kind of name it is, how much of the material it names, and where the material stands
/// among those that the name could mean and in the catalogue.
type Key = (u32, NameKind, Reverse<Exact>, [usize; 2]);

fn handles<'c>(material: &'c Material, leaves: &[(&'c Material, Exact)]) -> Vec<Handle<'c>> {
    let own = names_of(material).enumerate().map(|(place, name)| Handle {
        kind: [NameKind::Id, NameKind::Name].get(place).copied().unwrap_or(NameKind::Alias),
        name,
        share: Exact::ONE,
        place: 0,
    });
    let mut handles: Vec<Handle<'c>> = own.collect();
    for (leaf, share) in leaves {
        let rows = leaf.composition().constituents();
        let typical = |row: &Constituent| row.share().or(row.high()).unwrap_or(Ppm::ZERO).share() * share;
        let contained = leaf.contained().iter().map(|part| {
            let of = rows.iter().find(|row| row.substance().inci() == part.of()).map_or(Exact::ZERO, typical);
            (part.substance(), part.share().or(part.high()).unwrap_or(Ppm::ZERO).share() * of)
        });
        for (substance, share) in rows
            .iter()
            .map(|row| (row.substance(), typical(row)))
            .chain(contained)
            .filter(|(it, _)| !it.is_unspecified())
        {
            let labels =
                [substance.label_eu(), substance.label_us()].into_iter().filter(|label| *label != substance.inci());
            let cas = substance.cas().iter().map(|cas| (NameKind::Cas, cas.as_str()));
            let names = [(NameKind::Inci, substance.inci())]
                .into_iter()
                .chain(labels.map(|label| (NameKind::LabelName, label)))
                .chain(cas);
            handles.extend(names.map(|(kind, name)| Handle { kind, name, share: share.clone(), place: 0 }));
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
            return Err(fault
                .allowed("a name, a part of one, or a CAS number")
                .remedy("to see all raw materials, go through the catalogue")
                .into());
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
        let of_word =
            |wanted: &str| words_of(&folded).map(|word| strsim::jaro_winkler(wanted, word)).fold(0.0, f64::max);
        self.words().map(of_word).fold(1.0, f64::min).max(strsim::jaro_winkler(&self.folded, &folded))
    }
}

/// The words of a folded name, without what they stand in.
fn words_of(folded: &str) -> impl Iterator<Item = &str> {
    folded.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty())
}
