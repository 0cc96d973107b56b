//! The best formula whose percentages are multiples of steps.

use super::Answer;
use super::grid::{formula_of, has_its_lines};
use super::proof::fails;
use super::question::{Best, Equation, Question, measured};
use super::steps::Steps;
use super::unmet::{Unmet, best_or_unmet};
use crate::brief::Brief;
use crate::error::Error;
use crate::formula::Formula;
use crate::number::{Exact, Ppm};

/// What a brief with steps comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum RoundedOutcome {
    /// There is a formula.
    Found(Box<Rounded>),
    /// There is none, or none was found.
    Unmet(Box<Unmet>),
}

/// The best formula on the steps. Whether it is proved best, and how far it may be from the best otherwise, is stated.
#[derive(Clone, Debug, PartialEq)]
pub struct Rounded {
    brief: Brief,
    steps: Steps,
    formula: Formula,
    best: Best,
    objective_without_steps: Option<Exact>,
    objective_without_tolerance: Option<Exact>,
    loosened: Vec<String>,
    departures: Vec<RoundedDeparture>,
}

/// An equation that a rounded formula does not meet exactly, because the call allowed it.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct RoundedDeparture {
    /// The equation, in the words of the brief.
    pub words: String,
    /// The measure's value less the target; for a split, percent points (by mole: mmol/g) of what the member brings too
    /// much.
    pub departure: Exact,
    /// The most it may be; nothing where the equation was given up.
    pub tolerance: Option<Exact>,
    /// The unit of both.
    pub unit: String,
}

impl Brief {
    /// Solves the brief for percentages that are multiples of steps: the best such formula, or what forbids one.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::{RoundedOutcome, Steps};
    /// let brief = Brief::new("Plain bar", &Catalogue::starter())?
    ///     .between("sci-powder", 30, 70)?
    ///     .fix("citric-acid-50", "0.3")?
    ///     .qs("kaolin")?
    ///     .at_least(Measure::active_matter(), 40)?
    ///     .minimise(Measure::active_matter());
    /// let RoundedOutcome::Unmet(unmet) = brief.try_solve_rounded(&Steps::of("0.5")?)? else { panic!("0.3 % is no multiple of 0.5 %") };
    /// assert!(unmet.requirements().iter().any(|words| words == "line citric-acid-50, fixed at 0.3 %"));
    /// assert_eq!(unmet.finer_step().unwrap().to_string(), "0.1");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Brief::try_solve`], lines and equations that the brief does not have, a least-squares objective.
    pub fn try_solve_rounded(&self, steps: &Steps) -> Result<RoundedOutcome, Error> {
        self.try_solve_rounded_until(steps, usize::MAX)
    }

    /// The same, its searches ended after so many turns at most.
    pub(super) fn try_solve_rounded_until(&self, steps: &Steps, turns: usize) -> Result<RoundedOutcome, Error> {
        steps.check(self)?;
        let brief = self.counting_turns(turns);
        match best_or_unmet(&brief, Some(steps), steps.nodes())? {
            Ok((question, best)) => Ok(RoundedOutcome::Found(Box::new(Rounded::new(&brief, steps, &question, best)?))),
            Err(unmet) => Ok(RoundedOutcome::Unmet(Box::new(unmet))),
        }
    }

    /// Solves the brief for percentages that are multiples of steps, refusing a brief without such a formula.
    ///
    /// ```
    /// use tenside::brief::{Brief, SplitBasis};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::Steps;
    /// let brief = Brief::new("Plain bar", &Catalogue::starter())?
    ///     .split("wash", SplitBasis::Active, [("sci-powder", 3), ("scs-needles", 1)])?
    ///     .between("cetyl-alcohol", 3, 6)?
    ///     .qs("kaolin")?
    ///     .target(Measure::active_matter(), 58)?;
    /// assert!(brief.solve_rounded(&Steps::of("0.5")?).is_err()); // 58 % exactly is not to be had
    /// let rounded = brief.solve_rounded(&Steps::of("0.5")?.within_half_a_step())?;
    /// rounded.verify()?;
    /// assert!(rounded.is_best());
    /// assert!(rounded.departures().iter().any(|departure| departure.words == "active matter at 58 %"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Brief::try_solve_rounded`], and what forbids a formula as a fault.
    pub fn solve_rounded(&self, steps: &Steps) -> Result<Rounded, Error> {
        match self.try_solve_rounded(steps)? {
            RoundedOutcome::Found(rounded) => Ok(*rounded),
            RoundedOutcome::Unmet(unmet) => Err(unmet.into_error()),
        }
    }
}

impl Answer {
    /// The best formula of the same brief on steps.
    ///
    /// # Errors
    /// As [`Brief::solve_rounded`].
    pub fn rounded(&self, steps: &Steps) -> Result<Rounded, Error> {
        self.brief().solve_rounded(steps)
    }
}

