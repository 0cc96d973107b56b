//! The temperature that the name of a phase states: `Phase A (75 °C)`, `Cool down, below 40 °C`.

use rust_decimal::Decimal;

use super::words::words;
use crate::bounds::Quantity;

/// What a name says about the temperature.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Stated {
    /// It is worked at this temperature in °C.
    At(Decimal),
    /// At this one in °C at most: a phase has room for one temperature.
    AtMost(Decimal),
    /// A formula cannot keep it, for this reason.
    NotKept(&'static str),
}

impl Stated {
    /// What a formula keeps of it.
    pub(super) fn kept(&self) -> Option<Decimal> {
        match self {
            Stated::At(temperature) | Stated::AtMost(temperature) => Some(*temperature),
            Stated::NotKept(_) => None,
        }
    }

    /// The same in words.
    pub(super) fn remark(&self) -> String {
        match self {
            Stated::At(temperature) => format!("worked at {} °C", temperature.normalize()),
            Stated::AtMost(temperature) => {
                format!("the formula keeps its highest temperature, {} °C", temperature.normalize())
            }
            Stated::NotKept(reason) => format!("its temperature is read and not kept: {reason}"),
        }
    }
}

/// The temperature in a name, if there is one.
pub(super) fn of(name: &str) -> Option<Stated> {
    find(name).map(|found| found.stated)
}

/// A name without its temperature and what sets that off.
pub(super) fn without(name: &str) -> String {
    let Some(found) = find(name) else { return name.to_string() };
    let lower = name[..found.start].to_lowercase();
    // Letters that change their length with their case would shift the places.
    let cut = if lower.len() == found.start { without_bound(&lower).len() } else { found.start };
    let before = name[..cut].trim_end_matches(|c: char| !c.is_alphanumeric());
    [before, name[found.end..].trim_start_matches(|c: char| !c.is_alphanumeric())].join(" ").trim().to_string()
}

struct Found {
    start: usize,
    end: usize,
    stated: Stated,
}

fn find(name: &str) -> Option<Found> {
    let mut from = 0;
    while let Some(at) = name[from..].find(|c: char| c.is_ascii_digit()).map(|at| from + at) {
        let digits = figure(&name[at..]);
        from = at + digits.len();
        let Some((fahrenheit, rest)) = degrees(&name[from..], digits) else { continue };
        if begins_range(rest) {
            continue;
        }
        let end = name.len() - rest.len();
        let (start, ranges) = start_of_range(name, at);
        let lower = name[..start].to_lowercase();
        let bound = without_bound(&lower);
        let lowest = words().lowest.strip(&lower[bound.len()..]).is_some();
        let bounded = bound.len() < lower.len();
        let value = digits.replace(',', ".").parse::<Decimal>().ok();
        let in_range = value.filter(|value| Quantity::Temperature.decimal(*value).is_ok());
        let stated = match in_range {
            _ if fahrenheit => Stated::NotKept("it is in °F, a formula keeps °C"),
            _ if lowest => Stated::NotKept("it is the lowest one, and no other is stated"),
            None => Stated::NotKept("it is out of range"),
            Some(value) if ranges || bounded => Stated::AtMost(value),
            Some(value) => Stated::At(value),
        };
        return Some(Found { start, end, stated });
    }
    None
}

/// The digits at the start, with their decimals.
fn figure(text: &str) -> &str {
    let end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(text.len());
    text[..end].trim_end_matches(['.', ','])
}

