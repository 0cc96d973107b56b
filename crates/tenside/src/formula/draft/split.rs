//! A raw material's line: its name, its amount, and what else it says. The amount stands first or last.

use super::amount::{Content, read};
use super::cells::{cells, number_of};
use super::measured::{has_unit, is_amount, is_measured};
use super::words::{without_optional, words};
use crate::document::check_name;

/// Words from either end of a line that are tried as an amount; the longest that people write ("2 1/2 fl oz as
/// supplied") has six.
const MOST_AMOUNT_WORDS: usize = 8;
/// What may part a name from its amount.
const PARTS: [char; 13] = [
    '-', '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2015}', '\u{2212}', ':', '=', '@', '\u{2192}',
    ',',
];

/// What a line says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Split {
    pub(super) item: String,
    pub(super) amount: Option<String>,
    pub(super) phase: Option<String>,
    pub(super) lot: Option<String>,
    pub(super) optional: bool,
}

impl Split {
    /// Is there an amount with a unit?
    pub(super) fn weighs(&self) -> bool {
        self.amount.as_deref().is_some_and(has_unit)
    }
}

/// Reads a line; `number` is its place among the raw materials, which a line may begin with.
pub(super) fn split(line: &str, number: usize) -> Split {
    let (line, optional) = without_optional(line);
    let (line, lot) = without_lot(&line);
    let (line, for_a_ph) = without_a_ph(&line);
    let line = line.trim_end_matches([';', ',']).trim_end();
    let line = line
        .strip_suffix('.')
        .filter(|rest| !is_amount(line) && by_words(line).1.is_none() && by_words(rest).1.is_some())
        .unwrap_or(line);
    let mut parts = cells(line);
    let mut phase = None;
    if parts.len() > 2 && number_of(parts[0]) == Some(number) && !is_amount(parts[1]) {
        parts.remove(0);
    }
    let more = parts.len() > 2
        || parts.get(1).is_some_and(|rest| matches!(by_words(rest), (item, Some(_)) if !item.is_empty()));
    if more && is_phase_cell(parts[0]) {
        phase = check_name(parts.remove(0)).ok();
    }
    let (mut item, mut amount) = by_cells(&parts, line);
    // Two grams that bring a pH are two grams; a percentage may be the strength of the acid, one that is not meant
    // exactly is an estimate.
    if let Some(wish) = for_a_ph
        && !amount.as_deref().is_some_and(is_measured)
    {
        match amount.as_deref().filter(|amount| matches!(read(amount).content, Content::Loosely { .. })) {
            Some(estimate) => amount = Some(format!("{wish} ({estimate})")),
            None => (item, amount) = (parts.join(" ").trim_end_matches(PARTS).trim().to_string(), Some(wish)),
        }
    }
    Split { item: without_emphasis(&item), amount, phase, lot, optional }
}

fn by_cells(cells: &[&str], line: &str) -> (String, Option<String>) {
    match cells {
        // "Name:" and nothing behind it.
        [only] => by_words(only),
        [first, rest @ ..] => {
            let (last, before) = rest.split_last().unwrap_or((first, &[]));
            let behind = rest.join(" ");
            // In a cell of its own nothing parts the amount from a name: a minus is one there, and behind a colon too
            // where it touches the figure.
            let table = line.contains(['|', '\t', ';']);
            let amount_in = |text: &str| {
                let figure = text.strip_prefix(['-', '\u{2212}']).filter(|rest| rest.starts_with(char::is_numeric));
                if line.contains(':') && figure.is_some_and(is_amount) {
                    return Some(text.to_string());
                }
                if table && text.starts_with(PARTS) && is_amount(text) {
                    Some(text.to_string())
                } else {
                    amount_in(text)
                }
            };
            if let Some(both) = before.last().and_then(|one| two_amounts(one, last)) {
                return ([std::slice::from_ref(first), &before[..before.len() - 1]].concat().join(" "), Some(both));
            }
            match (is_amount(first), amount_in(&behind), amount_in(last)) {
                (false, Some(amount), _) => (first.to_string(), Some(amount)),
                (true, None, None) => (behind, Some(first.to_string())),
                (false, None, Some(amount)) => ([std::slice::from_ref(first), before].concat().join(" "), Some(amount)),
                // The first cell is a name and the second was meant for an amount, whatever it says.
                (false, None, None) if rest.len() == 1 && starts_like_an_amount(last) => {
                    match with_remark(&format!("{first} {last}")) {
                        Some((item, Some(amount))) => (item, Some(amount)),
                        _ => (first.to_string(), Some(last.to_string())),
                    }
                }
                _ => by_words(line),
            }
        }
        [] => (line.to_string(), None),
    }
}

