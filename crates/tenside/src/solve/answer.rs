//! An answer: the exact solution, the proof and the grid formula.

use super::binding::{Binding, bindings};
use super::conflict::Conflict;
use super::grid;
use super::grid::{Departure, Grid, GridRefusal};
use super::objective::{optimise, same_question};
use super::program::{currency, frame};
use super::proof::{Proof, fails};
use crate::brief::Brief;
use crate::error::Error;
use crate::formula::Formula;
use crate::number::Exact;

/// What a brief comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It is answered.
    Answered(Box<Answer>),
    /// It cannot be answered.
    Conflict(Box<Conflict>),
}

/// The answer to a brief. The arithmetic is proved for the compositions given.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    brief: Brief,
    exact: Vec<Exact>,
    objective: Option<Exact>,
    proof: Proof,
    grid: Result<Grid, GridRefusal>,
}

impl Brief {
    /// Solves the brief: an answer, or the conflict.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::Outcome;
    /// let brief = Brief::new("Too strong", &Catalogue::starter())?
    ///     .between("capb-30", 0, 50)?
    ///     .qs("water")?
    ///     .at_least(Measure::active_matter(), 40)?;
    /// let Outcome::Conflict(conflict) = brief.try_solve()? else { panic!("50 % of a 30 % grade brings 15 %") };
    /// assert!(conflict.verify().is_ok());
    /// assert!(conflict.sentence().contains("active matter at least 40 %"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked: no lines, unpriced materials, compositions without typical values, unknown
    /// charges.
    pub fn try_solve(&self) -> Result<Outcome, Error> {
        let proof = optimise(self, frame(self)?)?;
        match proof.outcome().optimum() {
            Some(optimum) => {
                let exact = optimum.values[..self.lines().len()].to_vec();
                let objective = proof.objective_value(self)?;
                let grid = grid::place(self, proof.program(), &exact)?;
                Ok(Outcome::Answered(Box::new(Answer { brief: self.unwatched(), exact, objective, proof, grid })))
            }
            // Every line has a range, so no objective of the lines is without end.
            None => Ok(Outcome::Conflict(Box::new(Conflict::new(self.clone(), proof)?))),
        }
    }

    /// Solves the brief, refusing one that cannot be answered.
    ///
    /// # Errors
    /// As [`Brief::try_solve`], and a brief that cannot be answered: [`Error::is_unanswerable`], with its
    /// [`Error::conflict`].
    pub fn solve(&self) -> Result<Answer, Error> {
        self.try_solve()?.into_answer()
    }
}

impl Outcome {
    /// The answer.
    ///
    /// # Errors
    /// The conflict: [`Error::is_unanswerable`], with its [`Error::conflict`].
    pub fn into_answer(self) -> Result<Answer, Error> {
        match self {
            Outcome::Answered(answer) => Ok(*answer),
            Outcome::Conflict(conflict) => Err(conflict.into_error()),
        }
    }
}

watched_by!(Answer);

getters!(Answer {
    /// The brief.
    brief: &Brief,
    /// The exact percentages, in the order of the brief's lines: what the proof is about.
    exact: &[Exact],
    /// The exact value of the objective, in its own unit.
    objective: Option<&Exact>,
    /// The proof.
    proof: &Proof,
});

impl Answer {
    /// The exact percentage of a line.
    #[must_use]
    pub fn exact_percent(&self, line: &str) -> Option<&Exact> {
        self.brief.lines().iter().position(|known| known.name() == line).map(|index| &self.exact[index])
    }

    /// The objective's unit: `EUR per kg`; of changes `%`, of their squares `% squared`. Nothing where the brief has no
    /// objective.
    #[must_use]
    pub fn objective_unit(&self) -> Option<String> {
        objective_unit(&self.brief)
    }

    /// The grid formula: what is weighed, reviewed and labelled.
    ///
    /// # Errors
    /// Where whole ppm cannot meet every one-sided requirement, which one leaves no room.
    pub fn formula(&self) -> Result<&Formula, Error> {
        self.grid.as_ref().map(|grid| &grid.formula).map_err(|refusal| refusal.clone().into())
    }

    /// Where the grid formula departs from an equation: splits and targets.
    #[must_use]
    pub fn departures(&self) -> &[Departure] {
        self.grid.as_ref().map_or(&[], |grid| &grid.departures)
    }

    /// Why there is no grid formula, if there is none.
    #[must_use]
    pub fn grid_refusal(&self) -> Option<&GridRefusal> {
        self.grid.as_ref().err()
    }

    /// The requirements and ranges that the exact solution meets exactly.
    #[must_use]
    pub fn binding(&self) -> Vec<Binding> {
        bindings(&self.brief, &self.proof)
    }

