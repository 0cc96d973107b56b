//! Lines that state the total, or the mass of the whole: compared with what the lines come to, and never counted.

use std::collections::HashMap;

use super::amount::{Content, read};
use super::row::{Asker, Counted, Row};
use super::{Amount, AmountUnit, Answer, Choice, Draft, LineRole, QuestionKind};
use crate::number::{Exact, MassUnit};

/// A total that a line states.
pub(super) struct Stated {
    pub(super) number: usize,
    value: Exact,
    unit: AmountUnit,
}

impl Stated {
    /// In grams, where it is a mass.
    pub(super) fn grams(&self) -> Option<Exact> {
        match self.unit {
            AmountUnit::Mass(unit) => Some(&self.value * unit.grams()),
            _ => None,
        }
    }

    /// Is it a whole of 100 %?
    pub(super) fn is_hundred(&self) -> bool {
        self.value == Exact::hundred() && matches!(self.unit, AmountUnit::Percent | AmountUnit::Unstated)
    }

    pub(super) fn text(&self) -> String {
        Amount::Of { value: self.value.clone(), unit: self.unit, active: false }.to_string()
    }
}

/// The totals that lines state, those set aside left out.
pub(super) fn stated(draft: &Draft) -> Vec<Stated> {
    let lines = draft.lines.iter().zip(1..).filter(|(line, _)| line.role() == LineRole::Total && !line.is_dropped());
    let counted = lines.filter(|(line, _)| !line.has_accepted(QuestionKind::TotalDisagrees));
    counted
        .filter_map(|(line, number)| match read(line.current_amount()).content {
            Content::Amount { amount: Amount::Of { value, unit, active: false }, .. } => {
                Some(Stated { number, value, unit })
            }
            Content::Both { mass: Amount::Of { value, unit, .. }, .. } => Some(Stated { number, value, unit }),
            _ => None,
        })
        .collect()
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
    let mut found = HashMap::new();
    for total in stated {
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
            _ => None,
        };
        let Some((sum, unit)) = sum else {
            found.insert(total.number, "nothing to compare it with".to_string());
            continue;
        };
        let come_to = Amount::Of { value: sum.clone(), unit, active: false }.to_string();
        if sum == total.value {
            found.insert(total.number, format!("the lines come to {come_to}, as it says"));
            continue;
        }
        found.insert(total.number, format!("the lines come to {come_to}"));
        // That the total is not 100 is asked about anyway.
        if total.is_hundred() && !masses {
            continue;
        }
        let choices = vec![Choice::new("set the total aside: the lines are right", Answer::Accept)];
        let message = format!("the lines come to {come_to}, the total says {}", total.text());
        asker.about(total.number, QuestionKind::TotalDisagrees, &message, come_to, "the sum of the lines", choices);
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