/// Two cells that give one amount twice, as one text.
fn two_amounts(one: &str, other: &str) -> Option<String> {
    let (one, other) = (amount_in(one)?, amount_in(other)?);
    [format!("{one} ({other})")].into_iter().find(|both| matches!(read(both).content, Content::Both { .. }))
}

fn is_phase_cell(cell: &str) -> bool {
    let letter = cell.chars().next().is_some_and(|c| c.is_ascii_uppercase())
        && cell.chars().skip(1).all(|c| c.is_ascii_digit())
        && cell.len() <= 2;
    let lower = cell.to_lowercase();
    letter
        || ([&words().phase, &words().phase_numbered].iter().any(|list| list.strip(&lower).is_some())
            && cell.split_whitespace().count() == 2)
}

/// Name and amount by the words at either end. Where both ends could be the amount, or none, the whole is the name and
/// a question follows.
pub(super) fn by_words(line: &str) -> (String, Option<String>) {
    let line = line.trim();
    if let Some(amount) = amount_in(line) {
        return (String::new(), Some(amount));
    }
    let figure = |amount: &str| amount.starts_with(char::is_numeric);
    match (at_start(line), at_end(line)) {
        (None, Some((item, amount))) | (Some((item, amount)), None) => (item, Some(amount)),
        // "2 oz glycerin 99.5 %": what is weighed is no percentage, so that is a strength. "5 % polysorbate 20": what has
        // a unit is the amount.
        (Some((item, amount)), Some((_, strength)))
            if (is_measured(&amount) && strength.contains('%'))
                || (figure(&amount) && has_unit(&amount) && !has_unit(&strength)) =>
        {
            (item, Some(amount))
        }
        (Some(_), Some(_)) => (line.to_string(), None),
        (None, None) => with_remark(line).unwrap_or_else(|| (line.trim_end_matches(':').trim_end().to_string(), None)),
    }
}

/// The name before an amount at the end of a text, and the amount.
pub(super) fn at_end(line: &str) -> Option<(String, String)> {
    let words: Vec<usize> = word_starts(line);
    let first = words.len().saturating_sub(MOST_AMOUNT_WORDS).max(1);
    let from = words.get(first - 1).copied()?;
    for (at, c) in line.char_indices().skip_while(|(at, _)| *at <= from) {
        let before = line[..at].chars().next_back().unwrap_or(' ');
        let apart = before.is_whitespace() && !c.is_whitespace();
        let joined = PARTS.contains(&before) || matches!(c, '(' | '[');
        if !apart && !joined {
            continue;
        }
        let Some(amount) = amount_in(&line[at..]).filter(|amount| apart || has_unit(amount)) else { continue };
        let item = without_end(&line[..at]);
        if item.is_empty() || splits_a_figure(item, &amount) {
            return None;
        }
        return Some((item.to_string(), amount));
    }
    None
}

/// Without what parts a name from what follows.
fn without_end(name: &str) -> &str {
    let name = name.trim_end().trim_end_matches(PARTS).trim_end();
    name.strip_suffix(" .").map_or(name, str::trim_end)
}

fn at_start(line: &str) -> Option<(String, String)> {
    let words = word_starts(line);
    let most = words.len().saturating_sub(1).min(MOST_AMOUNT_WORDS);
    (1..=most).rev().find_map(|count| {
        let (amount, rest) = line.split_at(words[count]);
        let amount = amount.trim().trim_end_matches(PARTS).trim_end();
        if !is_amount(amount) {
            return None;
        }
        let rest = rest.trim_start_matches(PARTS).trim_start();
        let rest = rest.strip_prefix("of ").unwrap_or(rest).trim_start();
        // "75 °C" is no 75 of anything.
        let degrees = rest.starts_with(['\u{B0}', '\u{BA}', '\u{2103}']);
        (!rest.is_empty() && !degrees).then(|| (rest.to_string(), amount.to_string()))
    })
}

