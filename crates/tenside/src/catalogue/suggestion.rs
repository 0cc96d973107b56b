//! What a name could mean that the catalogue does not have: raw materials that its abbreviations name, whose names hold
//! it, or that are spelt nearly so. A suggestion is never another kind of thing, and a word that the catalogue knows is
//! no misspelling of another.

use std::collections::HashSet;
use std::sync::Arc;

use super::Catalogue;
use super::kind::{Says, is_about_the_work, is_all, is_one_of_several, plain_words, said, says, words};
use super::vocabulary::{Vocabulary, names_of};
use crate::document::shown;
use crate::error::{Fault, FaultKind};
use crate::material::Material;
use crate::substance::Class;

/// Most suggestions for one name.
const MOST_SUGGESTIONS: usize = 6;
/// Most words of a name that is compared with others: longer ones are sentences.
const MOST_WORDS: usize = 12;
/// The longest name that is looked into, in bytes.
const LONGEST_NAME: usize = 1000;
/// Words that one alias may have.
const MOST_ALIAS_WORDS: usize = 4;

/// A raw material that a name could mean.
#[derive(Clone, Debug)]
pub(crate) struct Suggestion<'c> {
    pub(crate) material: &'c Arc<Material>,
    pub(crate) why: Why,
}

/// Why it is suggested.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Why {
    /// A piece of the name is one of its names.
    Holds(String),
    /// One of its names is spelt nearly so.
    Spelt(String),
    /// It is what stands outside of brackets, if what they hold is a remark.
    Beside(String),
    /// It is what stands outside of quotation marks, if these hold a name of the supplier's.
    Called(String),
    /// The name is a part of this name of it.
    Part(String),
}

/// Raw materials that a sentence names.
#[derive(Clone, Debug)]
pub(crate) struct NamedIn<'c> {
    /// The words by which it names them.
    pub(crate) words: String,
    pub(crate) materials: Vec<&'c Arc<Material>>,
}

impl NamedIn<'_> {
    /// Is it one of these raw materials?
    pub(crate) fn is_any_of(&self, known: &[&Arc<Material>]) -> bool {
        self.materials.iter().any(|material| known.iter().any(|known| known.id() == material.id()))
    }

    /// Does a name hold these words?
    pub(crate) fn is_part_of(&self, name: &str) -> bool {
        format!(" {} ", plain_words(name).join(" ")).contains(&format!(" {} ", self.words))
    }
}

