//! Why a brief cannot be answered, and what would make it answerable.

use super::linear::{Outcome, solve, solve_watched, verify};
use super::member::{Member, members, only, support, words};
use super::objective::same_question;
use super::program::{BriefProgram, RowName};
use super::proof::Proof;
use super::relaxation::{Relaxation, least_set, relaxation};
use super::search::{Pruning, Removable, with_width};
use crate::brief::Brief;
use crate::error::{Error, Fault, FaultKind};

/// Requirements that no formula meets together, with an exact proof. None of them can be left out: without any one of them the others
/// can be met.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    brief: Brief,
    proof: Proof,
    pub(super) members: Vec<Member>,
    outcome: Outcome,
}

watched_by!(Conflict);

impl Conflict {
    /// Makes the conflict irreducible by a deletion filter, in `f64` with proofs where those suffice, else exactly: each member is left out in
    /// turn; if the others still conflict it stays out, and so does whatever their proof does not use. (J. W. Chinneck and E. W. Dravnieks, ORSA Journal on Computing 3, 1991; from memory.)
    pub(super) fn new(brief: Brief, proof: Proof) -> Result<Self, Error> {
        let Outcome::Infeasible(farkas) = proof.outcome() else {
            return Err(Fault::new(FaultKind::Contradiction, "the outcome is no proof of a conflict").into());
        };
        let program = proof.program();
        if let Some(members) = pruned(&brief, program) {
            let outcome = solve_watched(&only(&brief, program, &members)?, &[], brief.watched())?;
            if matches!(outcome, Outcome::Infeasible(_)) {
                return Ok(Conflict { brief: brief.unwatched(), proof, members, outcome });
            }
        }
        let mut members = support(&brief, program, farkas);
        let mut outcome = proof.outcome().clone();
        let mut tried = 0;
        while tried < members.len() {
            let mut fewer = members.clone();
            fewer.remove(tried);
            match solve_watched(&only(&brief, program, &fewer)?, &[], brief.watched())? {
                Outcome::Infeasible(farkas) => {
                    let used = support(&brief, program, &farkas);
                    // Members before `tried` are needed, so every proof uses them and the order is kept.
                    members = fewer.into_iter().filter(|member| used.contains(member)).collect();
                    outcome = Outcome::Infeasible(farkas);
                }
                Outcome::Optimal(_) | Outcome::Unbounded(_) => tried += 1,
            }
        }
        Ok(Conflict { brief: brief.unwatched(), proof, members, outcome })
    }

    /// The brief.
    #[must_use]
    pub fn brief(&self) -> &Brief {
        &self.brief
    }

    /// The proof about the whole brief: a combination of the requirements that no percentages inside the lines' ranges can meet (Farkas'
    /// lemma).
    #[must_use]
    pub fn proof(&self) -> &Proof {
        &self.proof
    }

    /// The members, in the words of the brief: requirements and splits, then lines whose ranges matter.
    #[must_use]
    pub fn members(&self) -> Vec<String> {
        self.members.iter().map(|member| words(&self.brief, self.proof.program(), *member)).collect()
    }

    /// For every member, in their order, the least change that alone makes the brief answerable; nothing where no change of it does. Of a
    /// requirement for every composition the limit that its worst composition needs; nothing also where it asks for one value, where the
    /// quantity it divides by can be 0 whatever the formula, and where the limit would rest on a range that is not stated.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::Outcome;
    /// let brief = Brief::new("Too strong", &Catalogue::starter())?.between("capb-30", 0, 50)?.qs("water")?.at_least(Measure::active_matter(), 18)?;
    /// let Outcome::Conflict(conflict) = brief.try_solve()? else { panic!("50 % of a 30 % grade brings 15 %") };
    /// let changes: Vec<String> = conflict.relaxations()?.into_iter().flatten().map(|change| change.sentence()).collect();
    /// assert_eq!(changes[0], "lower active matter at least 18 % to 15 % or less");
    /// assert_eq!(changes[1], "raise line capb-30 between 0 and 50 % to 60 % or more");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// None for a valid conflict.
    pub fn relaxations(&self) -> Result<Vec<Option<Relaxation>>, Error> {
        self.members.iter().map(|member| relaxation(&self.brief, self.proof.program(), *member)).collect()
    }

    /// Changes that together make the brief answerable, their sum as small as can be, each counted in percent of its own limit (of 1 where
    /// the limit is smaller): for when no single change does. Empty where no changes of limits do, or where they cannot be said as such: a
    /// requirement for every composition does not give, and a split that loses its first member has no ratio.
    ///
    /// # Errors
    /// None for a valid conflict.
    pub fn least_changes(&self) -> Result<Vec<Relaxation>, Error> {
        least_set(&self.brief, self.proof.program())
    }

    /// One sentence that names what cannot hold together.
    #[must_use]
    pub fn sentence(&self) -> String {
        match [self.members(), self.water_to_keep()].concat().as_slice() {
            [] => "the lines' ranges cannot sum to 100 %".to_string(),
            [one] => format!("no formula meets this: {one}"),
            several => format!("no formula meets these together: {}", several.join("; ")),
        }
    }

    /// The water that a finished basis keeps, where the conflict rests on it: given with the basis, so it is no member.
    fn water_to_keep(&self) -> Vec<String> {
        let Outcome::Infeasible(farkas) = &self.outcome else { return Vec::new() };
        let rows = self.proof.program().names().iter().zip(&farkas.row_multipliers);
        rows.filter(|(name, multiplier)| matches!(name, RowName::WaterToKeep(_)) && !multiplier.is_zero()).map(|(name, _)| name.words().to_string()).collect()
    }

    pub(super) fn rests_on_water_to_keep(&self) -> bool {
        !self.water_to_keep().is_empty()
    }

    /// Checks without the search that no formula meets the whole brief, and none the members alone. That it is irreducible is not proved
    /// by certificates; leaving a member out and solving again shows it.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        same_question(&self.brief, &self.proof)?;
        if !matches!((self.proof.outcome(), &self.outcome), (Outcome::Infeasible(_), Outcome::Infeasible(_))) {
            return Err(Fault::new(FaultKind::Contradiction, "the outcome is no proof of a conflict").into());
        }
        self.proof.verify()?;
        verify(&only(&self.brief, self.proof.program(), &self.members)?, &self.outcome)
    }
}

/// The members of an irreducible conflict; nothing where the program is none for the search. What `f64` cannot prove is told exactly.
pub(super) fn pruned(brief: &Brief, program: &BriefProgram) -> Option<Vec<Member>> {
    let columns = program.program().columns().len();
    let all = members(brief, program);
    let removable: Vec<Removable> = all
        .iter()
        .map(|member| match member {
            Member::Row(row) => Removable { variable: columns + row, low: f64::NEG_INFINITY, high: f64::INFINITY },
            Member::Line(line) => Removable { variable: *line, low: 0.0, high: 100.0 },
        })
        .collect();
    let named = |kept: &[usize]| kept.iter().map(|index| all[*index]).collect::<Vec<_>>();
    let mut conflicts = |kept: &[usize]| only(brief, program, &named(kept)).is_ok_and(|program| matches!(solve(&program), Outcome::Infeasible(_)));
    let size = columns.max(program.program().rows().len());
    let kept = with_width!(size, WIDTH => Some(Pruning::<WIDTH>::new(program.program())?.prune(&removable, &mut conflicts)))?;
    Some(named(&kept.members))
}

impl std::fmt::Display for Conflict {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.sentence())
    }
}
