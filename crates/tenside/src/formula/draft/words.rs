//! Words by which a recipe says something other than a raw material. Read from `data/recipe/words.toml`.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::LazyLock;

use crate::document::{Notation, Reader, TableView};

/// A closed list of words, lower case.
#[derive(Debug)]
pub(super) struct List(Vec<String>);

impl List {
    fn read(view: &TableView<'_>, key: &'static str) -> Self {
        let mut words: Vec<String> = view.texts(key).into_iter().map(str::to_lowercase).collect();
        // "q.s.p." is tried before "q.s.".
        words.sort_by_key(|word| std::cmp::Reverse(word.len()));
        List(words)
    }

    /// Is a text in lower case one of them?
    pub(super) fn has(&self, text: &str) -> bool {
        self.0.iter().any(|word| word == text)
    }

    /// What follows the word at the start of a text in lower case.
    pub(super) fn strip<'t>(&self, text: &'t str) -> Option<&'t str> {
        self.0.iter().find_map(|word| behind(text, word))
    }

    /// Where one of them stands in a text in lower case, as a word of its own.
    pub(super) fn find(&self, text: &str) -> Option<std::ops::Range<usize>> {
        self.0.iter().find_map(|word| {
            let starts = text.match_indices(word.as_str()).map(|(at, _)| at);
            let whole = |at: &usize| {
                let before = text[..*at].chars().next_back().is_none_or(|c| !c.is_alphanumeric());
                before && behind(&text[*at..], word).is_some()
            };
            starts.into_iter().find(whole).map(|at| at..at + word.len())
        })
    }
}

/// What follows a word, where the word ends there.
fn behind<'t>(text: &'t str, word: &str) -> Option<&'t str> {
    let rest = text.strip_prefix(word)?;
    let sign = !word.ends_with(char::is_alphanumeric);
    (sign || rest.chars().next().is_none_or(|c| !c.is_alphanumeric())).then_some(rest)
}

macro_rules! lists {
    ($($(#[doc = $doc:literal])* $name:ident),* $(,)?) => {
        /// Every list.
        #[derive(Debug)]
        pub(super) struct Words {
            $($(#[doc = $doc])* pub(super) $name: List,)*
        }

        fn read(view: &TableView<'_>) -> Words {
            view.version("recipe-words/1");
            view.prose("source");
            Words { $($name: List::read(view, stringify!($name)),)* }
        }
    };
}

lists! {
    /// "q.s."
    fill,
    /// "up to", before a sum.
    fill_to,
    /// "optional"
    optional,
    /// "about"
    about,
    /// "at most"
    bound,
    /// "at least"
    lowest,
    /// "pinch"
    loose,
    /// "total"
    total,
    /// "ingredients"
    list_heading,
    /// "method"
    method_heading,
    /// "phase", anywhere in a line without amount
    phase,
    /// "step", with a number behind it
    phase_numbered,
    /// "oils", on its own
    phase_heading,
    /// "stir", as a first word
    step,
    /// "note", as a first word
    remark,
    /// "bar", the last word of a title
    product,
    /// "no", beside the number of a title
    numbering,
    /// "makes", before a number of pieces
    counting,
    /// "shampoo", of a title with a number
    titled,
    /// "ingredient", of a column
    column_name,
    /// "% w/w", of a column
    column_percent,
    /// "weight (g)", of a column
    column_gram,
    /// "amount", of a column
    column_amount,
    /// "phase", of a column
    column_phase,
    /// "lot", of a column
    column_lot,
    /// "no.", of a column
    column_number,
    /// "lot", before its number
    lot,
}

static WORDS: LazyLock<Words> = LazyLock::new(|| {
    // The embedded file is read by a test; a fault there is a fault of the build.
    Reader::read(include_str!("../../../data/recipe/words.toml"), Notation::Toml, |view| Some(read(view)))
        .unwrap_or_else(|error| panic!("words.toml: {error}"))
});

/// The words.
pub(super) fn words() -> &'static Words {
    &WORDS
}

/// A text without a mark that says optional, wherever it stands, and whether there was one.
pub(super) fn without_optional(text: &str) -> (String, bool) {
    let text = text.trim();
    let lower = text.to_lowercase();
    // Letters that change their length with their case would shift the places.
    let Some(at) = words().optional.find(&lower).filter(|_| lower.len() == text.len()) else {
        return (text.to_string(), false);
    };
    let mut before = text[..at.start].trim_end_matches(['(', '[', ',', ';', ':', '-', ' ']).to_string();
    let open = before.matches(['(', '[']).count() > before.matches([')', ']']).count();
    if open {
        before.push(if before.contains('(') { ')' } else { ']' });
    }
    let after = text[at.end..].trim_start_matches([')', ']', ',', ';', ':', '-', ' ']);
    ([before.as_str(), after].join(" ").trim().to_string(), true)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_embedded_file_is_read_and_words_end_where_they_end() {
        let words = words();
        assert_eq!(words.fill.strip("q.s.p. 100"), Some(" 100"));
        assert_eq!(words.fill.strip("qs 100"), Some(" 100"));
        assert_eq!(words.fill.strip("resting"), None);
        assert_eq!(words.optional.find("rosemary oil (optional) 1 %"), Some(14..22));
        assert_eq!(words.optional.find("optionals"), None);
        assert_eq!(words.about.strip("~60 %"), Some("60 %"));
        assert_eq!(words.about.strip("ca60"), None);
        for (text, without) in [
            ("Rosemary oil (Optional)", "Rosemary oil"),
            ("optional: rosemary oil", "rosemary oil"),
            ("rosemary oil, optional, organic", "rosemary oil organic"),
            ("SCI (powder, optional)", "SCI (powder)"),
            ("(optional)", ""),
            ("1 % - opt.", "1 %"),
        ] {
            assert_eq!(without_optional(text), (without.to_string(), true), "{text}");
        }
        assert!(!without_optional("é(optionl)").1);
        for list in [&words.total, &words.step, &words.column_lot, &words.lot] {
            assert!(!list.0.is_empty());
        }
    }
}
