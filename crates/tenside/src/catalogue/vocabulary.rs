//! The words of all names of a catalogue.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use indexmap::IndexMap;

use super::alias::AliasTable;
use super::kind::{Says, said, says, words};
use crate::material::Material;

/// Most words that a name cut short may lack.
const MOST_WORDS_MORE: usize = 2;

/// The names a raw material goes by: its id, its readable name, aliases of its own.
pub(super) fn names_of(material: &Material) -> impl Iterator<Item = &str> {
    [material.id(), material.name()].into_iter().chain(material.aliases().iter().map(String::as_str))
}

/// The words of all names, and the names that hold each.
#[derive(Clone, Debug, Default)]
pub(super) struct Vocabulary {
    pub(super) names: Vec<Known>,
    /// By word: places in `names`.
    pub(super) by_word: BTreeMap<String, Vec<usize>>,
}

#[derive(Clone, Debug)]
pub(super) struct Known {
    pub(super) text: String,
    pub(super) words: Vec<String>,
    /// Places of the materials that it means.
    pub(super) materials: Vec<usize>,
}

impl Vocabulary {
    pub(super) fn of(materials: &IndexMap<String, Arc<Material>>, aliases: &AliasTable) -> Self {
        let mut vocabulary = Vocabulary::default();
        for (place, material) in materials.values().enumerate() {
            for name in names_of(material) {
                vocabulary.add(name, vec![place]);
            }
        }
        for alias in aliases.iter() {
            let places = alias.candidates.iter().filter_map(|id| materials.get_index_of(id)).collect();
            vocabulary.add(&alias.name, places);
        }
        vocabulary
    }

    fn add(&mut self, name: &str, materials: Vec<usize>) {
        let words = words(name);
        for word in words.iter().collect::<HashSet<_>>() {
            self.by_word.entry(word.clone()).or_default().push(self.names.len());
        }
        self.names.push(Known { text: name.to_string(), words, materials });
    }

    /// Words that a misspelt one may have been, with how many letters they are apart. The first letter is as a rule
    /// right.
    pub(super) fn near(&self, word: &str) -> Vec<(&str, usize)> {
        let letters = word.chars().count();
        let most = match letters {
            0..=3 => return Vec::new(),
            4..=5 => 1,
            _ => 2,
        };
        let Some(first) = word.chars().next() else { return Vec::new() };
        let from = self.by_word.range(first.to_string()..).map(|(known, _)| known.as_str());
        from.take_while(|known| known.starts_with(first))
            .filter(|known| known.chars().count().abs_diff(letters) <= most && known.chars().any(char::is_alphabetic))
            .map(|known| (known, strsim::osa_distance(word, known)))
            .filter(|(_, apart)| *apart <= most)
            .collect()
    }

    /// Names that hold every one of these words that says no kind and no shape, and need fewest more. What such a name
    /// says it is, these words say too, or they say nothing about it.
    pub(super) fn holding(&self, wanted: &[String]) -> Vec<usize> {
        let telling: Vec<&String> = wanted.iter().filter(|word| says(word).is_none()).collect();
        let kinds = |words: &[String]| -> HashSet<Says> {
            said(words).into_iter().filter(|says| matches!(says, Says::Kind(_))).collect()
        };
        let said = kinds(wanted);
        let places = telling.first().and_then(|word| self.by_word.get(*word)).into_iter().flatten();
        let mut found: Vec<(usize, usize)> = Vec::new();
        for place in places.copied() {
            let words = &self.names[place].words;
            let more = words.iter().filter(|word| says(word).is_none() && !telling.contains(word)).count();
            let fits = said.is_empty() || (more == 0 && kinds(words).is_subset(&said));
            if fits && more <= MOST_WORDS_MORE && telling.iter().all(|word| words.contains(word)) {
                found.push((more, place));
            }
        }
        let fewest = found.iter().map(|(more, _)| *more).min();
        found.into_iter().filter(|(more, _)| Some(*more) == fewest).map(|(_, place)| place).collect()
    }

    /// Names that hold every one of these words, some misspelt, and nothing else that tells what the thing is.
    pub(super) fn spelt_nearly(&self, wanted: &[String]) -> Vec<(usize, usize)> {
        let mut found: Option<HashMap<usize, (usize, Vec<&str>)>> = None;
        for word in wanted.iter().filter(|word| !matches!(says(word), Some(Says::Indifferent))) {
            let readings = if self.by_word.contains_key(word) { vec![(word.as_str(), 0)] } else { self.near(word) };
            let mut next: HashMap<usize, (usize, Vec<&str>)> = HashMap::new();
            for (reading, apart) in readings {
                for place in self.by_word.get(reading).into_iter().flatten() {
                    let (sum, mut read) = match &found {
                        None => (0, Vec::new()),
                        Some(found) => match found.get(place) {
                            Some(so_far) => so_far.clone(),
                            None => continue,
                        },
                    };
                    read.push(reading);
                    let best = next.entry(*place).or_insert((usize::MAX, Vec::new()));
                    if sum + apart < best.0 {
                        *best = (sum + apart, read);
                    }
                }
            }
            found = Some(next);
        }
        let mut ranked: Vec<(usize, usize, usize)> = Vec::new();
        for (place, (apart, read)) in found.unwrap_or_default() {
            let rest: Vec<&String> =
                self.names[place].words.iter().filter(|word| !read.contains(&word.as_str())).collect();
            let telling = rest.iter().filter(|word| says(word) != Some(Says::Filler)).count();
            let another = rest.iter().any(|word| matches!(says(word), Some(Says::Kind(_) | Says::Shape(_))));
            if !another && telling <= 1 {
                ranked.push((apart, rest.len(), place));
            }
        }
        ranked.sort_unstable();
        ranked.into_iter().map(|(apart, _, place)| (apart, place)).collect()
    }
}