/// An amount with a remark behind it, which belongs to the name: `betaine 12 % (powder)`, `kaolin 12 %, sifted`.
fn with_remark(line: &str) -> Option<(String, Option<String>)> {
    let marks = [" (", " [", ", ", "; ", " - ", " \u{2013} ", " \u{2014} ", " // ", " # "];
    let mut places: Vec<(usize, &str)> = marks.iter().flat_map(|mark| line.match_indices(mark)).collect();
    places.sort_unstable();
    places.into_iter().rev().find_map(|(at, mark)| {
        let remark = line[at + mark.len()..].trim().trim_end_matches([')', ']']).trim();
        let (item, amount) = at_end(&line[..at]).or_else(|| at_start(&line[..at]))?;
        // In brackets a remark may hold a figure, unless it is nothing else.
        let apart = if mark.ends_with(['(', '[']) { !is_amount(remark) } else { !contains_amount(remark) };
        let plain = !remark.is_empty() && apart && has_unit(&amount);
        plain.then(|| (format!("{item} ({remark})"), Some(amount)))
    })
}

/// "1 000 g": blanks part no thousands, and nobody meant no grams of "1".
fn splits_a_figure(item: &str, amount: &str) -> bool {
    let digits = |word: &str| !word.is_empty() && word.bytes().all(|byte| byte.is_ascii_digit());
    let last = item.split_whitespace().next_back().unwrap_or_default();
    let first: String = amount.chars().take_while(char::is_ascii_digit).collect();
    digits(last) && first.len() == 3
}

fn word_starts(line: &str) -> Vec<usize> {
    let mut starts = Vec::new();
    let mut blank = true;
    for (at, c) in line.char_indices() {
        if blank && !c.is_whitespace() {
            starts.push(at);
        }
        blank = c.is_whitespace();
    }
    starts
}

/// The amount that a text is, without dashes and brackets around it. A dash between a name and an amount is never a
/// minus.
fn amount_in(text: &str) -> Option<String> {
    let text = text.trim().trim_start_matches(PARTS).trim_start();
    let inside =
        [('(', ')'), ('[', ']')].iter().find_map(|(open, close)| text.strip_prefix(*open)?.strip_suffix(*close));
    let inside = inside.filter(|inside| !inside.contains(['(', '[']) && has_unit(inside));
    let amount = inside.unwrap_or(text).trim();
    let amount = without_emphasis(amount);
    is_amount(&amount).then_some(amount)
}

fn starts_like_an_amount(text: &str) -> bool {
    text.starts_with(|c: char| c.is_numeric() || matches!(c, '~' | '<' | '>' | '=' | '\u{2248}' | '\u{2264}'))
}

/// Does a figure with a unit stand anywhere in the text?
pub(super) fn contains_amount(text: &str) -> bool {
    let words: Vec<&str> =
        text.split_whitespace().map(|word| word.trim_matches(['(', ')', '[', ']', ',', ';', '.', ':'])).collect();
    let figure = |word: &str| word.starts_with(|c: char| c.is_numeric());
    (0..words.len()).any(|at| {
        figure(words[at])
            && (has_unit(words[at]) || words.get(at + 1).is_some_and(|next| has_unit(&format!("{} {next}", words[at]))))
    })
}

/// Do both ends of a name look like an amount, and nobody can tell which one it is?
pub(super) fn has_two_amounts(item: &str) -> bool {
    at_start(item).is_some() && at_end(item).is_some() && by_words(item).1.is_none()
}

/// A recipe in one line: two pieces or more, each with a name and an amount with a unit.
pub(super) fn pieces(line: &str) -> Option<Vec<(Split, String)>> {
    let marked = [", ", ";", " + "].iter().map(|mark| line.split(mark).map(|piece| piece.trim().to_string()).collect());
    // Two lists side by side, parted by blanks.
    let apart = (line.contains("  ") || line.contains('\t')) && !line.contains(['|', ';']);
    let cells = if apart { cells(line) } else { Vec::new() };
    let side_by_side = [1, 2].map(|width| cells.chunks(width).map(|piece| piece.join(" ")).collect());
    marked.chain(side_by_side).find_map(|pieces: Vec<String>| {
        let read = pieces.into_iter().filter(|piece| !piece.is_empty());
        let pieces: Vec<(Split, String)> = read.map(|piece| (split(&piece, 0), piece)).collect();
        let whole =
            pieces.iter().all(|(split, _)| split.weighs() && !split.item.is_empty() && !contains_amount(&split.item));
        (pieces.len() > 1 && whole).then_some(pieces)
    })
}

