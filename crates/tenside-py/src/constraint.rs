//! What of a brief something is about, as data.

use pyo3::prelude::*;

use crate::output::Fraction;

record! {
    /// One thing that a brief asks of its formula: what a conflict's member, a binding, a change or a range is about.
    ///
    /// >>> brief = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
    /// >>> for constraint in brief.try_solve().constraints: print(constraint)
    /// low end of requirement active matter at least 18 %
    /// high end of line capb-30
    Constraint {
        /// "line", "requirement", "split", "water-to-keep" or "total".
        kind: String,
        /// The name of the line, requirement or split; None of others.
        name: Option<String>,
        /// The place of the line, requirement or split in the brief, from 0; None of others.
        index: Option<usize>,
        /// Which end: "low", "high", or "both" of what is held at one value.
        end: String,
        /// Of a split the line whose part it is, against that of the split's first line; None of others.
        member: Option<String>,
        /// Of the water that a finished product keeps its residual moisture in percent; None of others.
        moisture: Option<Fraction>,
        /// In words.
        words: String,
    }
}

#[pymethods]
impl Constraint {
    fn __str__(&self) -> &str {
        &self.words
    }
}

impl From<&tenside::solve::Constraint> for Constraint {
    fn from(constraint: &tenside::solve::Constraint) -> Self {
        use tenside::solve::Constraint as Core;
        let member = if let Core::Split { member, .. } = constraint { Some(member.clone()) } else { None };
        let moisture = if let Core::WaterToKeep { moisture } = constraint { Some(Fraction(moisture.clone())) } else { None };
        Constraint {
            kind: constraint.kind().to_string(),
            name: constraint.name().map(str::to_string),
            index: constraint.index(),
            end: constraint.end().slug().to_string(),
            member,
            moisture,
            words: constraint.to_string(),
        }
    }
}
