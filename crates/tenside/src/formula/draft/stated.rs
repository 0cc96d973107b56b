//! Lines that state the total, or the mass of the whole: compared with what the lines come to, and never counted.

use std::collections::HashMap;

use super::amount::{Content, read, shown};
use super::row::{Asker, Counted, Row};
use super::{Amount, AmountUnit, Answer, Choice, Draft, LineRole, QuestionKind};
use crate::number::{Exact, MassUnit};

/// A total that a line states.
pub(super) struct Stated {
    pub(super) number: usize,
    /// One figure, or the ends of a range.
    low: Exact,
    high: Exact,
    unit: AmountUnit,
    is_exact: bool,
}

impl Stated {
    fn of(number: usize, amount: Amount, is_exact: bool) -> Option<Self> {
        let (low, high, unit) = match amount {
            Amount::Of { value, unit, active: false } => (value.clone(), value, unit),
            Amount::Range { low, high, unit, active: false } => (low, high, unit),
            Amount::Of { .. } | Amount::Range { .. } | Amount::Fill { .. } => return None,
        };
        Some(Stated { number, is_exact: is_exact && low == high, low, high, unit })
    }

    /// In grams, where it is one mass, meant exactly.
    pub(super) fn grams(&self) -> Option<Exact> {
        match self.unit {
            AmountUnit::Mass(unit) if self.is_exact => Some(&self.low * unit.grams()),
            _ => None,
        }
    }

    /// Is it a whole of 100 %?
    pub(super) fn is_hundred(&self) -> bool {
        self.allows(&Exact::hundred()) && matches!(self.unit, AmountUnit::Percent | AmountUnit::Unstated)
    }

    fn allows(&self, sum: &Exact) -> bool {
        &self.low <= sum && sum <= &self.high
    }

    pub(super) fn text(&self) -> String {
        let (low, high, unit, active) = (self.low.clone(), self.high.clone(), self.unit, false);
        if low == high { Amount::Of { value: low, unit, active } } else { Amount::Range { low, high, unit, active } }
            .to_string()
    }
}

/// The totals that lines state, those set aside left out. Where what stands there can be compared with nothing, that is
/// asked about.
pub(super) fn stated(draft: &Draft, asker: &mut Asker<'_>) -> Vec<Stated> {
    let lines = draft.lines.iter().zip(1..).filter(|(line, _)| line.role() == LineRole::Total && !line.is_dropped());
    let mut found = Vec::new();
    for (line, number) in lines.filter(|(line, _)| !line.has_accepted(QuestionKind::TotalDisagrees)) {
        let content = read(line.current_amount()).content;
        let is_exact = !matches!(content, Content::Loosely { .. });
        let amounts = match content {
            Content::Nothing => continue,
            Content::Amount { amount, .. } | Content::Loosely { amount, .. } => vec![amount],
            Content::Both { mass, percent } => vec![mass, percent],
            Content::TwoWays { .. } | Content::OutOfRange { .. } | Content::Unweighed | Content::NotUnderstood(_) => {
                Vec::new()
            }
        };
        let before = found.len();
        found.extend(amounts.into_iter().filter_map(|amount| Stated::of(number, amount, is_exact)));
        // What a spreadsheet works out is no figure that anybody stated.
        if found.len() == before && !line.current_amount().starts_with('=') {
            let message = "the total cannot be compared with what the lines come to";
            let says = shown(line.current_amount());
            asker.about(number, QuestionKind::TotalDisagrees, message, says, "the sum of the lines", set_aside());
        }
    }
    found
}

fn set_aside() -> Vec<Choice> {
    vec![Choice::new("set the total aside: the lines are right", Answer::Accept)]
}

/// What the lines come to.
pub(super) struct Sums<'s> {
    pub(super) percent: &'s Exact,
    pub(super) grams: &'s Exact,
    /// The mass of the whole, where it is known.
    pub(super) batch: Option<&'s Exact>,
}

/// Compares the totals with the lines; gives what came of it, by the number of the line.
pub(super) fn compare(
    stated: &[Stated],
    rows: &[Row<'_>],
    sums: &Sums<'_>,
    asker: &mut Asker<'_>,
) -> HashMap<usize, String> {
    let counts = |counted: Counted| rows.iter().any(|row| row.counted == Some(counted));
    let (masses, fills) =
        (rows.iter().any(|row| row.counted == Some(Counted::Mass)) || sums.grams.is_positive(), counts(Counted::Fill));
    let percents = sums.percent.is_positive();
    // Of lines that give both, percentages count, and a total may be the masses'.
    let pairs: Option<Exact> = rows.iter().map(|row| row.pair.as_ref().map(|pair| &pair.grams)).sum();
    let mut found: HashMap<usize, String> = HashMap::new();
    for total in stated {
        let mut remark = |text: String| {
            let said = found.entry(total.number).or_default();
            *said = if said.is_empty() { text } else { format!("{said}; {text}") };
        };
        let in_grams = |grams: &Exact, unit: MassUnit| grams.checked_div(&unit.grams());
        let sum = match total.unit {
            AmountUnit::Percent if !masses => {
                Some((if fills { Exact::hundred() } else { sums.percent.clone() }, AmountUnit::Percent))
            }
            AmountUnit::Percent => Some((Exact::hundred(), AmountUnit::Percent)),
            AmountUnit::Unstated if !masses => {
                Some((if fills { Exact::hundred() } else { sums.percent.clone() }, AmountUnit::Percent))
            }
            AmountUnit::Unstated | AmountUnit::Mass(_) if masses => {
                let unit = if let AmountUnit::Mass(unit) = total.unit { unit } else { unit_of(rows) };
                let grams = if percents || fills { sums.batch } else { Some(sums.grams) };
                grams.and_then(|grams| in_grams(grams, unit)).map(|sum| (sum, AmountUnit::Mass(unit)))
            }
            AmountUnit::Mass(unit) => {
                pairs.as_ref().and_then(|grams| in_grams(grams, unit)).map(|sum| (sum, AmountUnit::Mass(unit)))
            }
            _ => None,
        };
        let Some((sum, unit)) = sum else {
            remark("nothing to compare it with".to_string());
            continue;
        };
        let come_to = Amount::Of { value: sum.clone(), unit, active: false }.to_string();
        if total.allows(&sum) {
            remark(format!("the lines come to {come_to}, as it says"));
            continue;
        }
        remark(format!("the lines come to {come_to}"));
        // That the total is not 100 is asked about anyway.
        if total.is_hundred() && !masses {
            continue;
        }
        let message = format!("the lines come to {come_to}, the total says {}", total.text());
        asker.about(total.number, QuestionKind::TotalDisagrees, &message, come_to, "the sum of the lines", set_aside());
    }
    found
}

/// The unit of mass in which all lines are written; else grams.
fn unit_of(rows: &[Row<'_>]) -> MassUnit {
    let mut units = rows.iter().filter_map(|row| match row.unit {
        Some(AmountUnit::Mass(unit)) => Some(unit),
        _ => None,
    });
    match units.next() {
        Some(first) if units.all(|unit| unit == first) => first,
        _ => MassUnit::Gram,
    }
}