/// What follows the unit behind a figure, and whether it counts °F. A bare letter may name a phase: it is a unit behind
/// two digits.
fn degrees<'t>(text: &'t str, digits: &str) -> Option<(bool, &'t str)> {
    let rest = text.trim_start();
    let sign = ["\u{B0}", "\u{BA}", "degrees", "deg.", "deg"].iter().find_map(|sign| rest.strip_prefix(sign));
    if let Some(rest) = rest.strip_prefix('\u{2103}') {
        return Some((false, rest));
    }
    let unit = sign.unwrap_or(rest).trim_start();
    let letters = unit.find(|c: char| !c.is_alphabetic()).unwrap_or(unit.len());
    match &*unit[..letters].to_lowercase() {
        "c" | "celsius" if sign.is_some() || digits.len() > 1 => Some((false, &unit[letters..])),
        "f" | "fahrenheit" if sign.is_some() || digits.len() > 1 => Some((true, &unit[letters..])),
        _ => sign.map(|rest| (false, rest)),
    }
}

const DASHES: [char; 7] = ['-', '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2212}'];

/// Does a second figure follow that makes a range of the first?
fn begins_range(rest: &str) -> bool {
    let rest = rest.trim_start();
    let behind = rest.strip_prefix(DASHES).or_else(|| rest.strip_prefix("to "));
    behind.is_some_and(|behind| behind.trim_start().starts_with(|c: char| c.is_ascii_digit()))
}

/// Where a range begins that ends in the figure at a place; that place, where none does. One digit before a dash is the
/// number of a phase.
fn start_of_range(name: &str, at: usize) -> (usize, bool) {
    let before = name[..at].trim_end();
    let Some(before) = before.strip_suffix(DASHES).or_else(|| before.strip_suffix(" to")) else { return (at, false) };
    let before = before.trim_end().trim_end_matches(['\u{B0}', 'C', ' ']);
    let digits = before.len() - before.trim_end_matches(|c: char| c.is_ascii_digit() || matches!(c, '.' | ',')).len();
    if digits < 2 { (at, false) } else { (before.len() - digits, true) }
}

/// A text in lower case without a word at its end that makes a bound of the figure behind it.
fn without_bound(lower: &str) -> &str {
    let trimmed = lower.trim_end();
    let starts = trimmed.char_indices().map(|(at, _)| at).filter(|at| {
        let before = trimmed[..*at].chars().next_back();
        before.is_none_or(|c| !c.is_alphanumeric()) || !trimmed[*at..].starts_with(char::is_alphanumeric)
    });
    let begins = |at: &usize| {
        [&words().bound, &words().lowest].iter().any(|list| list.strip(&trimmed[*at..]).is_some_and(str::is_empty))
    };
    starts.into_iter().find(begins).map_or(lower, |at| &lower[..at])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn temperatures_are_read_as_they_are_written() {
        let at = |value: i64| Some(Stated::At(Decimal::from(value)));
        let most = |value: i64| Some(Stated::AtMost(Decimal::from(value)));
        for (name, stated, rest) in [
            ("Phase A - 75 °C", at(75), "Phase A"),
            ("Phase A (75\u{b0}C)", at(75), "Phase A"),
            ("Phase A, 75 C", at(75), "Phase A"),
            ("Phase A at 75 degrees", at(75), "Phase A at"),
            ("Phase B (below 40 C)", most(40), "Phase B"),
            ("Cool down phase (< 40°C)", most(40), "Cool down phase"),
            ("Phase B (max. 40 °C)", most(40), "Phase B"),
            ("Heated phase 70-75 °C", most(75), "Heated phase"),
            ("Heated phase, 70 °C to 75 °C", most(75), "Heated phase"),
            ("Phase 1 - 75 °C", at(75), "Phase 1"),
            ("below 40 °C", most(40), ""),
            ("Phase 2 C", None, "Phase 2 C"),
            ("Phase B2", None, "Phase B2"),
            ("Phase A 75 %", None, "Phase A 75 %"),
            ("Phase A", None, "Phase A"),
        ] {
            assert_eq!((of(name), without(name)), (stated, rest.to_string()), "{name}");
        }
        for name in ["Phase A (above 70 °C)", "Phase A, 165 °F", "Phase A 900 °C", "Phase A (> 70 C)"] {
            assert!(matches!(of(name), Some(Stated::NotKept(_))), "{name}: {:?}", of(name));
        }
    }
}
