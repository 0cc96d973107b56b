//! Why a brief cannot be answered, and what would make it answerable.
//!
//! # Why
//! - A conflict is an irreducible infeasible set. What each member would have to give is the reach of the limited
//!   quantity without that member (two linear programs), so that nothing new had to be proved. Conflicts are made
//!   irreducible in `f64`, step by step from where the last one ended (`tenside_lp::search::prune`); what cannot be
//!   proved there is settled exactly.
//! - Members are tried in one order, ranges of lines first: what is left depends on the brief alone, so that a sweep
//!   can say where it stays the same, and it speaks of what was required if it can.
//! - No least set of changes is offered. With a changed part of a split or limit of a ratio the program is bilinear
//!   (the new part times an amount that is not fixed), so that an elastic linear program is not least, and says
//!   nothing where only a part could give. Where no single change does, the correction set says what to leave out
//!   instead: minimal, exact, never empty.
//! - The sentence of a relaxation is meant to be followed as it stands: where only one value does, it says that
//!   value exactly and no "or more". `tests/rust/ordinary.rs` follows thousands.

use tenside_lp::search::{Removable, prune};
use tenside_lp::{Outcome, solve, solve_watched, verify};

use super::constraint::{Constraint, End, Limit};
use super::member::{self, filter_order, members, only, row_of, rows_first, support, words};
use super::objective::{Ratio, is_constant, least, same_question};
use super::program::{BriefProgram, frame};
use super::proof::{Proof, fails};
use super::relaxation::{Relaxation, relaxation};
use crate::brief::Brief;
use crate::error::{Error, Fault, FaultKind};

/// Requirements that no formula meets together, with an exact proof. None of them can be left out: without any one of
/// them the others can be met.
#[derive(Clone, Debug, PartialEq)]
pub struct Conflict {
    brief: Brief,
    proof: Proof,
    /// The program of the members: every member of a split has a row of its own.
    pub(super) program: BriefProgram,
    pub(super) members: Vec<Limit>,
    outcome: Outcome,
}

watched_by!(Conflict);

getters!(Conflict {
    /// The brief.
    brief: &Brief,
    /// The proof about the whole brief: a combination of the requirements that no percentages inside the lines' ranges
    /// can meet (Farkas' lemma).
    proof: &Proof,
});

impl Conflict {
    /// Makes the conflict irreducible (an irreducible infeasible set) by a deletion filter: each member is left out in
    /// turn, and stays out if the others still conflict. (J. W. Chinneck and E. W. Dravnieks, ORSA Journal on Computing
    /// 3, 1991; from memory.)
    ///
    /// A member that the proof at hand does not use goes without a search. Every step is proved, in `f64` with bounds
    /// where those suffice, else exactly, so what is left depends on the brief alone and not on how it was found.
    pub(super) fn new(brief: Brief, proof: Proof) -> Result<Self, Error> {
        if !matches!(proof.outcome(), Outcome::Infeasible(_)) {
            return Err(fails("the outcome is no proof of a conflict"));
        }
        let program = proof.program().with_split_columns(&brief)?;
        if let Some(members) = pruned(&brief, &program) {
            let outcome = solve_watched(&only(&program, &members), &[], brief.watched())?;
            if matches!(outcome, Outcome::Infeasible(_)) {
                return Ok(Conflict { brief: brief.unwatched(), proof, program, members, outcome });
            }
        }
        let (members, outcome) = filtered(&brief, &program)?;
        Ok(Conflict { brief: brief.unwatched(), proof, program, members, outcome })
    }

    /// The members, in the words of the brief: lines of splits and requirements, the water that a finished basis keeps,
    /// then lines whose ranges matter.
    #[must_use]
    pub fn members(&self) -> Vec<String> {
        self.members.iter().map(|member| words(&self.brief, &self.program, *member)).collect()
    }

    /// The same with one item for each split, which names its lines.
    pub(super) fn items(&self) -> Vec<String> {
        let are_of_one = |one: &Limit, other: &Limit| match (one, other) {
            (Limit::Split { split: one, .. }, Limit::Split { split: other, .. }) => one == other,
            _ => false,
        };
        let place = |member: &Limit| if let Limit::Split { member, .. } = member { Some(*member) } else { None };
        let item = |together: &[Limit]| match together[0] {
            Limit::Split { split, .. } => {
                self.brief.splits()[split].words(&together.iter().filter_map(place).collect::<Vec<_>>())
            }
            alone => words(&self.brief, &self.program, alone),
        };
        self.members.chunk_by(are_of_one).map(item).collect()
    }

