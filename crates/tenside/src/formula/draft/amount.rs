//! An amount as a recipe gives it: a figure with a unit, a range, or "q.s.".

use std::fmt;
use std::str::FromStr;

use super::composed::{counted, sum};
use super::figure::{Figure, Mark, scan, tidied};
use super::words::{without_optional, words};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, MassUnit, VolumeUnit};

/// The longest text, in bytes, that is read as an amount.
pub(super) const LONGEST_AMOUNT: usize = 200;
/// How an amount may be written, for messages.
pub(super) const AMOUNTS: &str =
    "a percentage (12 %), a mass (30 g), a volume (5 ml, 1 tsp), drops (3 drops), a range (3 to 5 %) or q.s.";

/// In what an amount is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum AmountUnit {
    /// A bare number.
    Unstated,
    /// Percent.
    Percent,
    /// A unit of mass.
    Mass(MassUnit),
    /// A unit of volume.
    Volume(VolumeUnit),
    /// Drops: 0.025 to 0.05 g each (common practice, no source).
    Drop,
}

impl AmountUnit {
    fn suffix(self) -> String {
        match self {
            AmountUnit::Unstated => String::new(),
            AmountUnit::Percent => " %".to_string(),
            AmountUnit::Mass(unit) => format!(" {}", unit.symbol()),
            AmountUnit::Volume(unit) => format!(" {unit}"),
            AmountUnit::Drop => " drops".to_string(),
        }
    }
}

/// An amount as a recipe gives it. It prints in one way and reads that back.
///
/// ```
/// use tenside::formula::{Amount, AmountUnit};
/// use tenside::number::Exact;
/// let amount: Amount = "12,5 % active".parse()?;
/// assert_eq!(amount, Amount::Of { value: Exact::ratio(25, 2), unit: AmountUnit::Percent, active: true });
/// assert_eq!("3–5%".parse::<Amount>()?.to_string(), "3 to 5 %");
/// assert_eq!("qs to 100".parse::<Amount>()?.to_string(), "q.s. to 100");
/// assert!("1,500 g".parse::<Amount>().unwrap_err().is_question());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Amount {
    /// One figure.
    Of {
        /// How many.
        value: Exact,
        /// Of what.
        unit: AmountUnit,
        /// True where the figure counts active matter, not the material as supplied.
        active: bool,
    },
    /// From a low to a high figure.
    Range {
        /// The low end.
        low: Exact,
        /// The high end, above the low one.
        high: Exact,
        /// Of what.
        unit: AmountUnit,
        /// True where the figures count active matter.
        active: bool,
    },
    /// What fills up, to the whole or to a stated sum.
    Fill {
        /// The sum, where stated: a percentage, a bare number, a mass or a volume.
        to: Option<(Exact, AmountUnit)>,
    },
}

impl fmt::Display for Amount {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let basis = |active: bool| if active { " active" } else { "" };
        match self {
            Amount::Of { value, unit, active } => write!(formatter, "{value}{}{}", unit.suffix(), basis(*active)),
            Amount::Range { low, high, unit, active } => {
                write!(formatter, "{low} to {high}{}{}", unit.suffix(), basis(*active))
            }
            Amount::Fill { to: None } => formatter.write_str("q.s."),
            Amount::Fill { to: Some((value, unit)) } => write!(formatter, "q.s. to {value}{}", unit.suffix()),
        }
    }
}

impl FromStr for Amount {
    type Err = Error;

