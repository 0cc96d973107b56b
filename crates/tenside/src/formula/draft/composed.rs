//! Figures of a line that belong together, and those that do not: `1 lb 2 oz`, `2 x 20 g`, `60 % \u{b1} 2`.

use super::amount::{Content, figures};
use super::figure::{Mark, scan};
use super::measured::is_measured;
use super::split::at_end;
use super::{Amount, AmountUnit};
use crate::number::{Exact, MassUnit};

/// What may stand between two figures of one line.
const SIGNS: [char; 6] = ['\u{B1}', '\u{D7}', '*', '/', '+', '~'];
/// Words that may stand there.
const WORDS: [&str; 3] = [" x", " to", " or"];
const DASHES: [char; 9] =
    ['-', '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2015}', '\u{2212}', '\u{FE63}'];

/// The one amount that a sum or a product of two comes to.
pub(super) fn composed(text: &str) -> Option<Content> {
    let (value, unit) = product(text).or_else(|| sum(text))?;
    Some(Content::Amount { amount: Amount::Of { value, unit, active: false }, mark: Mark::None, thousands: None })
}

/// `2 x 20 g`
pub(super) fn product(text: &str) -> Option<(Exact, AmountUnit)> {
    let (count, rest) = scan(text)?;
    let each = rest.trim_start().strip_prefix(['x', 'X', '\u{D7}', '*'])?;
    let (value, unit) = plain(each.trim_start())?;
    (count.value.is_whole() && unit != AmountUnit::Unstated).then(|| (count.value * value, unit))
}

/// `1 lb 2 oz`, `1 kg and 200 g`. An ounce beside grams may be the same amount said twice.
fn sum(text: &str) -> Option<(Exact, AmountUnit)> {
    text.match_indices(' ').find_map(|(at, _)| {
        let more = text[at..].trim_start();
        let more = ["and ", "+ "].iter().find_map(|word| more.strip_prefix(word)).unwrap_or(more);
        let (first, AmountUnit::Mass(large)) = plain(text[..at].trim_end_matches(','))? else { return None };
        let (second, AmountUnit::Mass(small)) = plain(more)? else { return None };
        let pair = matches!((large, small), (MassUnit::Pound, MassUnit::Ounce) | (MassUnit::Kilogram, MassUnit::Gram));
        let part = second * small.grams() / large.grams();
        (pair && part < Exact::ONE).then(|| (first + part, AmountUnit::Mass(large)))
    })
}

/// A single figure that reads in one way, with its unit.
fn plain(text: &str) -> Option<(Exact, AmountUnit)> {
    match figures(text) {
        Content::Amount { amount: Amount::Of { value, unit, active: false }, thousands: None, .. } => {
            Some((value, unit))
        }
        _ => None,
    }
}

/// A figure at the end of a name, before the amount of the line, of which nobody can tell whether it is one of two.
pub(super) struct LeftInName {
    pub(super) name: String,
    /// It and the amount, each in the unit that the other states where it has none.
    pub(super) figures: [String; 2],
    /// A sign stands between the two, so that no name can end there.
    pub(super) is_signed: bool,
}

/// The figure that a name ends in, if it could belong to the amount.
pub(super) fn left_in_name(written: &str, item: &str, amount: &str) -> Option<LeftInName> {
    let bare = item.trim_end().trim_end_matches(|c: char| c.is_whitespace() || SIGNS.contains(&c));
    let bare = WORDS.iter().find_map(|word| bare.strip_suffix(word)).unwrap_or(bare).trim_end();
    let is_signed = bare.len() < item.trim_end().len();
    let behind = written.split_once(item).map_or("", |(_, behind)| behind);
    let is_joined = behind.strip_prefix(DASHES).is_some_and(|behind| behind.starts_with(amount));
    let (name, figure) = at_end(bare)?;
    let figures = [in_unit_of(&figure, amount), in_unit_of(amount, &figure)];
    (is_signed || is_joined || is_measured(&figure)).then_some(LeftInName { name, figures, is_signed })
}

fn in_unit_of(figure: &str, other: &str) -> String {
    match (figure.parse(), other.parse()) {
        (Ok(Amount::Of { value, unit: AmountUnit::Unstated, active }), Ok(Amount::Of { unit, .. })) => {
            Amount::Of { value, unit, active }.to_string()
        }
        _ => figure.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_certain_is_read_as_one_amount() {
        for (text, read) in [
            ("1 lb 2 oz", Some("1.125 lb")),
            ("1 lb, 2 oz", Some("1.125 lb")),
            ("1lb and 2oz", Some("1.125 lb")),
            ("1 kg 200 g", Some("1.2 kg")),
            ("2 x 20 g", Some("40 g")),
            ("2\u{d7}20 g", Some("40 g")),
            ("3 * 5 ml", Some("15 ml")),
            // Said twice, or not what anybody writes.
            ("1 oz 28 g", None),
            ("1 lb 454 g", None),
            ("1 lb 17 oz", None),
            ("2 x 20", None),
            ("1.5 x 20 g", None),
            ("2 x 1,500 g", None),
        ] {
            let amount = text.parse::<Amount>().ok().map(|amount| amount.to_string());
            assert_eq!(amount.as_deref(), read, "{text}");
        }
    }
}
