//! Why a brief cannot be answered.

use super::linear;
use super::linear::{Crossing, Outcome};
use super::objective::same_question;
use super::program::RowName;
use super::proof::Proof;
use crate::brief::{Brief, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// Requirements that no formula meets together, with an exact proof.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    brief: Brief,
    proof: Proof,
}

/// A requirement or range that the proof uses.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ConflictMember {
    /// In the words of the brief.
    pub words: String,
    /// Its weight in the proof.
    pub multiplier: Exact,
}

impl Conflict {
    pub(super) fn new(brief: Brief, proof: Proof) -> Self {
        Conflict { brief, proof }
    }

    /// The brief.
    #[must_use]
    pub fn brief(&self) -> &Brief {
        &self.brief
    }

    /// The proof: a combination of the requirements that no percentages inside the lines' ranges can meet (Farkas' lemma).
    #[must_use]
    pub fn proof(&self) -> &Proof {
        &self.proof
    }

    /// What the proof uses: requirements with their weights, then the lines whose ranges matter.
    #[must_use]
    pub fn members(&self) -> Vec<ConflictMember> {
        let Outcome::Infeasible(farkas) = self.proof.outcome() else { return Vec::new() };
        let program = self.proof.program();
        let line_words = |index: usize| {
            let line = &self.brief.lines()[index];
            format!("line {} {}", line.name(), line.role().words())
        };
        match farkas.crossing {
            Some(Crossing::Column(index)) => return vec![ConflictMember { words: line_words(index), multiplier: Exact::ONE }],
            Some(Crossing::Row(index)) => return vec![ConflictMember { words: program.names()[index].words().to_string(), multiplier: Exact::ONE }],
            None => {}
        }
        let mut members = Vec::new();
        for (name, multiplier) in program.names().iter().zip(&farkas.row_multipliers).filter(|(_, multiplier)| !multiplier.is_zero()) {
            if *name != RowName::Total {
                members.push(ConflictMember { words: name.words().to_string(), multiplier: multiplier.clone() });
            }
        }
        let sums = linear::combined(program.program(), &farkas.row_multipliers);
        for (index, line) in self.brief.lines().iter().enumerate() {
            // The greatest value of the combination uses the high end where the sum is positive and the low end where it is negative;
            // an end at 0 or 100 % is no requirement of the user's.
            let (low, high) = line.role().range();
            let used = (sums[index].is_positive() && high != crate::number::Ppm::WHOLE) || (sums[index].is_negative() && !low.is_zero());
            if used && matches!(line.role(), Role::Fixed(_) | Role::Between(..)) {
                members.push(ConflictMember { words: line_words(index), multiplier: sums[index].clone() });
            }
        }
        members
    }

    /// One sentence that names what cannot hold together.
    #[must_use]
    pub fn sentence(&self) -> String {
        let words: Vec<String> = self.members().into_iter().map(|member| member.words).collect();
        match words.as_slice() {
            [] => "the lines' ranges cannot sum to 100 %".to_string(),
            [one] => format!("no formula meets this: {one}; with lines that sum to 100 %"),
            several => format!("no formula meets these together: {}", several.join("; ")),
        }
    }

    /// Checks the proof without the solver, and that it is about this brief.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        same_question(&self.brief, &self.proof)?;
        if !matches!(self.proof.outcome(), Outcome::Infeasible(_)) {
            return Err(Fault::new(FaultKind::Contradiction, "the outcome is no proof of a conflict").into());
        }
        self.proof.verify()
    }
}

impl std::fmt::Display for Conflict {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.sentence())
    }
}
