//! What a text is as an amount, if it is one.

use super::amount::{Amount, AmountUnit, Content, LONGEST_AMOUNT, read};

/// Is it an amount?
pub(super) fn is_amount(text: &str) -> bool {
    if text.len() > LONGEST_AMOUNT {
        return false;
    }
    match read(text).content {
        Content::Nothing | Content::NotUnderstood(_) => false,
        Content::Amount { .. }
        | Content::TwoWays { .. }
        | Content::OutOfRange { .. }
        | Content::Loosely { .. }
        | Content::Both { .. }
        | Content::Unweighed => true,
    }
}

/// Is it more than a bare figure?
pub(super) fn has_unit(text: &str) -> bool {
    if text.len() > LONGEST_AMOUNT {
        return false;
    }
    match read(text).content {
        Content::Amount { amount, .. } | Content::TwoWays { decimal: amount, .. } | Content::Loosely { amount, .. } => {
            match amount {
                Amount::Of { unit, .. } | Amount::Range { unit, .. } => unit != AmountUnit::Unstated,
                Amount::Fill { .. } => true,
            }
        }
        // A figure without a unit is never out of range here.
        Content::OutOfRange { .. } | Content::Both { .. } | Content::Unweighed => true,
        Content::Nothing | Content::NotUnderstood(_) => false,
    }
}

/// Is it a mass, a volume or a count of drops?
pub(super) fn is_measured(text: &str) -> bool {
    let unit = |unit: AmountUnit| !matches!(unit, AmountUnit::Unstated | AmountUnit::Percent);
    matches!(read(text).content, Content::Amount { amount: Amount::Of { unit: of, active: false, .. }, .. } if unit(of))
        || (read(text).content == Content::Unweighed && text.contains(' '))
}

/// Is it a mass?
pub(super) fn has_mass(text: &str) -> bool {
    matches!(read(text).content, Content::Amount { amount: Amount::Of { unit: AmountUnit::Mass(_), .. }, .. })
}