impl Catalogue {
    /// What a sentence names, by the longest names, water left aside: of that every method speaks.
    pub(crate) fn named_in(&self, sentence: &str) -> Vec<NamedIn<'_>> {
        if sentence.len() > LONGEST_NAME {
            return Vec::new();
        }
        let words = plain_words(sentence);
        let (mut found, mut start) = (Vec::new(), 0);
        while start < words.len() {
            let longest = (1..=MOST_ALIAS_WORDS.min(words.len() - start)).rev().find_map(|count| {
                let piece = &words[start..start + count];
                let named = piece.iter().any(|word| says(word).is_none());
                let materials = self.candidates(&piece.join(" "));
                (named && !materials.is_empty()).then(|| (count, piece.join(" "), materials))
            });
            let Some((count, words, materials)) = longest else {
                start += 1;
                continue;
            };
            start += count;
            if materials.iter().all(|material| material.main_class() != Class::Water) {
                found.push(NamedIn { words, materials });
            }
        }
        found
    }

    /// The fault for a raw material that the catalogue does not have, with what the name could mean.
    pub(crate) fn unknown(&self, name: &str) -> Fault {
        let fault = Fault::new(FaultKind::UnknownName, "unknown raw material").value(shown(name));
        match self.suggestions(name).first() {
            Some(suggestion) => fault.remedy(format!("did you mean {:?}?", suggestion.material.id())),
            None => fault,
        }
    }

    /// What a name could mean that nobody has: first what a piece of it names, then what has it in its name, then what
    /// is spelt nearly so.
    pub(crate) fn suggestions(&self, name: &str) -> Vec<Suggestion<'_>> {
        if name.len() > LONGEST_NAME {
            return Vec::new();
        }
        let mut found = self.beside_a_remark(name);
        found.extend(self.called_by_a_supplier(name));
        let wanted = plain_words(name);
        // "Essential oil" names no thing.
        if wanted.len() > MOST_WORDS || wanted.iter().all(|word| says(word).is_some()) {
            return found;
        }
        let contents = &*self.contents;
        let mut add = |material, why| {
            if !found.iter().any(|known| Arc::ptr_eq(known.material, material)) {
                found.push(Suggestion { material, why });
            }
        };
        let all = said(&wanted);
        for count in (1..=wanted.len().min(MOST_ALIAS_WORDS)).rev() {
            for (start, piece) in wanted.windows(count).enumerate() {
                // A word that says what a thing is names none.
                if count == wanted.len() || piece.iter().all(|word| says(word).is_some()) {
                    continue;
                }
                let piece_name = piece.join(" ");
                let rest: Vec<String> = [&wanted[..start], &wanted[start + count..]].concat();
                for material in self.candidates(&piece_name) {
                    if self.agrees(material, &all, &rest) {
                        add(material, Why::Holds(piece_name.clone()));
                    }
                }
            }
        }
        let vocabulary = contents.vocabulary.get_or(|| Vocabulary::of(&contents.materials, &contents.aliases));
        for place in vocabulary.holding(&wanted) {
            let known = &vocabulary.names[place];
            let materials = known.materials.iter().filter_map(|place| contents.materials.get_index(*place));
            for (_, material) in materials.filter(|(_, material)| is_all(material, names_of(material), &all)) {
                add(material, Why::Part(known.text.clone()));
            }
        }
        for (_, place) in vocabulary.spelt_nearly(&wanted) {
            let known = &vocabulary.names[place];
            for (_, material) in known.materials.iter().filter_map(|place| contents.materials.get_index(*place)) {
                add(material, Why::Spelt(known.text.clone()));
            }
        }
        found.truncate(MOST_SUGGESTIONS);
        found
    }

    /// What a name without its brackets means, where they may hold a remark: whoever wrote it knows.
    fn beside_a_remark(&self, name: &str) -> Vec<Suggestion<'_>> {
        let Some((outer, inner)) = brackets(name) else { return Vec::new() };
        let remark = plain_words(&inner);
        let may_be =
            |material: &Material| is_about_the_work(&remark) || is_all(material, names_of(material), &said(&remark));
        let named = self.meant_plainly(&outer).into_iter().filter(|material| may_be(material));
        named.map(|material| Suggestion { material, why: Why::Beside(inner.clone()) }).take(MOST_SUGGESTIONS).collect()
    }

    /// What a name without its quotation marks means: `fragrance "lemon dream"` is a fragrance, and no lemon.
    fn called_by_a_supplier(&self, name: &str) -> Vec<Suggestion<'_>> {
        let Some((outer, inner)) = quoted(name) else { return Vec::new() };
        let kind = said(&plain_words(&outer));
        let named = self.meant_plainly(&outer).into_iter();
        let of_kind = named.filter(|material| is_all(material, names_of(material), &kind));
        of_kind
            .map(|material| Suggestion { material, why: Why::Called(inner.clone()) })
            .take(MOST_SUGGESTIONS)
            .collect()
    }

    /// Is a raw material that a piece of a name names what the whole name says, and nothing else?
    fn agrees(&self, material: &Material, all: &HashSet<Says>, rest: &[String]) -> bool {
        let says_no_more =
            |name: &str| said(&words(name)).iter().all(|says| all.contains(says) || matches!(says, Says::Shape(_)));
        let own: HashSet<String> = names_of(material).flat_map(words).collect();
        let vocabulary =
            self.contents.vocabulary.get_or(|| Vocabulary::of(&self.contents.materials, &self.contents.aliases));
        // "Lauroyl" beside "isethionate" tells it from the cocoyl one.
        let of_another =
            |word: &String| says(word).is_none() && vocabulary.by_word.contains_key(word) && !own.contains(word);
        is_all(material, names_of(material), &said(rest))
            && names_of(material).any(says_no_more)
            && !rest.iter().any(of_another)
    }

    /// The raw materials that a name means, read as people write names: with a second name or a remark in brackets,
    /// with words that say nothing, with a shape that the raw material has anyway. Empty where no reading is sure.
    pub(crate) fn meant(&self, name: &str) -> Vec<&Arc<Material>> {
        let exact = self.candidates(name);
        if !exact.is_empty() || name.len() > LONGEST_NAME {
            return exact;
        }
        let Some((outer, inner)) = brackets(name).or_else(|| behind_comma(name)) else {
            return self.meant_plainly(name);
        };
        for whole in [format!("{outer} {inner}"), format!("{inner} {outer}")] {
            let whole = self.candidates(&whole);
            if !whole.is_empty() {
                return whole;
            }
        }
        let (outside, inside) = (self.meant_plainly(&outer), self.meant_plainly(&inner));
        if outside.is_empty() {
            return Vec::new();
        }
        if inside.is_empty() {
            let remark = plain_words(&inner);
            let several = outside.len() > 1;
            return outside.into_iter().filter(|material| self.bears(material, &remark, several)).collect();
        }
        let both: Vec<&Arc<Material>> = outside
            .iter()
            .copied()
            .filter(|material| inside.iter().any(|other| Arc::ptr_eq(material, other)))
            .collect();
        if !both.is_empty() {
            return both;
        }
        outside.into_iter().chain(inside).collect()
    }

    /// Can a remark stand beside a raw material without making another thing of it? What it says of the thing has to be
    /// so; a figure, or a word that tells the catalogue's raw materials apart, has to be one of its own.
    fn bears(&self, material: &Material, remark: &[String], several: bool) -> bool {
        let own: HashSet<String> = names_of(material).flat_map(words).collect();
        let vocabulary =
            self.contents.vocabulary.get_or(|| Vocabulary::of(&self.contents.materials, &self.contents.aliases));
        let fits = |word: &String| {
            let figure = word.chars().any(|c| c.is_ascii_digit());
            let telling = figure
                || (says(word).is_none() && vocabulary.by_word.contains_key(word))
                || (several && is_one_of_several(word));
            !telling || own.contains(word)
        };
        is_all(material, names_of(material), &said(remark)) && remark.iter().all(fits)
    }

    fn meant_plainly(&self, name: &str) -> Vec<&Arc<Material>> {
        let exact = self.candidates(name);
        if !exact.is_empty() {
            return exact;
        }
        let plain = plain_words(name);
        if plain.is_empty() || plain.len() > MOST_WORDS {
            return Vec::new();
        }
        let by_words = |words: &[String]| self.candidates(&words.join(" "));
        let same = by_words(&plain);
        if !same.is_empty() {
            return same;
        }
        let without = |left_off: fn(&Says) -> bool| -> Vec<String> {
            plain.iter().filter(|word| !says(word).as_ref().is_some_and(left_off)).cloned().collect()
        };
        let sure: Vec<String> = without(|says| *says == Says::Indifferent);
        if sure.len() < plain.len() && !sure.is_empty() {
            let meant = by_words(&sure);
            if !meant.is_empty() {
                return meant;
            }
        }
        // What is left off besides has to be so of the raw material.
        let bare: Vec<String> = without(|says| matches!(says, Says::Indifferent | Says::Shape(_)));
        let clay: Vec<String> = without(|says| matches!(says, Says::Indifferent | Says::Shape(_) | Says::Kind(_)));
        for shorter in [bare, clay] {
            if shorter.is_empty() || shorter.len() == plain.len() {
                continue;
            }
            let named = by_words(&shorter);
            let several = named.len() > 1;
            let left_off: Vec<String> = plain.iter().filter(|word| !shorter.contains(word)).cloned().collect();
            let meant: Vec<&Arc<Material>> =
                named.into_iter().filter(|material| self.bears(material, &left_off, several)).collect();
            if !meant.is_empty() {
                return meant;
            }
        }
        Vec::new()
    }
}

