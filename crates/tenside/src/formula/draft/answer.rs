//! Answers to questions, and the choices that questions offer.

use super::kind::{FigureUnit, QuestionId, QuestionKind};
use super::split::{Split, split};
use super::{Amount, LineRole};
use crate::document::{Named, check_name, check_slug, shown};
use crate::error::{Error, Fault, FaultKind};

/// An answer to a question.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[non_exhaustive]
pub enum Answer {
    /// Take it as it stands.
    Accept,
    /// Leave the line out.
    Drop,
    /// The line's amount.
    Amount(String),
    /// The amount of a line, where the question is about the recipe as a whole.
    AmountOf {
        /// The line, counted from 1.
        line: usize,
        /// Its amount.
        amount: String,
    },
    /// The id of the raw material that is meant.
    Material(String),
    /// None of those offered: the line stays open until the catalogue has its raw material.
    LeaveOpen,
    /// The lot that is meant.
    Lot(String),
    /// What the line is.
    ReadAs(LineRole),
    /// What the line should have said.
    Rewrite {
        /// The raw material.
        item: String,
        /// Its amount.
        amount: String,
    },
    /// Add the line to the earlier one of the same raw material.
    Merge,
    /// Keep the line apart under this name.
    Name(String),
    /// Scale every line so that the total is exactly 100.
    Normalise,
    /// This line fills to 100; the others that wanted to will need a figure.
    FillWith(usize),
    /// The mass of the whole batch.
    Batch(String),
    /// What the figures without a unit count.
    Unit(FigureUnit),
}

impl Answer {
    /// Does it answer a question of this kind?
    pub(super) fn fits(&self, id: QuestionId) -> bool {
        use QuestionKind as Kind;
        match self {
            Answer::Drop | Answer::Amount(_) | Answer::Material(_) | Answer::Rewrite { .. } | Answer::ReadAs(_) => {
                id.line.is_some()
            }
            Answer::LeaveOpen => matches!(
                id.kind,
                Kind::UnknownMaterial | Kind::AmbiguousMaterial | Kind::FigureInName | Kind::UnknownLot
            ),
            Answer::Lot(_) => id.kind == Kind::UnknownLot,
            Answer::Accept => matches!(
                id.kind,
                Kind::FigureInName
                    | Kind::MethodOnly
                    | Kind::OptionalLine
                    | Kind::Ounce
                    | Kind::ActiveFigure
                    | Kind::SameMaterialTwice
                    | Kind::QsNotWater
                    | Kind::FullBeforeQs
                    | Kind::UnknownLot
                    | Kind::TotalDisagrees
            ),
            Answer::Merge | Answer::Name(_) => id.kind == Kind::SameMaterialTwice,
            Answer::Normalise => matches!(id.kind, Kind::TotalNotHundred | Kind::FullBeforeQs),
            Answer::FillWith(_) => id.kind == Kind::SeveralQs,
            Answer::Batch(_) => {
                matches!(id.kind, Kind::MixedUnits | Kind::BatchMissing | Kind::QsTarget | Kind::UnitMissing)
            }
            Answer::Unit(_) => {
                matches!(id.kind, Kind::UnitMissing | Kind::TotalNotHundred | Kind::AmountOutOfRange | Kind::QsTarget)
            }
            Answer::AmountOf { .. } => id.line.is_none() || id.kind == Kind::FullBeforeQs,
        }
    }

    /// An answer in words of one's own: an id where a raw material is asked for, an amount, a lot, a name, a batch
    /// mass, a unit.
    ///
    /// ```
    /// use tenside::formula::{Answer, QuestionId};
    /// let id: QuestionId = "ambiguous-material@2".parse()?;
    /// assert_eq!(Answer::read(id, "sci-powder")?, Answer::Material("sci-powder".to_string()));
    /// let id: QuestionId = "range@3".parse()?;
    /// assert_eq!(Answer::read(id, "4 %")?, Answer::Amount("4 %".to_string()));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Words that do not answer such a question.
    pub fn read(id: QuestionId, text: &str) -> Result<Self, Error> {
        use QuestionKind as Kind;
        let material = || check_slug(text).map(Answer::Material);
        match id.kind {
            Kind::UnknownMaterial | Kind::AmbiguousMaterial => material(),
            Kind::FigureInName => {
                text.parse::<Amount>().map(|_| Answer::Amount(text.to_string())).or_else(|_| material())
            }
            Kind::UnknownLot => check_name(text).map(Answer::Lot),
            Kind::SameMaterialTwice => check_name(text).map(Answer::Name),
            Kind::UnitMissing => text.parse().map(Answer::Unit),
            Kind::MixedUnits | Kind::BatchMissing => {
                text.parse::<crate::number::Mass>().map(|_| Answer::Batch(text.to_string()))
            }
            Kind::UnreadableLine => text.parse().map(Answer::ReadAs).or_else(|error: Error| match split(text, 0) {
                Split { item, amount: Some(amount), .. } => Ok(Answer::Rewrite { item, amount }),
                _ => Err(error),
            }),
            Kind::OptionalLine | Kind::QsNotWater | Kind::SeveralQs | Kind::TotalNotHundred | Kind::TotalDisagrees => {
                let fault = Fault::new(FaultKind::Unsupported, "the question is not answered by words of one's own")
                    .at(id.to_string())
                    .value(shown(text));
                Err(fault.allowed("one of its choices, or its number from 0").into())
            }
            _ => text.parse::<Amount>().map(|_| Answer::Amount(text.to_string())),
        }
    }

    /// The answer in words.
    pub(super) fn what(&self) -> &'static str {
        match self {
            Answer::Accept => "accept",
            Answer::Drop => "drop",
            Answer::Amount(_) => "amount",
            Answer::AmountOf { .. } => "amount of a line",
            Answer::Material(_) => "material",
            Answer::LeaveOpen => "leave open",
            Answer::Lot(_) => "lot",
            Answer::ReadAs(_) => "role of the line",
            Answer::Rewrite { .. } => "rewrite",
            Answer::Merge => "merge",
            Answer::Name(_) => "name",
            Answer::Normalise => "normalise",
            Answer::FillWith(_) => "fill with",
            Answer::Batch(_) => "batch mass",
            Answer::Unit(_) => "unit",
        }
    }
}

/// One way to answer a question.
#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub struct Choice {
    /// What it does, in words.
    pub label: String,
    /// The answer to give.
    pub answer: Answer,
}

impl Choice {
    pub(super) fn new(label: impl Into<String>, answer: Answer) -> Self {
        Choice { label: label.into(), answer }
    }
}

impl QuestionKind {
    /// The kinds whose slugs a document lists under `accepted`.
    pub(super) fn can_be_accepted() -> impl Iterator<Item = QuestionKind> {
        QuestionKind::ALL.iter().copied().filter(|kind| Answer::Accept.fits(QuestionId { kind: *kind, line: Some(1) }))
    }
}