    /// Reads what stands beside a raw material in a recipe. The word "optional" is left aside.
    fn from_str(text: &str) -> Result<Self, Error> {
        let fault = |kind: FaultKind, message: &str| Fault::new(kind, message).value(shown(text)).allowed(AMOUNTS);
        Err(match read(text).content {
            Content::Amount { amount, .. } => return Ok(amount),
            Content::Nothing => fault(FaultKind::Missing, "no amount").into(),
            Content::TwoWays { decimal, thousands } => {
                fault(FaultKind::Question, "the mark before three digits may part decimals or thousands")
                    .remedy(format!("write {decimal} or {thousands}"))
                    .into()
            }
            Content::OutOfRange { allowed } => {
                Fault::new(FaultKind::OutOfRange, "amount out of range").value(shown(text)).allowed(allowed).into()
            }
            Content::Loosely { amount, reason } => {
                fault(FaultKind::NotANumber, reason).remedy(format!("write {amount}")).into()
            }
            Content::Both { mass, percent } => {
                fault(FaultKind::NotANumber, "two amounts").remedy(format!("write {mass} or {percent}")).into()
            }
            Content::Unweighed => fault(FaultKind::NotANumber, UNWEIGHED).into(),
            Content::NotUnderstood(reason) => fault(FaultKind::NotANumber, reason).into(),
        })
    }
}

/// A piece of what was written, quoted and escaped, short enough for a message.
pub(super) fn shown(text: &str) -> String {
    let piece: String = text.chars().take(80).collect();
    format!("{piece:?}")
}

