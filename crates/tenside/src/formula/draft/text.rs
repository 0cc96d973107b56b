//! Pasted recipes: one line a raw material, the amount first or last.

use super::DraftLine;
use super::amount::{Content, LONGEST_AMOUNT, read};

/// Words from either end of a line that are tried as an amount; the longest that people write ("2 1/2 fl oz as supplied") has six.
const MOST_AMOUNT_WORDS: usize = 8;

/// The line read from a line of text that is not blank.
pub(super) fn line(written: &str) -> DraftLine {
    let (item, amount) = split(without_bullet(written.trim()));
    DraftLine { written: Some(written.to_string()), amount, ..DraftLine::without_amount(&item) }
}

fn without_bullet(line: &str) -> &str {
    ["- ", "* ", "\u{2022}", "\u{2013} "].iter().find_map(|bullet| line.strip_prefix(bullet)).map_or(line, str::trim_start)
}

/// Name and amount. Where marks part the line into cells they decide; otherwise the words at its ends do. Where both ends could be the
/// amount, or none, the whole is the name and a question follows.
fn split(line: &str) -> (String, Option<String>) {
    let cells = cells(line);
    match cells.as_slice() {
        // "Name:" and nothing behind it.
        [only] => by_words(only),
        [first, rest @ ..] => {
            let (last, before) = rest.split_last().unwrap_or((first, &[]));
            let behind = rest.join(" ");
            match (is_amount(first), is_amount(&behind), is_amount(last)) {
                (false, true, _) => (first.to_string(), Some(behind)),
                (true, false, false) => (behind, Some(first.to_string())),
                (false, false, true) => ([std::slice::from_ref(first), before].concat().join(" "), Some(last.to_string())),
                // The first cell is a name and the second was meant for an amount, whatever it says.
                (false, false, false) if rest.len() == 1 && starts_like_an_amount(last) => (first.to_string(), Some(last.to_string())),
                _ => by_words(line),
            }
        }
        [] => (line.to_string(), None),
    }
}

/// The parts between tabs, colons and runs of blanks.
fn cells(line: &str) -> Vec<&str> {
    let mut cells = Vec::new();
    let (mut start, mut blanks) = (0, 0);
    for (at, c) in line.char_indices() {
        let parts = matches!(c, '\t' | ':') || (c.is_whitespace() && blanks > 0);
        blanks = if c.is_whitespace() { blanks + 1 } else { 0 };
        if parts {
            cells.push(line[start..at].trim());
            start = at + c.len_utf8();
        }
    }
    cells.push(line[start..].trim());
    cells.retain(|cell| !cell.is_empty());
    cells
}

fn by_words(line: &str) -> (String, Option<String>) {
    let words: Vec<&str> = line.split_whitespace().collect();
    if is_amount(line) {
        return (String::new(), Some(line.to_string()));
    }
    let most = words.len().saturating_sub(1).min(MOST_AMOUNT_WORDS);
    let (last, first) = ((1..=most).rev(), (1..=most).rev());
    let at_end = last.map(|count| words[words.len() - count..].join(" ")).find(|text| is_amount(text));
    let at_start = first.map(|count| words[..count].join(" ")).find(|text| is_amount(text));
    let joined = |words: &[&str]| words.join(" ");
    let count = |amount: &String| amount.split(' ').count();
    match (at_start, at_end) {
        (None, Some(amount)) => (joined(&words[..words.len() - count(&amount)]), Some(amount)),
        (Some(amount), None) => (joined(&words[count(&amount)..]), Some(amount)),
        _ => (line.trim().trim_end_matches(':').trim_end().to_string(), None),
    }
}

fn is_amount(text: &str) -> bool {
    if text.len() > LONGEST_AMOUNT {
        return false;
    }
    let read = read(text);
    match read.content {
        Content::Nothing => read.optional,
        Content::NotUnderstood(_) => false,
        Content::Amount { .. } | Content::TwoWays { .. } | Content::OutOfRange { .. } => true,
    }
}

fn starts_like_an_amount(text: &str) -> bool {
    text.starts_with(|c: char| c.is_numeric() || matches!(c, '~' | '<' | '>' | '\u{2248}' | '\u{2264}'))
}

/// Do both ends of a name look like an amount? Then nobody can tell which one it is.
pub(super) fn has_two_amounts(item: &str) -> bool {
    let words: Vec<&str> = item.split_whitespace().collect();
    let most = words.len().saturating_sub(1).min(MOST_AMOUNT_WORDS);
    (1..=most).any(|count| is_amount(&words[..count].join(" "))) && (1..=most).any(|count| is_amount(&words[words.len() - count..].join(" ")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn name_and_amount_are_told_apart() {
        for (written, item, amount) in [
            ("Sodium cocoyl isethionate powder  55 %", "Sodium cocoyl isethionate powder", Some("55 %")),
            ("Kaolin\t12,5 %", "Kaolin", Some("12,5 %")),
            ("Kaolin: 12 g", "Kaolin", Some("12 g")),
            ("Kaolin 12 g", "Kaolin", Some("12 g")),
            ("12 g kaolin", "kaolin", Some("12 g")),
            ("12 g\tkaolin", "kaolin", Some("12 g")),
            ("- 2 fl oz glycerin", "glycerin", Some("2 fl oz")),
            ("\u{2022} Glycerin 2 fl oz", "Glycerin", Some("2 fl oz")),
            ("citric acid 50 %  0.3 %", "citric acid 50 %", Some("0.3 %")),
            ("citric acid 50 %", "citric acid", Some("50 %")),
            ("Rosemary oil\t1 %\toptional", "Rosemary oil", Some("1 % optional")),
            ("Phase A\tKaolin\t12 %", "Phase A Kaolin", Some("12 %")),
            ("Water q.s. to 100", "Water", Some("q.s. to 100")),
            ("Water", "Water", None),
            ("Method:", "Method", None),
            ("Salt: a lot", "Salt: a lot", None),
            ("Kaolin\t~12 %", "Kaolin", Some("~12 %")),
            ("5 % kaolin 10 %", "5 % kaolin 10 %", None),
            ("55 %", "", Some("55 %")),
            ("3\u{2013}5 % cetyl alcohol", "cetyl alcohol", Some("3\u{2013}5 %")),
        ] {
            let line = line(written);
            assert_eq!((line.item(), line.amount()), (item, amount), "{written}");
            assert_eq!(line.written(), Some(written));
        }
        assert!(has_two_amounts("5 % kaolin 10 %"));
        assert!(!has_two_amounts("citric acid 50 %"));
    }
}
