//! From where to where, exactly, one number of a brief can go while the recipe keeps its structure: the critical region
//! of the answer (in the literature: ranging, sensitivity analysis).

use super::interval::Interval;
use crate::brief::Parameter;
use crate::error::Error;
use crate::number::Exact;
use crate::solve::Answer;
use crate::solve::sensitivity::span;

/// One number of a brief and the range in which the recipe keeps its structure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParameterRange {
    /// The number.
    pub parameter: Parameter,
    /// Its value.
    pub value: Exact,
    /// The lowest value; `None` if the structure stays as far down as such a number may be.
    pub from: Option<Exact>,
    /// The highest value; `None` if the structure stays as far up as such a number may be.
    pub to: Option<Exact>,
}

impl ParameterRange {
    /// A sentence: `part of capb-30 in split wash at 1: the same structure from 0.4 to 2.1`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let span = span(&self.from, &self.to, "", "everywhere");
        format!("{} at {}: the same structure {span}", self.parameter, self.value)
    }
}

impl Answer {
    /// From where to where a number of the brief can go while the recipe keeps its structure: the same requirements
    /// bind and the same lines stand at their ends, so every percentage changes smoothly. Without objective the range
    /// that is farthest from its middle belongs to the structure too, though it does not bind. The ends are exact, and
    /// no further than the number may go: a percentage no further than 0, 100 or the other end of its range.
    ///
    /// `None` if several rows of the program move with the number, or if the answer stands just where two structures
    /// meet.
    ///
    /// ```
    /// use tenside::brief::{Brief, Parameter, SplitBasis};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::number::Exact;
    /// let answer = Brief::new("Powders", &Catalogue::starter())?
    ///     .between("kaolin", 0, 10)?
    ///     .between("corn-starch", 0, 30)?
    ///     .split("powders", SplitBasis::Weight, [("kaolin", 1), ("corn-starch", 1)])?
    ///     .qs("water")?
    ///     .minimise(Measure::water())
    ///     .solve()?;
    /// // As much kaolin as there may be; three parts of starch on one are its 30 %.
    /// let range = answer.parameter_range(&Parameter::part("powders", "corn-starch"))?.unwrap();
    /// assert_eq!((range.from, range.to), (None, Some(Exact::from(3))));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A parameter that the brief does not have.
    pub fn parameter_range(&self, parameter: &Parameter) -> Result<Option<ParameterRange>, Error> {
        let value = self.brief().parameter_value(parameter)?;
        let interval = self.brief().solution_path(parameter)?.interval(&value);
        Ok(interval.map(|Interval { from, to }| ParameterRange { parameter: parameter.clone(), value, from, to }))
    }

    /// The [range](Answer::parameter_range) of every part of every split: how far the ratios can go.
    ///
    /// # Errors
    /// As [`Answer::parameter_range`].
    pub fn ratio_ranges(&self) -> Result<Vec<ParameterRange>, Error> {
        let mut ranges = Vec::new();
        for split in self.brief().splits() {
            for (line, _) in split.parts() {
                ranges.extend(self.parameter_range(&Parameter::part(split.name(), line))?);
            }
        }
        Ok(ranges)
    }
}