    /// Checks everything again without the solver: that the proof is about this brief, the certificate, the exact
    /// solution, and the grid formula with its departures. Where there is no grid formula, that rounding alone does not
    /// give one; the search is not repeated.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        same_question(&self.brief, &self.proof)?;
        self.proof.verify()?;
        let tenside_lp::Outcome::Optimal(optimum) = self.proof.outcome() else {
            return Err(fails("the outcome is no optimum"));
        };
        if optimum.values[..self.brief.lines().len()] != self.exact {
            return Err(fails("the exact solution is not the proved one"));
        }
        if self.proof.objective_value(&self.brief)? != self.objective {
            return Err(fails("the objective's value is not that of the exact solution"));
        }
        grid::verify(&self.brief, &self.proof, &self.exact, &self.grid)
    }
}

pub(super) fn objective_unit(brief: &Brief) -> Option<String> {
    brief.objective().map(|objective| objective.unit(currency(brief)))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::super::program::{BriefProgram, NamedRow, RowName, RowUnit};
    use super::super::proof::DenominatorProof;
    use super::*;
    use crate::brief::{BriefLine, Role};
    use crate::catalogue::Catalogue;
    use crate::formula::Line;
    use crate::measure::{Measure, Scope};
    use crate::number::Ppm;
    use tenside_lp::{Row, solve, solve_lexicographic};

    fn brief() -> Brief {
        let brief = Brief::new("Forged", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 30, 70)
            .unwrap()
            .between("capb-30", 2, 20)
            .unwrap();
        brief
            .between("cetyl-alcohol", 2, 9)
            .unwrap()
            .qs("kaolin")
            .unwrap()
            .target(Measure::active_matter(), 50)
            .unwrap()
            .at_most(Measure::water(), 9)
            .unwrap()
    }

    /// Active per solids: the denominator differs from formula to formula.
    fn of_ratio() -> Brief {
        let whole = brief();
        let ratio =
            Measure::active_matter().per(&Measure::solids().within(Scope::lines(["sci-powder", "capb-30"]).unwrap()));
        whole.minimise(ratio)
    }

    /// What the brief compiles to, with one more row and costs.
    fn program(brief: &Brief, more: Option<NamedRow>, costs: &[Exact]) -> BriefProgram {
        let mut frame = frame(brief).unwrap();
        frame.rows.extend(more);
        frame.columns.iter_mut().zip(costs).for_each(|(column, cost)| column.cost = cost.clone());
        BriefProgram::new(frame.columns, frame.rows, brief.lines().len()).unwrap()
    }

    fn proof(program: BriefProgram, denominator: Option<DenominatorProof>) -> Proof {
        let order: Vec<usize> = (0..program.lines()).collect();
        let outcome = solve_lexicographic(program.program(), &order);
        Proof::new(program, outcome, denominator)
    }

    fn answered(brief: Brief, proof: Proof) -> Answer {
        let exact = proof.outcome().optimum().unwrap().values[..brief.lines().len()].to_vec();
        let (objective, grid) =
            (proof.objective_value(&brief).unwrap(), grid::place(&brief, proof.program(), &exact).unwrap());
        Answer { brief, exact, objective, proof, grid }
    }

    fn first_at_least(brief: &Brief, percent: i64, name: RowName) -> NamedRow {
        let lines = brief.lines().len();
        let mut coefficients = vec![Exact::ZERO; lines];
        coefficients[0] = Exact::ONE;
        let unit = RowUnit { divisor: vec![Exact::ONE; lines].into(), unit: String::new() };
        NamedRow { name, unit, row: Row { coefficients, low: Some(Exact::from(percent)), high: None } }
    }

    #[track_caller]
    fn refused(answer: &Answer, message: &str) {
        let error = answer.verify().expect_err("it was let through");
        assert!(error.to_string().contains(message), "{error}");
    }

    #[test]
    fn a_forged_solution_is_refused() {
        let good = brief().solve().unwrap();
        good.verify().unwrap();
        let forged = |forge: &dyn Fn(&mut Answer)| {
            let mut answer = good.clone();
            forge(&mut answer);
            answer
        };
        refused(&forged(&|answer| answer.exact[0] += Exact::ratio(1, 1_000_000)), "not the proved one");
        refused(&forged(&|answer| answer.exact.truncate(2)), "not the proved one");
        refused(&forged(&|answer| answer.exact.push(Exact::ZERO)), "not the proved one");
        refused(&forged(&|answer| answer.objective = Some(Exact::ONE)), "the objective's value");
        refused(
            &forged(&|answer| answer.brief = answer.brief.clone().at_most(Measure::water(), 8).unwrap()),
            "another brief",
        );
        refused(
            &forged(&|answer| answer.brief = answer.brief.clone().with_objective(of_ratio().objective().cloned())),
            "another brief",
        );
    }

    #[test]
    fn a_forged_grid_formula_is_refused() {
        let good = brief().solve().unwrap();
        let formula = good.formula().unwrap().clone();
        let with = |lines: Vec<Line>, change: &dyn Fn(Formula) -> Formula| {
            let mut answer = good.clone();
            let formula = change(Formula::new(formula.title(), lines).unwrap().with_phases(formula.phases()).unwrap());
            answer.grid = Ok(Grid { formula, departures: good.departures().to_vec() });
            answer
        };
        let moved = |from: usize, to: usize, parts: u32| {
            let mut lines = formula.lines().to_vec();
            for (index, sign) in [(from, false), (to, true)] {
                let percent = lines[index].percent().parts();
                lines[index] = lines[index]
                    .clone()
                    .with_percent(Ppm::from_parts(if sign { percent + parts } else { percent - parts }).unwrap());
            }
            lines
        };
        with(moved(0, 1, 0), &|formula| formula).verify().unwrap();
        refused(&with(moved(0, 3, 1), &|formula| formula), "a departure is not the one reported");
        refused(&with(moved(0, 3, 10_000), &|formula| formula), "it does not meet");
        refused(
            &with(moved(2, 3, 90_000.min(formula.lines()[2].percent().parts())), &|formula| formula),
            "outside its range",
        );
        let lines = || formula.lines().to_vec();
        refused(
            &with(lines()[1..].iter().cloned().chain([lines()[0].clone()]).collect(), &|formula| formula),
            "its lines are not the brief's",
        );
        refused(&with(lines(), &|formula| formula.with_title("Another").unwrap()), "another formula");
        let mut elsewhere = lines();
        elsewhere[0] = elsewhere[0].clone().in_phase("cool-down").unwrap();
        refused(&with(elsewhere, &|formula| formula), "another formula");
        let mut silent = good.clone();
        silent.grid = Ok(Grid { formula: formula.clone(), departures: Vec::new() });
        assert!(good.departures().is_empty() || silent.verify().is_err());
        let mut none = good.clone();
        none.grid = Err(GridRefusal { requirements: Vec::new(), search: Err(1) });
        refused(&none, "there is a grid formula");
    }

    #[test]
    fn a_proof_about_another_program_is_refused() {
        let brief = brief().with_objective(None).maximise(Measure::water());
        let good = brief.solve().unwrap();
        let costs: Vec<Exact> =
            good.proof.program().program().columns().iter().map(|column| column.cost.clone()).collect();
        answered(brief.clone(), proof(program(&brief, None, &costs), None)).verify().unwrap();
        for name in [
            RowName::Objective("nothing".to_string()),
            RowName::Split { split: 0, member: 1, words: "nothing".to_string() },
        ] {
            let narrower = program(&brief, Some(first_at_least(&brief, 55, name)), &costs);
            let forged = answered(brief.clone(), proof(narrower, None));
            assert_ne!(forged.exact, good.exact);
            refused(&forged, "another brief");
        }
        refused(
            &answered(brief.clone(), proof(program(&brief, None, &vec![Exact::ZERO; costs.len()]), None)),
            "another brief",
        );
        // Without objective the rows that centre the answer are part of the question too.
        let centred = super::tests::brief();
        let plain = centred.solve().unwrap();
        let frame_only = program(&centred, None, &vec![Exact::ZERO; costs.len()]);
        assert_ne!(plain.proof.program(), &frame_only);
        refused(&answered(centred, proof(frame_only, None)), "another brief");
    }

    #[test]
    fn a_ratio_without_its_denominators_proof_is_refused() {
        let brief = of_ratio();
        let good = brief.solve().unwrap();
        good.verify().unwrap();
        let with = |denominator: Option<DenominatorProof>| {
            let mut answer = good.clone();
            answer.proof = Proof::new(good.proof.program().clone(), good.proof.outcome().clone(), denominator);
            answer
        };
        refused(&with(None), "another brief");
        // Something else that stays above 0.
        let other = program(&brief, None, &vec![Exact::ONE; brief.lines().len()]);
        let outcome = solve(other.program());
        refused(&with(Some(DenominatorProof::new(other, outcome))), "another brief");
        // The numerator alone, as if the denominator were the same everywhere.
        let (numerator, denominator) =
            super::super::sides::sides(&brief, &Measure::active_matter(), &crate::measure::Basis::AsCharged).unwrap();
        let costs: Vec<Exact> = numerator.iter().map(|value| value / (&denominator[0] * Exact::hundred())).collect();
        refused(&answered(brief.clone(), proof(program(&brief, None, &costs), None)), "another brief");
    }

    #[test]
    fn a_certificate_that_does_not_hold_is_refused() {
        let forged = |outcome: &tenside_lp::Outcome| {
            let mut optimum = outcome.optimum().unwrap().clone();
            optimum.row_multipliers[0] += Exact::ONE;
            tenside_lp::Outcome::Optimal(optimum)
        };
        let good = brief().maximise(Measure::water()).solve().unwrap();
        let mut answer = good.clone();
        answer.proof = Proof::new(good.proof.program().clone(), forged(good.proof.outcome()), None);
        assert!(answer.proof.verify().is_err() && answer.verify().is_err());

        let brief = of_ratio();
        let ratio = brief.solve().unwrap();
        let positive = ratio.proof.denominator().unwrap();
        let least = solve(positive.program().program());
        assert!(positive.least().unwrap().is_positive());
        assert_eq!(positive.least(), least.optimum().map(|optimum| optimum.objective.clone()));
        positive.verify().unwrap();
        let forged = DenominatorProof::new(positive.program().clone(), forged(&least));
        assert!(forged.verify().is_err());
        let mut answer = ratio.clone();
        answer.proof = Proof::new(ratio.proof.program().clone(), ratio.proof.outcome().clone(), Some(forged));
        assert!(answer.verify().is_err());
        // What is proved to be 0 at the least is not proved to stay above 0; nor is what has no formula.
        for impossible in [None, Some(first_at_least(&brief, 99, RowName::Objective("nothing".to_string())))] {
            let nought = program(&brief, impossible, &vec![Exact::ZERO; brief.lines().len()]);
            let outcome = solve(nought.program());
            tenside_lp::verify(nought.program(), &outcome).unwrap();
            let error = DenominatorProof::new(nought, outcome).verify().unwrap_err();
            assert!(error.to_string().contains("stay above 0"), "{error}");
        }
    }

    #[test]
    fn a_forged_conflict_is_refused() {
        let brief = brief();
        let impossible =
            program(&brief, Some(first_at_least(&brief, 99, RowName::Objective("nothing".to_string()))), &[]);
        let forged = Conflict::new(brief.clone(), proof(impossible, None)).unwrap();
        assert!(forged.proof().verify().is_ok() && forged.verify().is_err());
        let Outcome::Conflict(good) = brief.clone().at_most(Measure::active_matter(), 40).unwrap().try_solve().unwrap()
        else {
            panic!("50 is above 40")
        };
        good.verify().unwrap();
        assert!(Conflict::new(brief.clone(), good.proof().clone()).unwrap().verify().is_err());
        assert!(Conflict::new(brief.clone(), brief.solve().unwrap().proof).is_err());
        for member in 0..good.members.len() {
            let mut fewer = good.as_ref().clone();
            fewer.members.remove(member);
            assert!(fewer.verify().is_err(), "without {}", good.members()[member]);
        }
    }

    #[test]
    fn a_range_too_narrow_for_the_grid_gives_an_exact_answer_alone() {
        let starter = Catalogue::starter();
        let line = |id: &str, role| BriefLine::new(id, Arc::clone(starter.material(id).unwrap()), role).unwrap();
        let (low, high) = (Exact::ratio(3_333_331, 100_000), Exact::ratio(3_333_339, 100_000));
        let brief = Brief::new("A third", &starter)
            .unwrap()
            .line(line("water", Role::Free))
            .unwrap()
            .line(line("kaolin", Role::Qs))
            .unwrap();
        let answer =
            brief.at_least(Measure::water(), &low).unwrap().at_most(Measure::water(), &high).unwrap().solve().unwrap();
        answer.verify().unwrap();
        let refusal = answer.grid_refusal().unwrap();
        assert!(refusal.is_proved(), "{refusal:?}");
        assert_eq!(refusal.requirements(), ["water at least 33.33331 %", "water at most 33.33339 %"]);
        let message = answer.formula().unwrap_err().to_string();
        let said = "no formula of whole 0.0001 % meets every requirement; these leave no room together: water at \
                    least 33.33331 %; water at most 33.33339 %";
        assert!(
            message.contains(said) && message.contains("loosen one of them by 0.001") && !message.contains("found"),
            "{message}"
        );
        // A refusal with the proof of another brief is none.
        let wider = Brief::new("A third", &starter)
            .unwrap()
            .line(line("water", Role::Free))
            .unwrap()
            .line(line("kaolin", Role::Qs))
            .unwrap();
        let wider = wider
            .at_least(Measure::water(), &low)
            .unwrap()
            .at_most(Measure::water(), "33.3334")
            .unwrap()
            .solve()
            .unwrap();
        let mut forged = wider.clone();
        forged.grid = answer.grid.clone();
        assert!(forged.verify().is_err());
    }
}
