//! The lines of a draft that count, and the questions about them.

use std::sync::Arc;

use super::amount::half_a_digit;
use super::{Amount, AmountUnit, Choice, Draft, DraftLine, Question, QuestionId, QuestionKind};
use crate::bounds::Quantity;
use crate::document::shown;
use crate::material::Material;
use crate::number::Exact;

/// What a line's amount counts, known before its questions are answered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Counted {
    Percent,
    Bare,
    Mass,
    Fill,
}

/// An amount as supplied about which nothing is left to ask but what it is a share of.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Entry {
    Percent(Exact),
    Bare(Exact),
    Grams(Exact),
    Fill,
}

/// A mass in grams and a percentage, each with what it may have been rounded by.
#[derive(Clone, Debug)]
pub(super) struct Pair {
    pub(super) mass: Amount,
    pub(super) grams: Exact,
    grams_rest: Exact,
    pub(super) percent: Exact,
    percent_rest: Exact,
}

impl Pair {
    /// Of a mass and a percentage as supplied.
    pub(super) fn of(mass: Amount, percent: Amount) -> Option<Self> {
        let (Amount::Of { value, unit: AmountUnit::Mass(unit), .. }, Amount::Of { value: percent, .. }) =
            (&mass, &percent)
        else {
            return None;
        };
        let (grams, grams_rest) = (value * unit.grams(), half_a_digit(value) * unit.grams());
        let (percent, percent_rest) = (percent.clone(), half_a_digit(percent));
        Some(Pair { mass, grams, grams_rest, percent, percent_rest })
    }

    /// Is the mass this percentage of the whole, but for the rounding of both?
    pub(super) fn agrees(&self, whole: &Exact) -> bool {
        let share = |percent: &Exact| percent * whole / Exact::hundred();
        (&self.grams - share(&self.percent)).abs() <= &self.grams_rest + share(&self.percent_rest)
    }
}

/// A line that counts.
pub(super) struct Row<'d> {
    pub(super) number: usize,
    pub(super) line: &'d DraftLine,
    pub(super) material: Option<Arc<Material>>,
    /// The raw materials it could be: that one, or those among which a question is open.
    pub(super) possible: Vec<&'d Arc<Material>>,
    pub(super) counted: Option<Counted>,
    pub(super) entry: Option<Entry>,
    /// It belongs to the recipe; an optional line does when that is answered.
    pub(super) stays: bool,
    /// The unit of its one figure.
    pub(super) unit: Option<AmountUnit>,
    /// A mass and a percentage, where it gives both.
    pub(super) pair: Option<Pair>,
    /// What the line that fills up fills to, where stated.
    pub(super) fill_to: Option<(Exact, AmountUnit)>,
    /// The row it is added to; its own index where it stands for itself.
    pub(super) head: usize,
}

/// Collects questions.
pub(super) struct Asker<'d> {
    pub(super) draft: &'d Draft,
    pub(super) questions: Vec<Question>,
}

impl Asker<'_> {
    /// Asks about a line.
    pub(super) fn about(
        &mut self,
        line: usize,
        kind: QuestionKind,
        message: &str,
        found: String,
        allowed: impl Into<String>,
        choices: Vec<Choice>,
    ) {
        let what = self
            .draft
            .lines
            .get(line - 1)
            .map(|line| shown(line.written().unwrap_or(line.item()).trim()))
            .unwrap_or_default();
        let place = format!("line {line}, {what}");
        self.questions.push(Question {
            id: QuestionId { kind, line: Some(line) },
            place,
            message: message.to_string(),
            found,
            allowed: allowed.into(),
            choices,
            in_percent: false,
        });
    }

    /// Is a mass one that can be weighed? Else it is asked about.
    pub(super) fn mass_in_range(&mut self, line: usize, grams: &Exact, found: String) -> bool {
        let fits = Quantity::Mass.check(grams).is_ok();
        if !fits {
            self.about(
                line,
                QuestionKind::AmountOutOfRange,
                "the amount is out of range",
                found,
                Quantity::Mass.allowed(),
                Vec::new(),
            );
        }
        fits
    }

    /// Asks about the recipe as a whole.
    pub(super) fn overall(
        &mut self,
        kind: QuestionKind,
        message: &str,
        found: String,
        allowed: impl Into<String>,
        choices: Vec<Choice>,
    ) {
        let id = QuestionId { kind, line: None };
        self.questions.push(Question {
            id,
            place: "the recipe".to_string(),
            message: message.to_string(),
            found,
            allowed: allowed.into(),
            choices,
            in_percent: false,
        });
    }
}