    /// What the members are about, in their order.
    #[must_use]
    pub fn constraints(&self) -> Vec<Constraint> {
        let Outcome::Infeasible(farkas) = &self.outcome else { return Vec::new() };
        member::constraints(&self.brief, &self.program, &self.members, farkas)
    }

    /// For every member, in their order, the least change with which alone there is a formula that meets the brief; an
    /// objective that is a ratio is refused all the same where its denominator can be 0, of which the sentence then
    /// warns. `None` where no change of it does, and for the water that a finished basis keeps, whose basis is for its
    /// user to change. Of a requirement for every composition the limit that its worst composition needs; `None` also
    /// where it asks for one value, where the quantity it divides by can be 0 whatever the formula, and where the limit
    /// would rest on a range that is not stated.
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
        self.members.iter().map(|member| relaxation(&self.brief, &self.program, *member)).collect()
    }

    /// What could be left out of the brief so that it has a formula, none of it for nothing (a minimal correction set):
    /// one member where that does, else what cannot be kept beside everything before it, taken in the order kept water,
    /// lines, splits, requirements. There can be other such sets, and smaller ones.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::Outcome;
    /// let brief = Brief::new("Twice", &Catalogue::starter())?.between("capb-30", 0, 50)?.between("kaolin", 0, 20)?.qs("water")?;
    /// let brief = brief.at_least(Measure::active_matter(), 18)?.at_least(Measure::material("kaolin")?, 30)?;
    /// let Outcome::Conflict(conflict) = brief.try_solve()? else { panic!("neither can be had") };
    /// assert!(conflict.relaxations()?.iter().all(Option::is_none));
    /// let left_out: Vec<Option<usize>> = conflict.correction_set()?.iter().map(|one| one.index()).collect();
    /// assert_eq!(left_out, [Some(0), Some(1)]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// None for a valid conflict.
    pub fn correction_set(&self) -> Result<Vec<Constraint>, Error> {
        let constraint = |member| Constraint::of_limit(&self.brief, member, End::Both);
        Ok(self.to_leave_out()?.into_iter().filter_map(constraint).collect())
    }

    pub(super) fn to_leave_out(&self) -> Result<Vec<Limit>, Error> {
        let program = &self.program;
        let is_water = |member: &Limit| *member == Limit::WaterToKeep;
        let answerable = |kept: &[Limit]| -> Result<bool, Error> {
            Ok(solve_watched(&only(program, kept), &[], self.brief.watched())?.optimum().is_some())
        };
        let mut all = members(&self.brief, program);
        for &member in self.members.iter().filter(|member| !is_water(member)) {
            let others: Vec<Limit> = all.iter().copied().filter(|other| *other != member).collect();
            if answerable(&others)? {
                return Ok(vec![member]);
            }
        }
        // Rows stand splits first; the sort is stable.
        all.sort_by_key(|member| (!is_water(member), !matches!(member, Limit::Line(_))));
        let (mut kept, mut left_out) = (Vec::new(), Vec::new());
        for member in all {
            kept.push(member);
            if !answerable(&kept)? {
                kept.pop();
                left_out.push(member);
            }
        }
        Ok(left_out)
    }

    /// What could be left out, in the words of the brief.
    pub(super) fn words_to_leave_out(&self) -> Result<Vec<String>, Error> {
        Ok(self.to_leave_out()?.into_iter().map(|member| words(&self.brief, &self.program, member)).collect())
    }

    /// One sentence that names what cannot hold together.
    #[must_use]
    pub fn sentence(&self) -> String {
        let advice = self.advice().map_or(String::new(), |advice| format!("; {advice}"));
        format!("no formula {}{advice}", meets(&self.items()))
    }

    /// What helps to understand it: the way out where both ends of one value for every composition are members, since
    /// compositions differ, whatever else is asked; what the objective would be refused for next; of lines alone, what
    /// they conflict with.
    pub(super) fn advice(&self) -> Option<&'static str> {
        let asks_one_value =
            |index: usize| self.brief.requirements()[index].low() == self.brief.requirements()[index].high();
        let has_both_ends = |limit: &Limit| match *limit {
            Limit::Requirement { index, upper: true } => {
                asks_one_value(index) && self.members.contains(&Limit::Requirement { index, upper: false })
            }
            _ => false,
        };
        if self.members.iter().any(has_both_ends) {
            return Some("one value for every composition needs a range: use within or at_least");
        }
        if self.denominator_can_be_0() {
            return Some(
                "require a little of what the objective divides by as well: with one of these loosened it can be 0",
            );
        }
        self.members.iter().all(|limit| matches!(limit, Limit::Line(_))).then_some("the lines sum to 100 %")
    }

    /// True where the objective is a ratio whose denominator can be 0 once one of the changes is taken.
    fn denominator_can_be_0(&self) -> bool {
        let Ok(Some(Ratio { denominator, .. })) = Ratio::of(&self.brief) else { return false };
        if is_constant(&denominator) {
            return false;
        }
        let can_be_0 = |change: Relaxation| -> Result<bool, Error> {
            let found = least(&frame(&change.taken(&self.brief)?)?, denominator.to_vec(), self.brief.watched())?;
            Ok(found.is_some_and(|(least, _)| !least.is_positive()))
        };
        let changes = self.relaxations().into_iter().flatten().flatten();
        changes.map(can_be_0).any(|found| found.unwrap_or(false))
    }

    /// As the error of a call that needs an answer.
    pub(crate) fn into_error(self) -> Error {
        Error::from(Fault::new(FaultKind::Unanswerable, self.sentence()).remedy("loosen one of them")).caused_by(self)
    }

    /// Checks without the search that no formula meets the whole brief, and none the members alone. That it is
    /// irreducible is not proved by certificates; leaving a member out and solving again shows it.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        same_question(&self.brief, &self.proof)?;
        if !matches!((self.proof.outcome(), &self.outcome), (Outcome::Infeasible(_), Outcome::Infeasible(_))) {
            return Err(fails("the outcome is no proof of a conflict"));
        }
        self.proof.verify()?;
        let program = self.proof.program().with_split_columns(&self.brief)?;
        Ok(verify(&only(&program, &self.members), &self.outcome)?)
    }
}

