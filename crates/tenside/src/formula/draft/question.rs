//! Questions: what only the person who wrote the recipe can say, each with the ways to answer it.

use std::fmt;
use std::str::FromStr;

use crate::document::{Named, named_enum};
use crate::error::{Error, Fault, FaultKind};

named_enum! {
    /// What is asked.
    QuestionKind "question" {
        /// A line that is not a raw material with an amount.
        UnreadableLine = "unreadable-line",
        /// A raw material that the catalogue does not have.
        UnknownMaterial = "unknown-material",
        /// A name that could mean several raw materials.
        AmbiguousMaterial = "ambiguous-material",
        /// A figure in the name of the raw material, such as a strength, which may say which material is meant, or may be the amount.
        FigureInName = "figure-in-name",
        /// A raw material that stands in the method but not in the list.
        MethodOnly = "method-only",
        /// A line marked optional.
        OptionalLine = "optional-line",
        /// No amount.
        AmountMissing = "amount-missing",
        /// An amount that is not understood.
        AmountUnreadable = "amount-unreadable",
        /// An amount outside what its unit allows.
        AmountOutOfRange = "amount-out-of-range",
        /// A mark before three digits that may part decimals or thousands.
        DecimalMark = "decimal-mark",
        /// A range instead of a figure.
        Range = "range",
        /// Drops, whose mass nobody knows.
        Drops = "drops",
        /// Ounces of a liquid: a mass, or fluid ounces.
        Ounce = "ounce",
        /// A volume of something without a density that would make a mass of it.
        VolumeWithoutDensity = "volume-without-density",
        /// An amount of active matter where formulas count materials as supplied.
        ActiveFigure = "active-figure",
        /// The same raw material on two lines.
        SameMaterialTwice = "same-material-twice",
        /// The line that fills to 100 is not water.
        QsNotWater = "qs-not-water",
        /// The line that fills up fills to something other than the whole.
        QsTarget = "qs-target",
        /// Several lines that fill to 100.
        SeveralQs = "several-qs",
        /// Figures without a unit beside masses or volumes.
        UnitMissing = "unit-missing",
        /// Percentages beside masses, without a batch mass.
        MixedUnits = "mixed-units",
        /// A line that fills up among masses, without a batch mass.
        BatchMissing = "batch-missing",
        /// The other lines leave nothing for the line that fills to 100.
        FullBeforeQs = "full-before-qs",
        /// The total is not 100.
        TotalNotHundred = "total-not-hundred",
    }
}

/// Which question: its kind and, where it is about one line, the line's number from 1. It prints as `range@3` and reads that back.
///
/// ```
/// use tenside::formula::{QuestionId, QuestionKind};
/// let id: QuestionId = "range@3".parse()?;
/// assert_eq!(id, QuestionId { kind: QuestionKind::Range, line: Some(3) });
/// assert_eq!(id.to_string(), "range@3");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct QuestionId {
    /// The kind.
    pub kind: QuestionKind,
    /// The line, counted from 1; nothing where the recipe as a whole is asked about.
    pub line: Option<usize>,
}

impl fmt::Display for QuestionId {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(formatter, "{}@{line}", self.kind),
            None => write!(formatter, "{}", self.kind),
        }
    }
}

impl FromStr for QuestionId {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let Some((kind, line)) = text.split_once('@') else {
            return Ok(QuestionId { kind: text.parse()?, line: None });
        };
        let number = line.parse::<usize>().ok().filter(|line| *line > 0).ok_or_else(|| {
            Fault::new(FaultKind::NotANumber, "not the number of a line")
                .value(super::amount::shown(line))
                .allowed("a whole number from 1, such as \"range@3\"")
        })?;
        Ok(QuestionId { kind: kind.parse()?, line: Some(number) })
    }
}

named_enum! {
    /// What figures without a unit count.
    FigureUnit "unit of figures" {
        /// Percent of the whole.
        Percent = "percent",
        /// Grams.
        Gram = "gram",
    }
}

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
            Answer::Drop | Answer::Amount(_) | Answer::Material(_) | Answer::Rewrite { .. } => id.line.is_some(),
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
            ),
            Answer::Merge | Answer::Name(_) => id.kind == Kind::SameMaterialTwice,
            Answer::Normalise => matches!(id.kind, Kind::TotalNotHundred | Kind::FullBeforeQs),
            Answer::FillWith(_) => id.kind == Kind::SeveralQs,
            Answer::Batch(_) => matches!(id.kind, Kind::MixedUnits | Kind::BatchMissing | Kind::QsTarget | Kind::UnitMissing),
            Answer::Unit(_) => matches!(id.kind, Kind::UnitMissing | Kind::TotalNotHundred | Kind::AmountOutOfRange | Kind::QsTarget),
            Answer::AmountOf { .. } => id.line.is_none() || id.kind == Kind::FullBeforeQs,
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

/// One question. The choices are what can be offered; where a figure is asked for, `allowed` says what may be given.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Draft, DraftLine, QuestionKind};
/// let draft = Draft::new("Clay", vec![DraftLine::new("kaolin", "97.5 %")])?;
/// let question = &draft.questions(&Catalogue::starter())[0];
/// assert_eq!(question.id.kind, QuestionKind::TotalNotHundred);
/// assert_eq!((question.found.as_str(), question.allowed.as_str()), ("97.5 %", "exactly 100 % w/w"));
/// let answered = draft.answer(question.id, question.choices[0].answer.clone())?;
/// assert!(answered.questions(&Catalogue::starter()).is_empty());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Question {
    /// Which question it is.
    pub id: QuestionId,
    /// Where: the line with what stands there, or the recipe.
    pub place: String,
    /// What is asked about, lower case.
    pub message: String,
    /// What was found.
    pub found: String,
    /// What a formula can take.
    pub allowed: String,
    /// Ways to answer.
    pub choices: Vec<Choice>,
}

/// Choices named in a fault; all of them stand in the question.
const MOST_CHOICES_SHOWN: usize = 4;

impl Question {
    /// The question as the fault that keeps a draft from becoming a formula.
    #[must_use]
    pub fn fault(&self) -> Fault {
        let fault = Fault::new(FaultKind::Question, self.message.clone()).at(self.place.clone()).value(&self.found).allowed(self.allowed.clone());
        if self.choices.is_empty() {
            return fault;
        }
        let mut offers: Vec<&str> = self.choices.iter().take(MOST_CHOICES_SHOWN).map(|choice| choice.label.as_str()).collect();
        if self.choices.len() > MOST_CHOICES_SHOWN {
            offers.push("...");
        }
        fault.remedy(offers.join(", or "))
    }
}

impl fmt::Display for Question {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.fault().fmt(formatter)
    }
}

impl QuestionKind {
    /// True for kinds that are asked about one line.
    #[must_use]
    pub fn is_about_a_line(self) -> bool {
        !matches!(
            self,
            QuestionKind::SeveralQs | QuestionKind::UnitMissing | QuestionKind::MixedUnits | QuestionKind::BatchMissing | QuestionKind::TotalNotHundred
        )
    }

    /// The kinds whose slugs a document lists under `accepted`.
    pub(super) fn can_be_accepted() -> impl Iterator<Item = QuestionKind> {
        QuestionKind::ALL.iter().copied().filter(|kind| Answer::Accept.fits(QuestionId { kind: *kind, line: Some(1) }))
    }
}