/// An amount text as far as it could be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct AmountText {
    /// The word "optional" stands in it.
    pub(super) optional: bool,
    pub(super) content: Content,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Content {
    Nothing,
    /// Read. `thousands` is the other reading of a decimal point before three digits; it matters where no other figure
    /// of the recipe says which it is.
    Amount {
        amount: Amount,
        mark: Mark,
        thousands: Option<Amount>,
    },
    TwoWays {
        decimal: Amount,
        thousands: Amount,
    },
    OutOfRange {
        allowed: String,
    },
    /// A figure that is not meant exactly.
    Loosely {
        amount: Amount,
        reason: &'static str,
    },
    /// A mass and the percentage that it is said to be.
    Both {
        mass: Amount,
        percent: Amount,
    },
    /// A pinch, a cup.
    Unweighed,
    NotUnderstood(&'static str),
}

/// Why a pinch is no amount.
pub(super) const UNWEIGHED: &str = "such a measure has no certain mass; weigh it once";

/// Why what a recipe says to bring a pH is asked about.
pub(super) const ESTIMATED: &str =
    "how much brings a pH is a figure that only a trial gives; is it the recipe's estimate until then?";

const NOT_UNDERSTOOD: &str = "the amount is not understood";

/// Reads an amount text.
pub(super) fn read(text: &str) -> AmountText {
    if text.len() > LONGEST_AMOUNT {
        return AmountText { optional: false, content: Content::NotUnderstood("the amount is longer than 200 bytes") };
    }
    let (text, optional) = without_optional(&tidied(text));
    let content = if text.is_empty() { Content::Nothing } else { content(&text) };
    AmountText { optional, content }
}

fn content(text: &str) -> Content {
    if text.starts_with('=') {
        return Content::NotUnderstood("a formula of a spreadsheet stands for the amount; paste its value");
    }
    if let Some(filled) = fill(text) {
        return filled;
    }
    if let Some((first, second)) = two(text) {
        return both(content(first), content(second));
    }
    if let Some((value, unit)) = composed(text) {
        return Content::Amount {
            amount: Amount::Of { value, unit, active: false },
            mark: Mark::None,
            thousands: None,
        };
    }
    for (list, reason) in [
        (&words().about, "the amount is approximate; is it this figure?"),
        (&words().bound, "the amount is a bound; which figure is it?"),
    ] {
        if let Some(rest) = list.strip(text) {
            return match figures(rest.trim_start()) {
                Content::Amount { amount: amount @ Amount::Of { .. }, .. } => Content::Loosely { amount, reason },
                Content::Amount { amount, mark, thousands } => Content::Amount { amount, mark, thousands },
                _ => Content::NotUnderstood(NOT_UNDERSTOOD),
            };
        }
    }
    if is_unweighed(text) { Content::Unweighed } else { figures(text) }
}

/// A pinch, 2 cups, a few drops.
fn is_unweighed(text: &str) -> bool {
    let counted = ["a ", "an "]
        .iter()
        .find_map(|article| text.strip_prefix(article))
        .or_else(|| scan(text).map(|(_, rest)| rest))
        .unwrap_or(text);
    words().loose.strip(counted.trim_start()).is_some_and(|rest| unit(rest.trim()).is_some())
}

/// Two amounts of one thing: `60 g (60 %)`, `60 g / 60 %`.
fn two(text: &str) -> Option<(&str, &str)> {
    let inside = text.strip_suffix([')', ']']).and_then(|text| text.split_once(['(', '[']));
    let (first, second) = inside.or_else(|| text.split_once(" / ")).or_else(|| text.split_once(" = "))?;
    let (first, second) = (first.trim(), second.trim());
    (!first.is_empty() && !second.is_empty()).then_some((first, second))
}

/// What two amounts of one thing come to.
fn both(first: Content, second: Content) -> Content {
    let unit_of = |content: &Content| match content {
        Content::Amount { amount: Amount::Of { unit, active: false, .. }, .. } => Some(*unit),
        _ => None,
    };
    let measured = |content: &Content| {
        matches!(unit_of(content), Some(AmountUnit::Volume(_) | AmountUnit::Drop)) || *content == Content::Unweighed
    };
    let shared = |content: &Content| matches!(unit_of(content), Some(AmountUnit::Mass(_) | AmountUnit::Percent));
    match (unit_of(&first), unit_of(&second)) {
        // What is weighed goes before what is spooned.
        _ if measured(&first) && shared(&second) => second,
        _ if measured(&second) && shared(&first) => first,
        (Some(AmountUnit::Mass(_)), Some(AmountUnit::Percent)) => joined(first, second),
        (Some(AmountUnit::Percent), Some(AmountUnit::Mass(_))) => joined(second, first),
        (Some(AmountUnit::Mass(one)), Some(AmountUnit::Mass(other))) if agree(&first, one, &second, other) => {
            if matches!(other, MassUnit::Ounce | MassUnit::Pound) { first } else { second }
        }
        _ => Content::NotUnderstood("two amounts that do not agree; which one is it?"),
    }
}

fn joined(mass: Content, percent: Content) -> Content {
    match (mass, percent) {
        (Content::Amount { amount: mass, .. }, Content::Amount { amount: percent, .. }) => {
            Content::Both { mass, percent }
        }
        _ => Content::NotUnderstood(NOT_UNDERSTOOD),
    }
}

/// Are two masses the same but for the rounding of both?
fn agree(first: &Content, first_unit: MassUnit, second: &Content, second_unit: MassUnit) -> bool {
    let grams = |content: &Content, unit: MassUnit| match content {
        Content::Amount { amount: Amount::Of { value, .. }, .. } => {
            Some((value * unit.grams(), half_a_digit(value) * unit.grams()))
        }
        _ => None,
    };
    match (grams(first, first_unit), grams(second, second_unit)) {
        (Some((one, rest)), Some((other, other_rest))) => (one - other).abs() <= rest + other_rest,
        _ => false,
    }
}

/// Half a unit of the last digit of a figure: what it may have been rounded by.
pub(super) fn half_a_digit(value: &Exact) -> Exact {
    let decimals = value.to_string().split_once('.').map_or(0, |(_, decimals)| decimals.len());
    (0..decimals).fold(Exact::ratio(1, 2), |half, _| half * Exact::ratio(1, 10))
}

fn fill(text: &str) -> Option<Content> {
    let filled = |to| Content::Amount { amount: Amount::Fill { to }, mark: Mark::None, thousands: None };
    let behind_word = words().fill.strip(text).map(str::trim_start);
    if behind_word == Some("") {
        return Some(filled(None));
    }
    let rest = behind_word.unwrap_or(text);
    let behind_to = words().fill_to.strip(rest).map(str::trim_start);
    let target = behind_to.or(behind_word)?;
    if target.starts_with("ph") {
        return Some(match estimate(target) {
            Some(amount) => Content::Loosely { amount, reason: ESTIMATED },
            None => Content::NotUnderstood("how much brings a pH is a figure that only a trial gives"),
        });
    }
    Some(match figures(target) {
        Content::Amount { amount: Amount::Of { value, unit, active: false }, mark, thousands }
            if unit != AmountUnit::Drop =>
        {
            // "Up to 3 %" is a bound, "up to 100" fills.
            let whole = value == Exact::hundred() || matches!(unit, AmountUnit::Mass(_) | AmountUnit::Volume(_));
            if behind_word.is_none() && !whole && rest.starts_with("up") {
                let reason = "the amount is a bound; which figure is it?";
                return Some(Content::Loosely { amount: Amount::Of { value, unit, active: false }, reason });
            }
            let to_fill = |amount: Amount| match amount {
                Amount::Of { value, unit, .. } => Amount::Fill { to: Some((value, unit)) },
                other => other,
            };
            Content::Amount {
                amount: Amount::Fill { to: Some((value, unit)) },
                mark,
                thousands: thousands.map(to_fill),
            }
        }
        Content::OutOfRange { allowed } => Content::OutOfRange { allowed },
        _ => Content::NotUnderstood(NOT_UNDERSTOOD),
    })
}

/// The amount beside a pH that is said to bring it about: `ph 4.8-5.2 (about 0.6 %)`.
fn estimate(text: &str) -> Option<Amount> {
    let mut rest = text.trim_start_matches("ph").trim_start();
    while let Some((_, behind)) = rest.split_once(' ') {
        rest = behind.trim_start();
        if let Content::Amount { amount, .. } | Content::Loosely { amount, .. } =
            content(rest.trim_matches(['(', ')', '[', ']', ',', ' ']))
            && let Amount::Of { unit, .. } | Amount::Range { unit, .. } = amount
            && unit != AmountUnit::Unstated
        {
            return Some(amount);
        }
    }
    None
}

/// The one amount that a product or a sum comes to.
fn composed(text: &str) -> Option<(Exact, AmountUnit)> {
    let plain = |text: &str| match figures(text) {
        Content::Amount { amount: Amount::Of { value, unit, active: false }, thousands: None, .. } => {
            Some((value, unit))
        }
        _ => None,
    };
    if let Some((count, each)) = counted(text) {
        return plain(each)
            .filter(|(_, unit)| *unit != AmountUnit::Unstated)
            .map(|(value, unit)| (count * value, unit));
    }
    let mass = |text: &str| match plain(text)? {
        (value, AmountUnit::Mass(unit)) => Some((value, unit)),
        _ => None,
    };
    sum(text, mass).map(|(value, unit)| (value, AmountUnit::Mass(unit)))
}

/// A figure or a range with its unit.
fn figures(text: &str) -> Content {
    if let Some(behind) = text.strip_prefix('-').map(str::trim_start) {
        // Only what would be an amount without the sign is a negative amount.
        return match figures_unsigned(behind) {
            Content::Amount { amount: Amount::Of { unit, .. }, .. } => Content::OutOfRange { allowed: allowed(unit) },
            _ => Content::NotUnderstood(NOT_UNDERSTOOD),
        };
    }
    figures_unsigned(text)
}

fn figures_unsigned(text: &str) -> Content {
    let not_understood = Content::NotUnderstood(NOT_UNDERSTOOD);
    let Some((first, rest)) = scan(text) else { return not_understood };
    let rest = rest.trim_start();
    let second = rest
        .split_once('-')
        .or_else(|| rest.split_once("to ").filter(|(before, _)| before.is_empty() || before.ends_with(' ')));
    let Some((first_unit, second)) = second else {
        let Some((unit, active)) = unit(rest) else { return not_understood };
        return one(first, unit, active);
    };
    let Some((second, last_unit)) = scan(second.trim_start()) else { return not_understood };
    let Some((unit_of_both, active)) = unit(last_unit.trim()) else { return not_understood };
    let first_unit = first_unit.trim();
    if !first_unit.is_empty() && unit(first_unit) != Some((unit_of_both, active)) {
        return Content::NotUnderstood("the two ends of the range have different units");
    }
    range(first, second, unit_of_both, active)
}

fn one(figure: Figure, unit: AmountUnit, active: bool) -> Content {
    let of = |value: Exact| Amount::Of { value, unit, active };
    match (&figure.with_thousands, figure.mark) {
        (Some(thousands), Mark::Comma) => {
            Content::TwoWays { decimal: of(figure.value), thousands: of(thousands.clone()) }
        }
        _ if is_outside(&figure.value, unit) => Content::OutOfRange { allowed: allowed(unit) },
        (thousands, mark) => Content::Amount { thousands: thousands.clone().map(of), amount: of(figure.value), mark },
    }
}

fn range(low: Figure, high: Figure, unit: AmountUnit, active: bool) -> Content {
    if [&low, &high].iter().any(|end| end.mark == Mark::Comma && end.with_thousands.is_some()) {
        return Content::NotUnderstood("the mark before three digits may part decimals or thousands");
    }
    if low.value >= high.value {
        return Content::NotUnderstood("the low end of the range is not below the high end");
    }
    if is_outside(&high.value, unit) {
        return Content::OutOfRange { allowed: allowed(unit) };
    }
    let mark = if low.mark == Mark::Comma { low.mark } else { high.mark };
    Content::Amount { amount: Amount::Range { low: low.value, high: high.value, unit, active }, mark, thousands: None }
}

/// Outside what the unit allows. A bare number is judged when it is known what it counts, a volume and drops when their
/// mass is known.
fn is_outside(value: &Exact, unit: AmountUnit) -> bool {
    match unit {
        AmountUnit::Percent => Quantity::Percent.check(value).is_err(),
        AmountUnit::Mass(unit) => Quantity::Mass.check(&(value * unit.grams())).is_err(),
        AmountUnit::Unstated | AmountUnit::Volume(_) | AmountUnit::Drop => false,
    }
}

/// What the unit allows, for messages.
pub(super) fn allowed(unit: AmountUnit) -> String {
    match unit {
        AmountUnit::Percent | AmountUnit::Unstated => Quantity::Percent.allowed(),
        AmountUnit::Mass(_) | AmountUnit::Volume(_) | AmountUnit::Drop => Quantity::Mass.allowed(),
    }
}

/// The unit and whether active matter is counted; nothing for a unit that is not known.
fn unit(text: &str) -> Option<(AmountUnit, bool)> {
    let text = text.strip_suffix('.').unwrap_or(text);
    let words = |text: &str, endings: [&str; 3]| {
        endings.iter().find_map(|ending| text.strip_suffix(ending)).map(|rest| rest.trim_end().to_string())
    };
    if let Some(rest) = words(text, ["as active", "active matter", "active"]) {
        // A bare number of active could be percent or grams of it.
        return plain_unit(&rest)
            .filter(|unit| matches!(unit, AmountUnit::Percent | AmountUnit::Mass(_)))
            .map(|unit| (unit, true));
    }
    let supplied = words(text, ["as supplied", "as bought", "as is"]);
    plain_unit(supplied.as_deref().unwrap_or(text)).map(|unit| (unit, false))
}

fn plain_unit(text: &str) -> Option<AmountUnit> {
    Some(match text {
        "" => AmountUnit::Unstated,
        "%" | "percent" | "per cent" | "pct" | "% w/w" | "%w/w" | "% (w/w)" | "%(w/w)" | "% by weight"
        | "% by mass" | "wt%" | "wt %" | "wt.%" | "wt. %" | "wt-%" | "% wt" | "%wt" => AmountUnit::Percent,
        "g" | "gm" | "gms" | "gram" | "grams" | "gramm" | "gramme" | "grammes" => AmountUnit::Mass(MassUnit::Gram),
        "kg" | "kilo" | "kilos" | "kilogram" | "kilograms" => AmountUnit::Mass(MassUnit::Kilogram),
        "mg" | "milligram" | "milligrams" => AmountUnit::Mass(MassUnit::Milligram),
        "oz" | "ounce" | "ounces" => AmountUnit::Mass(MassUnit::Ounce),
        "lb" | "lbs" | "pound" | "pounds" => AmountUnit::Mass(MassUnit::Pound),
        "drop" | "drops" => AmountUnit::Drop,
        volume => AmountUnit::Volume(VolumeUnit::written(volume)?),
    })
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn reads_what_people_write() {
        for (text, canonical) in [
            ("12 %", "12 %"),
            ("12", "12"),
            ("12.5% active", "12.5 % active"),
            ("12.5 % active matter", "12.5 % active"),
            ("12 % as supplied", "12 %"),
            ("12 % w/w", "12 %"),
            ("30 g", "30 g"),
            ("30 g active", "30 g active"),
            ("30g", "30 g"),
            ("1.5 kg", "1.5 kg"),
            ("250 MG", "250 mg"),
            ("2 oz", "2 oz"),
            ("1 lb.", "1 lb"),
            ("5 mL", "5 ml"),
            ("1 tsp", "1 tsp"),
            ("½ tsp.", "0.5 tsp"),
            ("1 1/2 tablespoons", "1.5 tbsp"),
            ("2 fl. oz.", "2 fl oz"),
            ("3 drops", "3 drops"),
            ("1 drop", "1 drops"),
            ("3-5 %", "3 to 5 %"),
            ("3\u{2013}5\u{a0}%", "3 to 5 %"),
            ("3 % - 5 %", "3 to 5 %"),
            ("3 to 5 drops", "3 to 5 drops"),
            ("1,5-2,5 %", "1.5 to 2.5 %"),
            ("to 100", "q.s. to 100"),
            ("ad 100 %", "q.s. to 100 %"),
            ("q.s.", "q.s."),
            ("QS", "q.s."),
            ("qs.", "q.s."),
            ("qs to 100", "q.s. to 100"),
            ("q.s. to 200 g", "q.s. to 200 g"),
            ("balance", "q.s."),
            ("1,5 %", "1.5 %"),
            ("12 ％", "12 %"),
            ("2 % (optional)", "2 %"),
            ("2 %, optional", "2 %"),
            ("0 %", "0 %"),
        ] {
            let amount: Amount = text.parse().unwrap_or_else(|error| panic!("{text}: {error}"));
            assert_eq!(amount.to_string(), canonical, "{text}");
        }
    }

    #[test]
    fn never_guesses() {
        for text in [
            "a pinch",
            "12 %%",
            "12 x",
            "~5 %",
            "about 5 %",
            "<1 %",
            "up to 3 %",
            "5 ± 1 %",
            "30 g (12 %)",
            "1 cup",
            "5 % v/v",
            "5-3 %",
            "5-5 %",
            "3 % - 5 g",
            "12 active",
            "q.s. to pH 5.5",
            "qs100",
            "1.2.3 g",
            "1e400 g",
            "nan %",
            "inf",
            "5 gr",
            "2 T",
            "3-4-5 %",
            "12 %\u{0}",
            "to",
            "to 3 drops",
            "12,345-20 g",
            "--5 %",
            "1 000 g",
        ] {
            assert!(text.parse::<Amount>().unwrap_err().is_not_a_number(), "{text}");
        }
        for text in ["-5 %", "\u{2212}5 %", "101 %", "90-101 %", "1e9 kg", "-3 g", "-1"] {
            assert!(text.parse::<Amount>().unwrap_err().is_out_of_range(), "{text}");
        }
        for text in ["", "  ", "optional", "(optional)"] {
            assert!(text.parse::<Amount>().unwrap_err().is_missing(), "{text}");
        }
        let error = "1,500 g".parse::<Amount>().unwrap_err();
        assert!(error.is_question() && error.to_string().ends_with("write 1.5 g or 1500 g"), "{error}");
    }

    proptest! {
        #[test]
        fn any_text_is_read_or_refused(text in "\\PC{0,40}") {
            let _ = text.parse::<Amount>();
        }

        #[test]
        fn what_is_printed_reads_back(text in "[0-9]{1,4}([.,/][0-9]{1,3})?( ?[½¼])?( ?(to|-) ?[0-9]{1,3})? ?(%|g|kg|oz|ml|tsp|fl oz|drops|% active|)") {
            if let Ok(amount) = text.parse::<Amount>() {
                prop_assert_eq!(amount.to_string().parse::<Amount>().unwrap(), amount);
            }
        }
    }
}