impl Error {
    /// The conflict, where the error is that no formula meets a brief.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// let error = Brief::new("Not full", &Catalogue::starter())?.fix("kaolin", 60)?.solve().unwrap_err();
    /// assert!(error.is_unanswerable() && !error.is_contradiction());
    /// assert_eq!(error.conflict().unwrap().members(), ["line kaolin fixed at 60 %"]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn conflict(&self) -> Option<&Conflict> {
        self.cause()
    }
}

/// What no formula does with one or several things.
pub(super) fn meets(items: &[String]) -> String {
    match items {
        [one] => format!("meets this: {one}"),
        several => format!("meets these together: {}", several.join("; ")),
    }
}

/// The deletion filter in exact arithmetic, and the proof of what is left.
pub(super) fn filtered(brief: &Brief, program: &BriefProgram) -> Result<(Vec<Limit>, Outcome), Error> {
    let mut members = filter_order(brief, program);
    let mut outcome = solve_watched(&only(program, &members), &[], brief.watched())?;
    let mut tried = 0;
    while tried < members.len() {
        let Outcome::Infeasible(farkas) = &outcome else {
            return Err(fails("the members of a conflict do not conflict"));
        };
        let is_used = support(brief, program, farkas).contains(&members[tried]);
        let mut fewer = members.clone();
        fewer.remove(tried);
        if !is_used {
            members = fewer;
            continue;
        }
        match solve_watched(&only(program, &fewer), &[], brief.watched())? {
            infeasible @ Outcome::Infeasible(_) => (members, outcome) = (fewer, infeasible),
            Outcome::Optimal(_) | Outcome::Unbounded(_) => tried += 1,
        }
    }
    Ok((rows_first(members), outcome))
}

/// The members of an irreducible conflict; `None` if the program is none for the search. What `f64` cannot prove is
/// told exactly.
pub(super) fn pruned(brief: &Brief, program: &BriefProgram) -> Option<Vec<Limit>> {
    let columns = program.program().columns().len();
    let all = filter_order(brief, program);
    let removable = |member: &Limit| {
        Some(match member {
            Limit::Line(line) => Removable { variable: *line, low: 0.0, high: 100.0 },
            row => {
                let variable = columns + row_of(program, *row)?;
                Removable { variable, low: f64::NEG_INFINITY, high: f64::INFINITY }
            }
        })
    };
    let removable = all.iter().map(removable).collect::<Option<Vec<_>>>()?;
    let named = |kept: &[usize]| kept.iter().map(|index| all[*index]).collect::<Vec<_>>();
    let mut conflicts = |kept: &[usize]| matches!(solve(&only(program, &named(kept))), Outcome::Infeasible(_));
    let kept = prune(program.program(), &removable, &mut conflicts)?;
    Some(rows_first(named(&kept.members)))
}

impl std::fmt::Display for Conflict {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.write_str(&self.sentence())
    }
}
