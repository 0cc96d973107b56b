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
    /// Nobody says: each number by itself, as far as it can be only one. Among decimal commas a point may separate
    /// thousands.
    ByItself {
        /// True if another number of the sheet has a decimal comma.
        among_commas: bool,
    },
}

impl DecimalMark {
    /// A decimal as it would stand in the sheet, so that it can be read as one number only.
    pub(crate) fn written(self, decimal: Decimal) -> String {
        // Three places could be a group of thousands, four are none.
        let text = if decimal.scale() == 3 { format!("{decimal}0") } else { decimal.to_string() };
        if self == DecimalMark::CommaInSheet { text.replace('.', ",") } else { text }
    }
}

/// True if a text can be nothing but a number with a decimal comma.
pub(crate) fn has_decimal_comma(text: &str) -> bool {
    text.contains(',')
        && !text.contains('.')
        && !could_group(text, ',')
        && parse_decimal(&text.replacen(',', ".", 1)).is_some()
}

/// True if the mark could separate thousands: one to three digits before it, no zero first, and three behind it.
fn could_group(text: &str, mark: char) -> bool {
    let digits = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    let text = text.trim_start_matches(['-', '+']);
    text.split_once(mark).is_some_and(|(whole, rest)| {
        digits(whole) && whole.len() <= 3 && !whole.starts_with('0') && digits(rest) && rest.len() == 3
    })
}

fn by_itself(text: &str, among_commas: bool) -> Result<Cow<'_, str>, Box<Fault>> {
    let ambiguous = |mark: char, message: &str| {
        let (decimal, whole) = (text.replace(mark, "."), text.replace(mark, ""));
        let fault = Fault::new(FaultKind::NotANumber, message).value(shown(text));
        Box::new(
            fault.remedy(format!("state the option decimal_comma, or write {decimal}0 or {whole}, whichever it is")),
        )
    };
    if !text.contains('.') && could_group(text, ',') {
        return Err(ambiguous(
            ',',
            "a comma before three digits is ambiguous: it could be a decimal comma or separate thousands",
        ));
    }
    if among_commas && !text.contains(',') && could_group(text, '.') {
        return Err(ambiguous(
            '.',
            "a point before three digits is ambiguous among decimal commas: it could separate thousands",
        ));
    }
    Ok(if has_decimal_comma(text) { Cow::Owned(text.replace(',', ".")) } else { Cow::Borrowed(text) })
}

/// A decimal, or what is wrong with it; the caller knows what would be allowed.
pub(crate) fn read_decimal(text: &str, mark: DecimalMark) -> Result<Decimal, Box<Fault>> {
    let number = match mark {
        DecimalMark::CommaInSheet => with_point(text)?,
        DecimalMark::ByItself { among_commas } => by_itself(text, among_commas)?,
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

/// With a decimal point for the comma. A point beside it, or alone, might group thousands: `1.234` is read as neither
/// number.
fn with_point(text: &str) -> Result<Cow<'_, str>, Box<Fault>> {
    if text.contains('.') && !text.contains('%') {
        let fault = Fault::new(
            FaultKind::NotANumber,
            "a point is ambiguous where decimals have a comma: it could separate thousands",
        )
        .value(shown(text));
        let remedy = "write the number without thousands separators and with a decimal comma, or turn the option \
                      decimal_comma off";
        return Err(Box::new(fault.remedy(remedy)));
    }
    Ok(if text.contains(',') { Cow::Owned(text.replace(',', ".")) } else { Cow::Borrowed(text) })
}

fn remedy(text: &str, mark: DecimalMark) -> Option<String> {
    if let Some(number) = text.strip_suffix('%') {
        return Some(format!(
            "write {} without the percent sign",
            number.trim_end().chars().take(super::LONGEST_SHOWN).collect::<String>()
        ));
    }
    let pointed = text.replace(',', ".");
    if text.contains(',') && parse_decimal(&pointed).is_some() {
        return match mark {
            DecimalMark::Point => Some(format!("write {pointed}")),
            DecimalMark::PointInSheet => Some(format!("write {pointed}, or turn on the option decimal_comma")),
            DecimalMark::CommaInSheet | DecimalMark::ByItself { .. } => None,
        };
    }
    // Of a point and a comma the last parts the decimals.
    let plain = if text.rfind(',') > text.rfind('.') && text.contains('.') {
        text.replace('.', "").replace(',', ".")
    } else {
        text.replace(',', "")
    };
    parse_decimal(&plain).map(|number| format!("write {number} without thousands separators"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_by_itself_is_read_where_it_can_be_one_only() {
        let read = |text: &str, among_commas| {
            read_decimal(text, DecimalMark::ByItself { among_commas }).map(|value| value.to_string())
        };
        for (text, value) in [
            ("84,5", "84.5"),
            ("0,250", "0.250"),
            ("84.5", "84.5"),
            ("1234,567", "1234.567"),
            ("12,3456", "12.3456"),
            ("7", "7"),
            ("1.5", "1.5"),
        ] {
            assert_eq!(read(text, true).as_deref().ok(), Some(value), "{text}");
        }
        assert_eq!(read("1.234", false).unwrap(), "1.234");
        for (text, among_commas) in [
            ("1,234", false),
            ("-1,234", false),
            ("1.234", true),
            ("1.234,5", true),
            ("1,234.5", false),
            ("1,2,3", false),
        ] {
            assert!(read(text, among_commas).is_err(), "{text}");
        }
        let fault = read_decimal("1,234", DecimalMark::ByItself { among_commas: false }).unwrap_err();
        assert_eq!(
            fault.remedy.as_deref(),
            Some("state the option decimal_comma, or write 1.2340 or 1234, whichever it is")
        );
        for mark in [DecimalMark::PointInSheet, DecimalMark::CommaInSheet, DecimalMark::ByItself { among_commas: true }]
        {
            assert_eq!(
                read_decimal(&mark.written(Decimal::new(1234, 3)), mark).unwrap().normalize().to_string(),
                "1.234"
            );
        }
    }

    #[test]
    fn the_decimal_mark_is_never_guessed() {
        use DecimalMark::{CommaInSheet, Point, PointInSheet};
        for (text, mark, value) in [
            ("84.5", Point, "84.5"),
            ("84.5", PointInSheet, "84.5"),
            ("84,5", CommaInSheet, "84.5"),
            ("84", CommaInSheet, "84"),
        ] {
            assert_eq!(read_decimal(text, mark).unwrap().to_string(), value);
        }
        for (text, mark, remedy) in [
            ("84,5", Point, Some("write 84.5")),
            ("84,5", PointInSheet, Some("write 84.5, or turn on the option decimal_comma")),
            ("1,234.5", PointInSheet, Some("write 1234.5 without thousands separators")),
            (
                "1.234,5",
                CommaInSheet,
                Some(
                    "write the number without thousands separators and with a decimal comma, or turn the option \
                     decimal_comma off",
                ),
            ),
            (
                "1.234",
                CommaInSheet,
                Some(
                    "write the number without thousands separators and with a decimal comma, or turn the option \
                     decimal_comma off",
                ),
            ),
            ("84.5 %", PointInSheet, Some("write 84.5 without the percent sign")),
            ("84,5%", CommaInSheet, Some("write 84,5 without the percent sign")),
            ("1.280,00", PointInSheet, Some("write 1280.00 without thousands separators")),
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
