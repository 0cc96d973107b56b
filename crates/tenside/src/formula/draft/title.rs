//! What a recipe is called, and how many pieces it makes: no raw materials, whatever figures stand in it.

use super::words::words;

/// Most words between a number and the pieces that it counts: "24 small round bars".
const MOST_BETWEEN: usize = 2;
/// Words that stand before other pieces than the number counts: "12 g for the bar".
const OTHERWISE: [&str; 9] = ["a", "an", "each", "for", "in", "of", "per", "the", "this"];

/// The title of a recipe: "Harbour bar", "Harbour bar, soft", "Harbour bar no. 3", "Harbour bar 2026".
pub(super) fn names_product(line: &str) -> bool {
    let lower = line.to_lowercase();
    let before = lower.split([',', '(', ':']).next().unwrap_or_default();
    let name = without_number(before);
    tokens(name).next_back().is_some_and(|word| words().product.has(word))
}

/// A word that titles have and raw materials have not. It makes a title only where the line says less than the others.
pub(super) fn sounds_like_a_title(line: &str) -> bool {
    tokens(&line.to_lowercase()).any(|word| words().titled.has(word))
}

/// How many pieces the recipe makes: "Batch of 24 bars", "4 bars of 60 g".
pub(super) fn counts_pieces(line: &str) -> bool {
    let lower = line.to_lowercase();
    let lower = lower.trim_start_matches(|c: char| !c.is_alphanumeric());
    if !lower.starts_with(|c: char| c.is_ascii_digit()) && words().counting.strip(lower).is_none() {
        return false;
    }
    let words_of: Vec<&str> = tokens(lower).collect();
    words_of.iter().enumerate().filter(|(_, word)| words().product.has(word)).any(|(at, _)| {
        let before = words_of[at.saturating_sub(MOST_BETWEEN + 1)..at].iter().rev();
        before.take_while(|word| !OTHERWISE.contains(word)).any(|word| is_figure(word))
    })
}

/// Without the number of a title and the words beside it.
fn without_number(name: &str) -> &str {
    let mut rest = name;
    loop {
        rest = rest.trim_end_matches(|c: char| !c.is_alphanumeric());
        let start = rest
            .rfind(|c: char| c.is_whitespace() || matches!(c, '#' | '.' | '/' | '-'))
            .map_or(0, |at| at + rest[at..].chars().next().map_or(0, char::len_utf8));
        let word = &rest[start..];
        let numbered = word.strip_prefix('v').is_some_and(is_figure) || is_figure(word) || words().numbering.has(word);
        if start == 0 || !numbered {
            return rest;
        }
        rest = &rest[..start];
    }
}

fn tokens(text: &str) -> impl DoubleEndedIterator<Item = &str> {
    text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty())
}

fn is_figure(word: &str) -> bool {
    !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_makes_no_raw_material_of_a_title() {
        for title in [
            "Harbour bar",
            "Harbour bar, soft",
            "Shampoo bar no. 3",
            "Shampoo bar #3",
            "Citrus bar 2026",
            "Citrus bar v2",
            "Citrus bar v. 2.1",
            "Citrus bar (batch 12)",
            "Citrus bar 12/03/2026",
            "CITRUS BARS",
            "Recipe nr. 7",
        ] {
            assert!(names_product(title), "{title}");
        }
        for name in ["Kaolin 3", "polysorbate 20", "2026", "3", "v2", "barley 5", "bar code dust", "", "#"] {
            assert!(!names_product(name), "{name}");
        }
    }

    #[test]
    fn pieces_are_counted_where_a_number_stands_before_them() {
        for line in [
            "Batch of 24 bars",
            "4 bars of 60 g",
            "Enough for 12 small round pucks",
            "24 bars",
            "\u{1F449} 24 bars",
            "yields 6 bars",
        ] {
            assert!(counts_pieces(line), "{line}");
        }
        for line in [
            "bars",
            "Harbour bar 3",
            "24 g kaolin for the bars",
            "2 tsp of what is left of a bar",
            "kaolin for 3 bars",
            "24",
        ] {
            assert!(!counts_pieces(line), "{line}");
        }
    }
}
