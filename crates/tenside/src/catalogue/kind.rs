//! What a name says of the thing itself: water, oil, powder. Read from `data/recipe/kinds.toml`.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::collections::{HashMap, HashSet};
use std::sync::LazyLock;

use crate::document::{Notation, Reader, TableView, fold_spelling, unknown_name};
use crate::error::Fault;
use crate::material::{Form, Material};

/// Letters by which a misspelt name may differ from the one that was meant.
const MOST_LETTERS_APART: usize = 2;

/// What one word of a name says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Says {
    /// What the thing is, by the number of the kind.
    Kind(usize),
    /// In what shape it comes, by the number of the shape.
    Shape(usize),
    /// Nothing that tells one thing from another, though a catalogue's name may hold it.
    Filler,
    /// Nothing: it may be left off.
    Indifferent,
}

#[derive(Debug)]
struct Kinds {
    says: HashMap<String, Says>,
    /// The forms in which each shape is.
    forms: Vec<Vec<Form>>,
    /// Words for the same, folded, the longest first.
    same: Vec<(String, String)>,
    /// Words of a remark about the work.
    remark: HashSet<String>,
}

static KINDS: LazyLock<Kinds> = LazyLock::new(|| {
    // The embedded file is read by a test; a fault there is a fault of the build.
    Reader::read(include_str!("../../data/recipe/kinds.toml"), Notation::Toml, |view| Some(read(view)))
        .unwrap_or_else(|error| panic!("kinds.toml: {error}"))
});

fn read(view: &TableView<'_>) -> Kinds {
    let mut kinds = Kinds { says: HashMap::new(), forms: Vec::new(), same: Vec::new(), remark: HashSet::new() };
    view.version("name-kinds/1");
    view.prose("source");
    let mut count = 0;
    view.tables("kind", |view| {
        view.needed_name("name");
        for word in view.texts("words") {
            kinds.says.insert(fold_spelling(word), Says::Kind(count));
        }
        count += 1;
        Some(())
    });
    view.tables("shape", |view| {
        view.needed_name("name");
        for word in view.texts("words") {
            kinds.says.insert(fold_spelling(word), Says::Shape(kinds.forms.len()));
        }
        kinds.forms.push(view.choices("forms"));
        Some(())
    });
    for (key, says) in [("indifferent", Says::Indifferent), ("filler", Says::Filler)] {
        view.tables(key, |view| {
            for word in view.texts("words").into_iter().flat_map(words) {
                kinds.says.entry(word).or_insert(says);
            }
            Some(())
        });
    }
    view.tables("remark", |view| {
        kinds.remark.extend(view.texts("words").into_iter().flat_map(words));
        Some(())
    });
    view.tables("same", |view| {
        let one = view.needed_name("as")?;
        for word in view.texts("words") {
            kinds.same.push((words(word).join(" "), one.clone()));
        }
        Some(())
    });
    kinds.same.sort_by_key(|(long, _)| std::cmp::Reverse(long.len()));
    kinds
}

/// What a word says, if anything.
pub(super) fn says(word: &str) -> Option<Says> {
    if word.chars().all(|c| c.is_ascii_digit()) {
        return Some(Says::Filler);
    }
    KINDS.says.get(word).copied()
}

/// The words of a name: folded, without signs.
pub(super) fn words(name: &str) -> Vec<String> {
    fold_spelling(name)
        .split(|c: char| !c.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_string)
        .collect()
}

/// The words of a name, with one word for what has several.
pub(super) fn plain_words(name: &str) -> Vec<String> {
    let mut joined = format!(" {} ", words(name).join(" "));
    for (long, one) in &KINDS.same {
        let wanted = format!(" {long} ");
        // Words that follow each other share the blank between them.
        while let Some(at) = joined.find(&wanted) {
            joined.replace_range(at..at + wanted.len(), &format!(" {one} "));
            if wanted == format!(" {one} ") {
                break;
            }
        }
    }
    joined.split_whitespace().map(str::to_string).collect()
}

/// May words in brackets be about the work, and not about the thing?
pub(super) fn is_about_the_work(words: &[String]) -> bool {
    words.iter().any(|word| KINDS.remark.contains(word))
}

/// What words say of the thing: its kinds and its shapes.
pub(super) fn said(words: &[String]) -> HashSet<Says> {
    words.iter().filter_map(|word| says(word)).filter(|says| matches!(says, Says::Kind(_) | Says::Shape(_))).collect()
}

/// The fault for a raw material that is none of the known ones, with the name spelt nearest of those that may be the
/// same kind of thing: an oil is no misspelt butter. Of a catalogue see [`Catalogue::unknown`].
pub(crate) fn unknown_material<'a>(what: &str, name: &str, known: impl Iterator<Item = &'a str>) -> Fault {
    unknown_name(what, name, same_kind(name, known))
}

/// Those of the known names that may be the same kind of thing as a name says.
pub(super) fn same_kind<'a>(name: &str, known: impl Iterator<Item = &'a str>) -> impl Iterator<Item = &'a str> {
    let shown: String = name.chars().take(80).collect();
    let wanted = said(&plain_words(&shown));
    known.filter(move |known| {
        // More letters apart is another word: rose oil is no misspelt rosemary oil.
        if strsim::osa_distance(&fold_spelling(&shown), &fold_spelling(known)) > MOST_LETTERS_APART {
            return false;
        }
        let told = said(&plain_words(known));
        wanted.is_subset(&told) && told.difference(&wanted).all(|says| matches!(says, Says::Shape(_)))
    })
}

/// Can a raw material be what words say? Kinds by one of its names, shapes by its names or its form.
pub(super) fn is_all<'a>(material: &Material, names: impl Iterator<Item = &'a str>, wanted: &HashSet<Says>) -> bool {
    let named: HashSet<Says> = names.flat_map(|name| said(&words(name))).collect();
    wanted.iter().all(|says| match says {
        Says::Shape(shape) => named.contains(says) || KINDS.forms[*shape].contains(&material.form()),
        _ => named.contains(says),
    })
}

/// Does a word name one of several shapes that its kind of shape has, such as noodles among needles and flakes?
pub(super) fn is_one_of_several(word: &str) -> bool {
    matches!(says(word), Some(Says::Shape(shape)) if KINDS.forms[shape].len() > 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_embedded_file_is_read() {
        assert!(matches!(says("hydrosol"), Some(Says::Kind(_))));
        assert!(matches!(says("noodles"), Some(Says::Shape(_))));
        assert_eq!((says("organic"), says("84"), says("kaolin")), (Some(Says::Indifferent), Some(Says::Filler), None));
    }

    #[test]
    fn longer_words_for_the_same_are_made_one() {
        assert_eq!(plain_words("Rosemary E.O."), ["rosemary", "oil"]);
        assert_eq!(plain_words("rosemary essential oil"), ["rosemary", "oil"]);
        assert_eq!(plain_words("de-ionised water"), ["water"]);
        assert_eq!(plain_words("neodymium"), ["neodymium"]);
    }
}
