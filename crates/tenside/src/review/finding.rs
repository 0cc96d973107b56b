//! One finding of a review, as data and as a sentence.

use std::sync::Arc;

use crate::measure::{Basis, Measure};
use crate::number::{Date, Exact, Interval};
use crate::rule::{Bound, Caveat, Certainty, Rule, Severity, Value, Varied, Verdict, undissociated_percent};

/// The most decimals that are shown to tell a value from its limit.
const MOST_PLACES: u32 = 9;

/// One finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    rule: Arc<Rule>,
    verdict: Verdict,
}

impl Finding {
    pub(super) fn new(rule: Arc<Rule>, verdict: Verdict) -> Self {
        Finding { rule, verdict }
    }

    /// The stable name: that of the rule.
    #[must_use]
    pub fn slug(&self) -> &str {
        self.rule.slug()
    }

    /// The rule.
    #[must_use]
    pub fn rule(&self) -> &Arc<Rule> {
        &self.rule
    }

    /// How grave it is: as its rule, or less for what [`Finding::caveats`] say.
    #[must_use]
    pub fn severity(&self) -> Severity {
        self.verdict.severity
    }

    /// Why it is less grave than its rule.
    #[must_use]
    pub fn caveats(&self) -> &[Caveat] {
        &self.verdict.caveats
    }

    /// The later day from which it holds; none if it holds already.
    #[must_use]
    pub fn begins(&self) -> Option<Date> {
        self.caveats().iter().find_map(|caveat| if let Caveat::Begins(day) = caveat { Some(*day) } else { None })
    }

    /// Why it is less grave than its rule, in words with the way out.
    #[must_use]
    pub fn caveat(&self) -> Option<String> {
        let words = |caveat: &Caveat| match caveat {
            Caveat::PurposeNotStated(purpose) => {
                format!(
                    "the limit is for {purpose} only, and what the line is there for is not stated: state its purposes"
                )
            }
            Caveat::BoneDry => {
                "as charged it is not so, bone-dry it is: state the residual moisture as sold".to_string()
            }
            Caveat::Begins(day) => format!("it holds from {day} on"),
        };
        let words: Vec<String> = self.caveats().iter().map(words).collect();
        (!words.is_empty()).then(|| words.join("; "))
    }

    /// The words that are due on the label, or their sense.
    #[must_use]
    pub fn label(&self) -> Option<&str> {
        self.rule.label()
    }

    /// How certain it is.
    #[must_use]
    pub fn certainty(&self) -> Certainty {
        self.verdict.certainty
    }

    /// The lines it is about; none where it is about the whole.
    #[must_use]
    pub fn lines(&self) -> &[String] {
        &self.verdict.lines
    }

    /// Its place in words.
    #[must_use]
    pub fn place(&self) -> String {
        match self.lines() {
            [] => "formula".to_string(),
            [line] => format!("line {line:?}"),
            lines => format!("lines {}", lines.iter().map(|line| format!("{line:?}")).collect::<Vec<_>>().join(", ")),
        }
    }

    /// What was compared or is shown.
    #[must_use]
    pub fn value(&self) -> Option<&Value> {
        self.verdict.value.as_ref()
    }

    /// The limit that is not kept.
    #[must_use]
    pub fn limit(&self) -> Option<&(Bound, Exact)> {
        self.verdict.limit.as_ref()
    }

    /// The basis on which a measure was judged.
    #[must_use]
    pub fn basis(&self) -> Option<&Basis> {
        self.verdict.basis.as_ref()
    }

    /// Who says so.
    #[must_use]
    pub fn source(&self) -> &str {
        self.rule.source()
    }

    /// What it is about, for a rule that reads a measure.
    fn measure(&self) -> Option<&Measure> {
        self.verdict.measure.as_ref().or(match self.rule.subject() {
            Varied::Measure(measurand, _) => Some(&measurand.measure),
            _ => None,
        })
    }