watched_by!(Rounded);
best_of!(Rounded, "formula on the steps");

getters!(Rounded {
    /// The brief.
    brief: &Brief,
    /// The steps.
    steps: &Steps,
    /// The formula; its percentages are exact.
    formula: &Formula,
    /// The objective without steps (and with every dose down to 0 allowed), splits and targets being as loose as here:
    /// the steps alone cost the difference.
    objective_without_steps: Option<&Exact>,
    /// The objective without steps and with every split and target met exactly, which is the answer's if there are no
    /// choices. Returns `None` where the brief has no objective, and where nothing meets all of them exactly.
    objective_without_tolerance: Option<&Exact>,
    /// The splits and targets that the call loosened, each with how far, in words; one entry per equation.
    loosened: &[String],
    /// Where it departs from a split or target, as the call allowed.
    departures: &[RoundedDeparture],
});

impl Rounded {
    fn new(brief: &Brief, steps: &Steps, question: &Question<'_>, best: Best) -> Result<Self, Error> {
        let percents = best.values.iter().map(Ppm::from_percent).collect::<Result<Vec<_>, _>>()?;
        let (without_steps, departures, loosened) =
            (question.relaxed.objective_value(brief)?, departures(question, &best.values), loosened(question));
        let without_tolerance = if loosened.is_empty() {
            without_steps.clone()
        } else {
            Question::new(brief, None, 1)?.relaxed.objective_value(brief)?
        };
        Ok(Rounded {
            brief: brief.unwatched(),
            steps: steps.clone(),
            formula: formula_of(brief, &percents)?,
            best,
            objective_without_steps: without_steps,
            objective_without_tolerance: without_tolerance,
            loosened,
            departures,
        })
    }

    /// Checks everything again without the search: the tree with its certificates, its bound, every row and range in
    /// exact arithmetic, and every requirement as the formula's own measures read it.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        let fails = |what: &str| fails(what).within("rounded formula");
        let question = Question::new(&self.brief, Some(&self.steps), self.steps.nodes())?;
        question.verify(&self.best)?;
        let percents: Vec<Exact> = self.formula.lines().iter().map(|line| line.percent().percent()).collect();
        if percents != self.best.values || !has_its_lines(&self.brief, &self.formula) {
            return Err(fails("its lines are not the proved ones"));
        }
        if departures(&question, &percents) != self.departures {
            return Err(fails("a departure is not the one reported"));
        }
        if *self != Rounded::new(&self.brief, &self.steps, &question, self.best.clone())? {
            return Err(fails("what is said of it is not what it comes to"));
        }
        measured(&self.brief, &self.formula, &question.equations)
    }
}

fn departures(question: &Question<'_>, values: &[Exact]) -> Vec<RoundedDeparture> {
    let departure = |(equation, departure): (&Equation, Exact)| RoundedDeparture {
        words: equation.row.name.words().to_string(),
        departure,
        tolerance: equation.tolerance.clone(),
        unit: equation.row.unit.unit.clone(),
    };
    question.departures(values).into_iter().map(departure).collect()
}

