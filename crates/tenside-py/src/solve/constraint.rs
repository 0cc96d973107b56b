//! What of a brief something is about, as data.

use pyo3::prelude::*;
use tenside::error::{Fault, FaultKind};
use tenside::solve::{Constraint as Core, ConstraintKind, End};

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::word::Word;

record! {
    "tenside.brief",
    /// One thing that a brief asks of its formula: what a conflict's member, a binding, a change or a range is about.
    ///
    /// >>> brief = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
    /// >>> for constraint in brief.try_solve().constraints: print(constraint)
    /// low end of requirement active matter at least 18 %
    /// high end of line capb-30
    Constraint of &tenside::solve::Constraint, |constraint| {
        /// "line", "requirement", "split", "water-to-keep" or "total".
        kind: Word<ConstraintKind> = Word(constraint.kind()),
        /// The name of the line, requirement or split; None of others.
        name: Option<String> = constraint.name().map(str::to_string),
        /// The place of the line, requirement or split in the brief, from 0; None of others.
        index: Option<usize> = constraint.index(),
        /// Which end: "low", "high", or "both" of what is held at one value.
        end: Word<End> = Word(constraint.end()),
        /// Of a split the line whose part it is, against that of the split's first line; None of others.
        member: Option<String> = if let Core::Split { member, .. } = constraint { Some(member.clone()) } else { None },
        /// Of the water that a finished product keeps its residual moisture in percent; None of others.
        moisture: Option<Fraction> = if let Core::WaterToKeep { moisture } = constraint {
            Some(Fraction(moisture.clone()))
        } else {
            None
        },
        /// In words.
        words: String = constraint.to_string(),
    }
}

#[pymethods]
impl Constraint {
    fn __str__(&self) -> &str {
        &self.words
    }
}

impl From<&Constraint> for tenside::solve::Constraint {
    fn from(constraint: &Constraint) -> Self {
        let (index, end) = (constraint.index.unwrap_or_default(), constraint.end.0);
        let name = constraint.name.clone().unwrap_or_default();
        match constraint.kind.0 {
            ConstraintKind::Line => Core::Line { index, name, end },
            ConstraintKind::Requirement => Core::Requirement { index, name, end },
            ConstraintKind::Split => Core::Split { index, name, member: constraint.member.clone().unwrap_or_default() },
            ConstraintKind::WaterToKeep => Core::WaterToKeep {
                moisture: constraint.moisture.as_ref().map(|moisture| moisture.0.clone()).unwrap_or_default(),
            },
            ConstraintKind::Total => Core::Total,
            other => unreachable!("the core has no constraint of the kind {other:?}"),
        }
    }
}

one_of! {
    /// A requirement by its name, or what a conflict or range says of it.
    pub(crate) enum ARequirement: "a name or a Constraint" {
        Name(String),
        Constraint(Constraint),
    }
}

impl ARequirement {
    pub(crate) fn name(self) -> Outcome<String> {
        match self {
            ARequirement::Name(name) => Ok(name),
            ARequirement::Constraint(Constraint { kind, name: Some(name), .. })
                if kind.0 == ConstraintKind::Requirement =>
            {
                Ok(name)
            }
            ARequirement::Constraint(other) => Err(Fault::new(FaultKind::Unsupported, "this is not a requirement")
                .value(other.words)
                .remedy("drop a split with `drop_split`, change a line with `change_line`")
                .into()),
        }
    }
}

#[pymethods]
impl Brief {
    /// Without a requirement, by its name or by what a conflict's `constraints` say of it.
    ///
    /// >>> brief = td.Brief("Plain", td.Catalogue.starter()).qs("kaolin").at_most(td.measure.water, 9)
    /// >>> brief.drop_requirement("water at most 9 %").requirements
    /// []
    fn drop_requirement(&self, requirement: ARequirement) -> Outcome<Self> {
        Ok(Brief(self.0.clone().drop_requirement(&requirement.name()?)?))
    }
}
