//! Amounts that a recipe writes as a product or a sum: `2 x 20 g`, `1 lb 2 oz`.

use super::figure::scan;
use crate::number::{Exact, MassUnit};

/// How often something is counted, and what: `2 x 20 g`.
pub(super) fn counted(text: &str) -> Option<(Exact, &str)> {
    let (count, rest) = scan(text)?;
    let each = rest.trim_start().strip_prefix(['x', 'X', '\u{D7}', '*'])?.trim_start();
    (count.value.is_whole() && each.starts_with(char::is_numeric)).then_some((count.value, each))
}

/// `1 lb 2 oz`, `1 kg and 200 g`, in the larger unit. An ounce beside grams may be the same amount said twice.
pub(super) fn sum(text: &str, mass: impl Fn(&str) -> Option<(Exact, MassUnit)>) -> Option<(Exact, MassUnit)> {
    text.match_indices(' ').find_map(|(at, _)| {
        let more = text[at..].trim_start();
        let more = ["and ", "+ "].iter().find_map(|word| more.strip_prefix(word)).unwrap_or(more);
        let ((first, large), (second, small)) = (mass(text[..at].trim_end_matches(','))?, mass(more)?);
        let pair = matches!((large, small), (MassUnit::Pound, MassUnit::Ounce) | (MassUnit::Kilogram, MassUnit::Gram));
        let part = second * small.grams() / large.grams();
        (pair && part < Exact::ONE).then(|| (first + part, large))
    })
}
