//! What is asked, and of which line.

use std::fmt;
use std::str::FromStr;

use crate::document::{named_enum, shown};
use crate::error::{Error, Fault, FaultKind};

named_enum! {
    /// What is asked.
    QuestionKind "question" {
        /// A line that is not a raw material with an amount.
        UnreadableLine = "unreadable-line",
        /// A raw material that the catalogue does not have.
        UnknownMaterial = "unknown-material",
        /// A lot that the catalogue does not have, or that is of another raw material.
        UnknownLot = "unknown-lot",
        /// A name that could mean several raw materials.
        AmbiguousMaterial = "ambiguous-material",
        /// A figure in the name of the raw material, such as a strength, which may say which material is meant, or may
        /// be the amount.
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
        /// A figure that is said to be approximate, or a bound.
        Approximate = "approximate",
        /// A mass and a percentage of one line that do not go together with the other lines.
        TwoAmounts = "two-amounts",
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
        /// A line that states the total says something other than what the lines come to.
        TotalDisagrees = "total-disagrees",
    }
}

/// Which question: its kind and, where it is about one line, the line's number from 1. It prints as `range@3` and reads
/// that back.
///
/// ```
/// use tenside::formula::{QuestionId, QuestionKind};
/// let id: QuestionId = "range@3".parse()?;
/// assert_eq!(id, QuestionId { kind: QuestionKind::Range, line: Some(3) });
/// assert_eq!(id.to_string(), "range@3");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
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
                .value(shown(line))
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

impl QuestionKind {
    /// True for kinds that are asked about one line.
    #[must_use]
    pub fn is_about_a_line(self) -> bool {
        !matches!(
            self,
            QuestionKind::SeveralQs
                | QuestionKind::UnitMissing
                | QuestionKind::MixedUnits
                | QuestionKind::BatchMissing
                | QuestionKind::TotalNotHundred
        )
    }
}