    /// The value and its limit in words.
    #[must_use]
    pub fn numbers(&self) -> Option<String> {
        let value = match self.value()? {
            Value::Interval(interval, unit) => {
                let text = interval.text(places(interval, self.limit()));
                format!("{} {text} {unit}", self.measure().map_or_else(String::new, Measure::name)).trim().to_string()
            }
            Value::Number(number, unit) => format!("{number} {unit}").trim_end().to_string(),
            Value::Name(name) => name.clone(),
            Value::NotKnown(faults) => {
                let why: Vec<String> = faults.iter().map(ToString::to_string).collect();
                format!("{} unknown: {}", self.measure().map_or_else(String::new, Measure::name), why.join("; "))
                    .trim()
                    .to_string()
            }
        };
        let basis = self.basis().filter(|_| matches!(self.value(), Some(Value::Interval(..)))).map_or_else(
            String::new,
            |basis| match basis {
                Basis::Finished(moisture) if moisture.is_zero() => " bone-dry".to_string(),
                basis => format!(" {basis}"),
            },
        );
        let unit = match self.value() {
            Some(Value::Interval(_, unit)) => unit.as_str(),
            Some(Value::Number(_, unit)) => unit,
            _ => "",
        };
        // That there is some of it is said by the value alone.
        let asked = self.limit().filter(|(bound, limit)| *bound != Bound::AtMost || !limit.is_zero());
        let limit = asked.map_or_else(String::new, |(bound, limit)| {
            format!("; the rule asks for {} {limit} {unit}", bound.words()).trim_end().to_string()
        });
        Some(format!("{value}{basis}{limit}"))
    }

    /// What follows from the numbers beyond them: the share of anionic charge tied up, of an acid left undissociated.
    #[must_use]
    pub fn further(&self) -> Option<String> {
        match (self.value()?, self.rule.pka()) {
            (Value::Interval(ratio, _), _) if self.measure() == Some(&Measure::charge_ratio()) => {
                let tied =
                    |ratio: &Exact| if *ratio > Exact::ONE { Exact::hundred() } else { ratio * Exact::hundred() };
                Some(format!("at most {} % of the anionic charge can be tied up", ratio.map(tied).text(1)))
            }
            (Value::Number(ph, _), Some(pka)) => {
                let share = undissociated_percent(ph.to_f64(), Exact::from(pka).to_f64());
                Some(format!(
                    "about {share:.1} % of the acid is undissociated in water of this pH, an upper bound: micelles \
                     and fats take acid up"
                ))
            }
            _ => None,
        }
    }

    /// The finding as sentences: what, how certain, with which numbers, where, who says so, what to do.
    #[must_use]
    pub fn sentence(&self) -> String {
        let mut text = format!("{} ({}).", capital(self.rule.title()), self.certainty().words());
        if let Some(caveat) = self.caveat() {
            text += &format!(" {}.", capital(&caveat));
        }
        if let Some(numbers) = self.numbers() {
            text += &format!(" {}.", capital(&numbers));
        }
        // It begins with an identifier, which stays as it is.
        if let Some(remark) = &self.verdict.remark {
            text += &format!(" {remark}.");
        }
        if let Some(further) = self.further() {
            text += &format!(" {}.", capital(&further));
        }
        if !self.lines().is_empty() {
            text += &format!(" {}.", capital(&self.place()));
        }
        text += &format!(" Source: {}.", self.rule.marked_source());
        if let Some(label) = self.label() {
            text += &format!(" Due on the label: {label}.");
        }
        if let Some(advice) = self.rule.advice() {
            text += &format!(" {advice}");
        }
        text
    }
}

impl std::fmt::Display for Finding {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.sentence())
    }
}

/// Two decimals, or as many as tell the value from its limit.
fn places(value: &Interval, limit: Option<&(Bound, Exact)>) -> u32 {
    let Some((_, limit)) = limit else { return 2 };
    let ends = [value.low.as_ref(), value.typical.as_ref(), value.high.as_ref()];
    let same = |places: u32| {
        ends.into_iter().flatten().any(|end| end != limit && end.rounded_text(places) == limit.rounded_text(places))
    };
    (2..MOST_PLACES).find(|places| !same(*places)).unwrap_or(MOST_PLACES)
}

/// With a capital where the sentence begins with a word of plain small letters.
fn capital(text: &str) -> String {
    let first_word = text.split(' ').next().unwrap_or_default();
    if !first_word.bytes().all(|byte| byte.is_ascii_lowercase()) {
        return text.to_string();
    }
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_ascii_uppercase().to_string() + letters.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn decimals_tell_a_value_from_its_limit() {
        let limit = (Bound::AtMost, Exact::ratio(25, 10));
        assert_eq!(places(&Interval::point(Exact::from(3)), Some(&limit)), 2);
        assert_eq!(places(&Interval::point(Exact::ratio(250_002, 100_000)), Some(&limit)), 5);
        assert_eq!(places(&Interval::point(Exact::ratio(25, 10)), Some(&limit)), 2);
        assert_eq!(places(&Interval::point(Exact::from(3)), None), 2);
    }

    #[test]
    fn only_words_get_a_capital() {
        assert_eq!(capital("more salt"), "More salt");
        assert_eq!(capital("capb-30 takes"), "capb-30 takes");
        assert_eq!(capital("5.6"), "5.6");
        assert_eq!(capital(""), "");
    }
}
