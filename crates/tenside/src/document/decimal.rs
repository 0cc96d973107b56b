//! Numbers as people write them: which decimal mark they use, and what is too ambiguous to be read.

use std::borrow::Cow;

use rust_decimal::Decimal;

use super::shown;
use crate::error::{Fault, FaultKind};
use crate::number::parse_decimal;

/// What stands between whole and fraction.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum DecimalMark {
    /// A point, as the notation demands.
    Point,
    /// A point, in a sheet that could have been exported with commas.
    PointInSheet,
    /// A comma.
    CommaInSheet,
}

/// A decimal, or what is wrong with it; the caller knows what would be allowed.
pub(crate) fn read_decimal(text: &str, mark: DecimalMark) -> Result<Decimal, Box<Fault>> {
    let number = match mark {
        DecimalMark::CommaInSheet => with_point(text)?,
        DecimalMark::Point | DecimalMark::PointInSheet => Cow::Borrowed(text),
    };
    parse_decimal(&number).ok_or_else(|| {
        let fault = Fault::new(FaultKind::NotANumber, "not a number of up to 28 digits").value(shown(text));
        Box::new(match remedy(text, mark) {
            Some(remedy) => fault.remedy(remedy),
            None => fault,
        })
    })
}

/// With a decimal point for the comma. A point beside it, or alone, might group thousands: `1.234` is read as neither number.
fn with_point(text: &str) -> Result<Cow<'_, str>, Box<Fault>> {
    if text.contains('.') && !text.contains('%') {
        let fault = Fault::new(FaultKind::NotANumber, "a point is ambiguous where decimals have a comma: it could separate thousands").value(shown(text));
        let remedy = "write the number without thousands separators and with a decimal comma, or turn the option decimal_comma off";
        return Err(Box::new(fault.remedy(remedy)));
    }
    Ok(if text.contains(',') { Cow::Owned(text.replace(',', ".")) } else { Cow::Borrowed(text) })
}

fn remedy(text: &str, mark: DecimalMark) -> Option<String> {
    if let Some(number) = text.strip_suffix('%') {
        return Some(format!("write {} without the percent sign", number.trim_end().chars().take(super::LONGEST_SHOWN).collect::<String>()));
    }
    let pointed = text.replace(',', ".");
    if text.contains(',') && parse_decimal(&pointed).is_some() {
        return match mark {
            DecimalMark::Point => Some(format!("write {pointed}")),
            DecimalMark::PointInSheet => Some(format!("write {pointed}, or turn on the option decimal_comma")),
            DecimalMark::CommaInSheet => None,
        };
    }
    parse_decimal(&text.replace(',', "")).map(|number| format!("write {number} without thousands separators"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_decimal_mark_is_never_guessed() {
        use DecimalMark::{CommaInSheet, Point, PointInSheet};
        for (text, mark, value) in [("84.5", Point, "84.5"), ("84.5", PointInSheet, "84.5"), ("84,5", CommaInSheet, "84.5"), ("84", CommaInSheet, "84")] {
            assert_eq!(read_decimal(text, mark).unwrap().to_string(), value);
        }
        for (text, mark, remedy) in [
            ("84,5", Point, Some("write 84.5")),
            ("84,5", PointInSheet, Some("write 84.5, or turn on the option decimal_comma")),
            ("1,234.5", PointInSheet, Some("write 1234.5 without thousands separators")),
            ("1.234,5", CommaInSheet, Some("write the number without thousands separators and with a decimal comma, or turn the option decimal_comma off")),
            ("1.234", CommaInSheet, Some("write the number without thousands separators and with a decimal comma, or turn the option decimal_comma off")),
            ("84.5 %", PointInSheet, Some("write 84.5 without the percent sign")),
            ("84,5%", CommaInSheet, Some("write 84,5 without the percent sign")),
            ("1,2,3", CommaInSheet, Some("write 123 without thousands separators")),
            ("#N/A", PointInSheet, None),
            ("1e400", PointInSheet, None),
            ("", CommaInSheet, None),
        ] {
            let fault = read_decimal(text, mark).unwrap_err();
            assert_eq!((fault.kind, fault.remedy.as_deref()), (FaultKind::NotANumber, remedy), "{text}");
        }
    }
}
