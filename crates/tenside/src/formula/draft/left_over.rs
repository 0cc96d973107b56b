//! A figure of a pasted line that its name would take with it: `60 % \u{b1} 2`, `60-55 %`.

use super::measured::is_measured;
use super::split::at_end;
use super::{Amount, AmountUnit};

/// What may stand between two figures of one line.
const SIGNS: [char; 6] = ['\u{B1}', '\u{D7}', '*', '/', '+', '~'];
/// Words that may stand there.
const WORDS: [&str; 3] = [" x", " to", " or"];
const DASHES: [char; 9] =
    ['-', '\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2014}', '\u{2015}', '\u{2212}', '\u{FE63}'];

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