/// The number of a lot, and the line without it: `SCI, lot L9`, `SCI (lot no. 17-3)`.
pub(super) fn without_lot(line: &str) -> (String, Option<String>) {
    let lower = line.to_lowercase();
    let Some(at) = words().lot.find(&lower).filter(|_| lower.len() == line.len()) else {
        return (line.to_string(), None);
    };
    let behind = line[at.end..].trim_start_matches(|c: char| c.is_whitespace() || matches!(c, ':' | '#' | '.' | '='));
    let end =
        behind.find(|c: char| c.is_whitespace() || matches!(c, ',' | ';' | ')' | ']' | '|')).unwrap_or(behind.len());
    let (lot, rest) = behind.split_at(end);
    let lot = lot.trim_end_matches([':', '.']);
    // "A lot of salt" names no lot.
    if check_name(lot).is_err() || !lot.bytes().any(|byte| byte.is_ascii_digit()) || is_amount(lot) && lot.contains('%')
    {
        return (line.to_string(), None);
    }
    let before = line[..at.start].trim_end_matches(['(', '[', ',', ';', ':', '-', ' ', '#']);
    let rest = rest.trim_start_matches([')', ']', ',']);
    (
        format!("{before}{}{rest}", if rest.starts_with([' ', '\t', ';', '|']) || rest.is_empty() { "" } else { " " })
            .trim()
            .to_string(),
        Some(lot.to_string()),
    )
}

/// A line that asks for as much as brings a pH ("lactic acid 80 % to pH 5.3"), without that wish, and the wish. A pH is
/// no amount.
fn without_a_ph(line: &str) -> (String, Option<String>) {
    let found = line.char_indices().find_map(|(at, _)| {
        let before = line[..at].chars().next_back();
        let behind = line.get(at..at + 2).filter(|word| word.eq_ignore_ascii_case("ph")).map(|_| &line[at + 2..])?;
        (before.is_none_or(|c| !c.is_alphanumeric()) && is_a_ph(behind)).then_some(at)
    });
    let Some(at) = found else { return (line.to_string(), None) };
    let mut rest = line[..at].trim_end_matches(|c: char| c.is_whitespace() || matches!(c, '(' | '[' | '|' | ';' | ','));
    let wish = [&words().fill, &words().fill_to, &words().about];
    let until = ["until", "till", "for", "at", "reach", "get"];
    while let Some((name, last)) = rest.rsplit_once(char::is_whitespace) {
        let word = last.trim_start_matches(['(', '[']).to_lowercase();
        if !wish.iter().any(|list| list.strip(&word) == Some("")) && !until.contains(&word.as_str()) {
            break;
        }
        rest = name.trim_end();
    }
    if !rest.contains(char::is_alphabetic) {
        return (line.to_string(), None);
    }
    let mut wish = &line[at..];
    // The bracket that the wish stood in was left off at its beginning.
    while let Some(inside) = wish.strip_suffix([')', ']'])
        && wish.matches([')', ']']).count() > wish.matches(['(', '[']).count()
    {
        wish = inside;
    }
    (rest.to_string(), Some(format!("to {wish}")))
}

/// Does a text behind "pH" begin with a figure or a range of them, and say nothing else but a remark in brackets, or how
/// much that takes?
fn is_a_ph(text: &str) -> bool {
    let text = text.trim_start_matches(|c: char| c.is_whitespace() || ":=~<>\u{2248}\u{2264}\u{2265}".contains(c));
    let figures = text.split_once([' ', ')', ']']).map_or(text, |(first, _)| first);
    let is_figure = |word: &str| {
        word.starts_with(|c: char| c.is_ascii_digit())
            && word.chars().all(|c| c.is_ascii_digit() || ".,-+\u{2013}\u{2014}".contains(c))
    };
    let rest = text[figures.len()..].trim_start_matches([')', ']']).trim();
    let more = |rest: &str| rest.split_whitespace().all(|word| is_figure(word) || matches!(word, "to" | "or" | "-"));
    let remark = rest.starts_with(['(', '[']) && rest.ends_with([')', ']']);
    let amount = rest.trim_start_matches(['|', ';']).trim_start_matches(PARTS).trim();
    is_figure(figures) && (remark || more(rest) || (is_amount(amount) && has_unit(amount)))
}

/// Without marks of emphasis and footnotes.
pub(super) fn without_emphasis(text: &str) -> String {
    let plain = text
        .trim()
        .trim_matches(['*', '_', '`'])
        .trim_end_matches(['\u{2020}', '\u{2021}', '\u{00B9}', '\u{00B2}', '\u{00B3}']);
    plain.replace("**", "").replace("__", "").trim().to_string()
}
