//! Columns of a terminal: how wide text is, and lines broken to a width.

use unicode_width::UnicodeWidthStr;

/// How many columns of a terminal the text takes: wide characters take two, combining marks none.
///
/// ```
/// use tenside::render::display_width;
/// assert_eq!(display_width("soap"), 4);
/// assert_eq!(display_width("石鹸"), 4);
/// assert_eq!(display_width("e\u{301}"), 1);
/// ```
#[must_use]
pub fn display_width(text: &str) -> usize {
    if is_plain(text) { text.len() } else { UnicodeWidthStr::width(text) }
}

/// Whether each byte is a character that takes one column.
fn is_plain(text: &str) -> bool {
    text.bytes().all(|byte| (b' '..=b'~').contains(&byte))
}

/// The text in lines of at most `width` columns, broken at blanks; a word that is longer is broken after a hyphen, or
/// anywhere. Line breaks in the text are kept, control characters become blanks. A width below 2 counts as 2, so that a
/// wide character fits.
///
/// ```
/// use tenside::render::wrapped;
/// assert_eq!(wrapped("kaolin and corn starch", 12), ["kaolin and", "corn starch"]);
/// assert_eq!(wrapped("benzyl-alcohol-dha-blend", 16), ["benzyl-alcohol-", "dha-blend"]);
/// ```
#[must_use]
pub fn wrapped(text: &str, width: usize) -> Vec<String> {
    let width = width.max(2);
    let mut lines = Vec::new();
    for paragraph in text.split('\n') {
        // Most of what stands in a table.
        if paragraph.len() <= width && is_plain(paragraph) && !paragraph.split(' ').any(str::is_empty) {
            lines.push(paragraph.to_string());
            continue;
        }
        let plain: String = paragraph.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let mut line = String::new();
        for word in plain.split(' ').filter(|word| !word.is_empty()) {
            let joined = if line.is_empty() { word.to_string() } else { format!("{line} {word}") };
            if display_width(&joined) <= width {
                line = joined;
                continue;
            }
            if !line.is_empty() {
                lines.push(std::mem::take(&mut line));
            }
            let mut rest = word;
            while display_width(rest) > width {
                let (head, tail) = rest.split_at(break_at(rest, width));
                lines.push(head.to_string());
                rest = tail;
            }
            line = rest.to_string();
        }
        lines.push(line);
    }
    lines
}

/// The byte at which a word wider than `width` is broken: after its last hyphen that fits, else after its last
/// character that fits.
fn break_at(word: &str, width: usize) -> usize {
    let mut end = word.chars().next().map_or(word.len(), char::len_utf8);
    let mut hyphen = None;
    for (start, c) in word.char_indices() {
        let next = start + c.len_utf8();
        if display_width(&word[..next]) > width {
            break;
        }
        end = next;
        if c == '-' && start > 0 {
            hyphen = Some(next);
        }
    }
    hyphen.unwrap_or(end)
}

/// The text filled up with blanks to `width` columns.
pub(super) fn padded(text: &str, width: usize, to_the_right: bool) -> String {
    let blanks = " ".repeat(width.saturating_sub(display_width(text)));
    if to_the_right { blanks + text } else { text.to_string() + &blanks }
}

/// So many of something in words: `1 bar`, `12 bars`.
pub(crate) fn so_many(count: impl std::fmt::Display, one: &str, many: &str) -> String {
    let count = count.to_string();
    let noun = if count == "1" { one } else { many };
    format!("{count} {noun}")
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        #[test]
        fn nothing_is_lost_and_nothing_is_too_wide(text in "\\PC{0,60}", width in 2usize..40) {
            let lines = wrapped(&text, width);
            prop_assert!(lines.iter().all(|line| display_width(line) <= width), "{:?}", lines);
            let plain = |text: &str| text.chars().filter(|c| *c != ' ').collect::<String>();
            prop_assert_eq!(plain(&lines.concat()), plain(&text));
        }
    }

    #[test]
    fn what_fits_is_as_it_was_but_for_blanks() {
        for (text, line) in [("as it was", "as it was"), (" too  many ", "too many"), (" ", ""), ("~!", "~!")] {
            assert_eq!(wrapped(text, 20), [line]);
        }
    }

    #[test]
    fn wide_characters_and_line_breaks() {
        assert_eq!(wrapped("石鹸石鹸", 5), ["石鹸", "石鹸"]);
        assert_eq!(wrapped("one\ntwo\tthree", 20), ["one", "two three"]);
        assert_eq!(wrapped("", 20), [""]);
    }
}