/// What the call loosened, in words.
fn loosened(question: &Question<'_>) -> Vec<String> {
    let of = |equation: &Equation| {
        let words = equation.row.name.words();
        match &equation.tolerance {
            Some(tolerance) if tolerance.is_zero() => None,
            Some(tolerance) => Some(
                format!("{words}, within {} {}", tolerance.rounded_text(4), equation.row.unit.unit)
                    .trim_end()
                    .to_string(),
            ),
            None => Some(format!("{words}, given up")),
        }
    };
    question.equations.iter().filter_map(of).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::formula::Line;
    use crate::measure::Measure;

    #[test]
    fn what_is_changed_afterwards_is_refused() {
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 20, 70)
            .unwrap()
            .free("cetyl-alcohol")
            .unwrap()
            .qs("kaolin")
            .unwrap();
        let brief = brief
            .target(Measure::active_matter(), 40)
            .unwrap()
            .at_most(Measure::water(), 3)
            .unwrap()
            .minimise(Measure::water());
        let steps = Steps::of("0.5").unwrap().within_half_a_step();
        let rounded = brief.solve_rounded(&steps).unwrap();
        rounded.verify().unwrap();
        let refused = |change: &dyn Fn(&mut Rounded)| {
            let mut forged = rounded.clone();
            change(&mut forged);
            assert!(forged.verify().is_err());
        };
        refused(&|forged| forged.best.bound = None);
        refused(&|forged| forged.best.gap = Exact::ONE);
        refused(&|forged| forged.best.objective = Some(Exact::ZERO));
        refused(&|forged| forged.best.values.swap(0, 2));
        refused(&|forged| forged.best.values[0] += Exact::ratio(1, 4));
        refused(&|forged| forged.departures.clear());
        refused(&|forged| forged.loosened.clear());
        refused(&|forged| forged.objective_without_steps = Some(Exact::ONE));
        refused(&|forged| forged.objective_without_tolerance = None);
        refused(&|forged| forged.steps = Steps::of("0.5").unwrap());
        refused(&|forged| forged.brief = forged.brief.clone().maximise(Measure::water()));
        let lines = |percent: u32| {
            rounded.formula.lines().iter().enumerate().map(move |(index, line)| match index {
                0 => line.clone().with_percent(Ppm::from_parts(line.percent().parts() - percent).unwrap()),
                2 => line.clone().with_percent(Ppm::from_parts(line.percent().parts() + percent).unwrap()),
                _ => line.clone(),
            })
        };
        refused(&|forged| forged.formula = Formula::new("Bar", lines(5000).collect()).unwrap());
        // The right percentages of another raw material, or under another name.
        let talc = Catalogue::starter().material("talc").unwrap().clone();
        for (name, material) in [("kaolin", talc), ("clay", rounded.formula.lines()[2].material().clone())] {
            let mut forged = rounded.clone();
            let mut lines = rounded.formula.lines().to_vec();
            lines[2] = Line::new(name, material, lines[2].percent()).unwrap().as_qs(true);
            forged.formula = Formula::new("Bar", lines).unwrap();
            let error = forged.verify().unwrap_err().to_string();
            assert!(error.contains("its lines are not the proved ones"), "{error}");
        }
    }

    #[test]
    fn what_rounding_costs_and_what_the_search_took_is_told() {
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 20, 70)
            .unwrap()
            .free("capb-30")
            .unwrap()
            .qs("kaolin")
            .unwrap();
        let brief = brief
            .at_least(Measure::active_matter(), "40.1")
            .unwrap()
            .at_least(Measure::water(), "7.3")
            .unwrap()
            .minimise(Measure::water());
        let rounded = brief.solve_rounded(&Steps::of("0.5").unwrap()).unwrap();
        rounded.verify().unwrap();
        assert_eq!((rounded.bound(), rounded.gap(), rounded.is_best()), (rounded.objective(), &Exact::ZERO, true));
        assert_eq!(rounded.nodes(), rounded.best.tree.nodes());
        assert!(rounded.nodes() > 1);
        assert_eq!(rounded.objective_without_steps(), Some(&Exact::ratio(73, 10)));
        let text = rounded.page(&[crate::measure::Basis::AsCharged]).unwrap().text(400);
        for part in [" The objective is 7.", "; without steps it would be 7.3000 %."] {
            assert!(text.contains(part), "{text}");
        }
    }

    /// With tolerance two things are told apart: what the steps cost, everything else being the same, and what the
    /// tolerance saves.
    #[test]
    fn what_steps_cost_is_told_apart_from_what_tolerance_saves() {
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 20, 70)
            .unwrap()
            .free("capb-30")
            .unwrap()
            .qs("kaolin")
            .unwrap();
        let brief = brief
            .target(Measure::active_matter(), "40.1")
            .unwrap()
            .at_least(Measure::water(), "7.3")
            .unwrap()
            .maximise(Measure::anionic_active());
        let answer = brief.solve().unwrap();
        let rounded = brief.solve_rounded(&Steps::of("0.5").unwrap().within_half_a_step()).unwrap();
        rounded.verify().unwrap();
        assert_eq!(rounded.objective_without_tolerance(), answer.objective());
        assert!(rounded.objective_without_steps() > answer.objective(), "half a step's effect leaves more room");
        assert!(rounded.objective() <= rounded.objective_without_steps());
        let [loosened] = rounded.loosened() else { panic!("{:?}", rounded.loosened()) };
        assert!(loosened.starts_with("active matter at 40.1 %, within 0."), "{loosened}");
        let text = rounded.page(&[crate::measure::Basis::AsCharged]).unwrap().text(400);
        let exactly = format!(
            "with splits and targets as loose as here, with all of them met exactly {} %.",
            answer.objective().unwrap().rounded_text(4)
        );
        for part in [" without steps it would be ", exactly.as_str(), "SPLITS AND TARGETS THAT WERE LOOSENED", loosened]
        {
            assert!(text.contains(part), "{text}");
        }
        // Without tolerance the two are one.
        let plain = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 20, 70)
            .unwrap()
            .qs("kaolin")
            .unwrap();
        let plain = plain.at_least(Measure::active_matter(), "40.1").unwrap().minimise(Measure::active_matter());
        let rounded = plain.solve_rounded(&Steps::of("0.5").unwrap().within_half_a_step()).unwrap();
        assert!(rounded.loosened().is_empty());
        assert_eq!(rounded.objective_without_tolerance(), rounded.objective_without_steps());
    }
}