/// What stands outside of and within the only pair of brackets of a name.
fn brackets(name: &str) -> Option<(String, String)> {
    let (before, rest) = name.split_once(['(', '['])?;
    let (inner, after) = rest.split_once([')', ']'])?;
    if [inner, after].iter().any(|text| text.contains(['(', '[', ')', ']'])) {
        return None;
    }
    let outer = [before.trim(), after.trim()].join(" ").trim().to_string();
    (!outer.is_empty() && !inner.trim().is_empty()).then(|| (outer, inner.trim().to_string()))
}

/// The same for the only pair of quotation marks.
fn quoted(name: &str) -> Option<(String, String)> {
    let marks = ['"', '\u{201C}', '\u{201D}', '\u{201E}', '\u{AB}', '\u{BB}'];
    let mut pieces = name.split(marks);
    let (before, inner, after) = (pieces.next()?, pieces.next()?.trim(), pieces.next()?);
    let outer = [before.trim(), after.trim()].join(" ").trim().to_string();
    (pieces.next().is_none() && !outer.is_empty() && !inner.is_empty()).then(|| (outer, inner.to_string()))
}

/// The same for a name with a remark behind its only comma.
fn behind_comma(name: &str) -> Option<(String, String)> {
    let (outer, inner) = name.split_once(',')?;
    let (outer, inner) = (outer.trim(), inner.trim());
    (!outer.is_empty() && !inner.is_empty() && !inner.contains([',', '(', '[']))
        .then(|| (outer.to_string(), inner.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::unknown_material;

    fn suggested(name: &str) -> Vec<String> {
        Catalogue::embedded().suggestions(name).iter().map(|suggestion| suggestion.material.id().to_string()).collect()
    }

    fn meant(name: &str) -> Vec<String> {
        Catalogue::embedded().meant(name).iter().map(|material| material.id().to_string()).collect()
    }

    #[test]
    fn a_suggestion_is_never_another_kind_of_thing() {
        for name in [
            "violet hydrosol",
            "lemon juice",
            "hibiscus oil",
            "cationic starch solution",
            "cationic conditioning emulsifier",
            "moon dust",
            "kaolin oil",
            "rosemary butter",
            "lavender juice",
            "cetyl acid",
            "citric water",
            "coconut juice",
            "almond milk",
            "monoi oil",
            "sodium lauroyl isethionate noodles",
            "essential oil",
            "oil",
        ] {
            assert_eq!(suggested(name), Vec::<String>::new(), "{name}");
        }
        assert_eq!(suggested("SCS noodles"), ["scs-needles"]);
    }

    #[test]
    fn among_names_alone_none_of_another_kind_is_offered() {
        let offered = |name: &str| {
            let known = ["rosemary-oil", "kaolin", "sci-powder", "shea-butter", "rose-hydrosol"];
            unknown_material("raw material", name, known.into_iter()).remedy
        };
        for (name, near) in [("kaoline", "kaolin"), ("sci-powdr", "sci-powder"), ("rosemery-oil", "rosemary-oil")] {
            assert_eq!(offered(name), Some(format!("did you mean {near:?}?")), "{name}");
        }
        for name in ["rosemary-water", "shea-oil", "rose-oil", "sci-noodles"] {
            assert_eq!(offered(name), None, "{name}");
        }
    }

    #[test]
    fn misspelt_names_are_guessed() {
        for (name, first) in [
            ("kaolinn", "kaolin"),
            ("lavendar oil", "lavender-oil"),
            ("cetil alcohol", "cetyl-alcohol"),
            ("SLMI powdr", "slmi-powder"),
            ("glicerine", "glycerin-99-5"),
            ("xantan gum", "xanthan-gum"),
            ("behenyl alchohol", "behenyl-alcohol"),
            ("rosmary hydrosol", "rosemary-hydrosol"),
        ] {
            assert_eq!(suggested(name).first().map(String::as_str), Some(first), "{name}: {:?}", suggested(name));
        }
    }

    #[test]
    fn a_name_cut_short_is_completed_and_no_more() {
        for (name, ids) in [
            ("xanthan", vec!["xanthan-gum"]),
            ("organic xanthan", vec!["xanthan-gum"]),
            ("xanthan powder", vec!["xanthan-gum"]),
            ("xanthan oil", vec![]),
            ("xanthan solution", vec![]),
            ("known", vec![]),
        ] {
            assert_eq!(suggested(name), ids, "{name}");
        }
    }

    #[test]
    fn a_name_in_quotation_marks_makes_no_other_thing() {
        for (name, ids) in [
            ("fragrance \"lemon dream\"", vec!["fragrance-oil"]),
            ("parfum \u{201E}Ocean water\u{201C}", vec!["fragrance-oil"]),
            ("\u{AB}lemon dream\u{BB} fragrance oil", vec!["fragrance-oil"]),
            ("\"lemon dream\"", vec![]),
            ("fragrance \"lemon", vec![]),
        ] {
            assert_eq!(suggested(name), ids, "{name}");
        }
    }

    #[test]
    fn names_are_read_as_people_write_them() {
        for (name, ids) in [
            ("Sodium Cocoyl Isethionate (SCI)", vec!["sci-powder", "sci-granules", "sci-flakes", "sci-noodles"]),
            ("SCI (powder)", vec!["sci-powder"]),
            ("Kaolin (white clay)", vec!["kaolin"]),
            ("kaolin clay", vec!["kaolin"]),
            ("organic shea butter", vec!["shea-butter"]),
            ("tapioca starch (sifted)", vec!["tapioca-starch"]),
            ("lavender EO", vec!["lavender-oil"]),
            ("Citric acid (monohydrate)", vec!["citric-acid-monohydrate"]),
            ("deionised water", vec!["water"]),
            ("kaolin powder", vec!["kaolin"]),
            ("kaolin solution", vec![]),
            ("kaolin oil", vec![]),
            ("water (rose hydrosol)", vec!["water", "rose-hydrosol"]),
            ("my secret foam (SCI)", vec![]),
            ("Water, distilled", vec!["water"]),
            ("castor oil (hydrogenated)", vec!["hydrogenated-castor-oil"]),
            ("kaolin (pink)", vec![]),
            ("kaolin, sifted", vec!["kaolin"]),
            ("SCS noodles", vec![]),
            ("SCS (noodles)", vec![]),
            ("SCI (noodles)", vec!["sci-noodles"]),
            ("CAPB liquid", vec!["capb-30"]),
            ("cetyl alcohol pellets", vec!["cetyl-alcohol"]),
            ("phytic acid (10 %)", vec![]),
            ("glycerin (86 %)", vec!["glycerin-86"]),
            ("essential oil", vec![]),
        ] {
            assert_eq!(meant(name), ids, "{name}");
        }
    }
}
