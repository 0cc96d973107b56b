//! The choice of lines: which are absent, which are present at a dose, at most so many of a group.

use super::grid::{self, Departure, Grid, GridRefusal};
use super::proof::fails;
use super::question::{Best, Question};
use super::steps::{USUAL_NODES, at_least_one};
use super::unmet::{Unmet, best_or_unmet};
use crate::brief::Brief;
use crate::error::Error;
use crate::formula::Formula;
use crate::number::Exact;

/// What a brief with choices comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum ChoiceOutcome {
    /// A choice is made.
    Made(Box<Choice>),
    /// There is none, or none was found.
    Unmet(Box<Unmet>),
}

/// The best choice of lines with the exact solution, its proof and the grid formula.
///
/// One canonical answer: the objective first, then the lines in the brief's order, each as small as possible. Lines
/// that may be absent have no middle, so without objective they do not count towards the middle of the ranges.
#[derive(Clone, Debug, PartialEq)]
pub struct Choice {
    brief: Brief,
    chosen_brief: Brief,
    best: Best,
    grid: Result<Grid, GridRefusal>,
    node_limit: usize,
}

impl Brief {
    /// Makes the choices of the brief, the best for its objective, or says what forbids any; up to a number of linear
    /// programs.
    ///
    /// # Errors
    /// As [`Brief::try_solve`], a least-squares objective, and no linear program at all.
    pub fn try_choose(&self, nodes: usize) -> Result<ChoiceOutcome, Error> {
        self.try_choose_until(nodes, usize::MAX)
    }

    /// The same, its searches ended after so many turns at most.
    pub(super) fn try_choose_until(&self, nodes: usize, turns: usize) -> Result<ChoiceOutcome, Error> {
        let brief = self.counting_turns(turns);
        match best_or_unmet(&brief, None, at_least_one(nodes)?)? {
            Ok((question, best)) => Ok(ChoiceOutcome::Made(Box::new(Choice::new(&brief, &question, best, nodes)?))),
            Err(unmet) => Ok(ChoiceOutcome::Unmet(Box::new(unmet))),
        }
    }

    /// Makes the choices of the brief, refusing one without any.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// let brief = Brief::new("One co-surfactant", &Catalogue::starter())?
    ///     .between("sci-powder", 20, 60)?
    ///     .absent_or_between("capb-30", 10, 20)?
    ///     .absent_or_between("coco-glucoside-50", 10, 20)?
    ///     .group("co-surfactants", &["capb-30", "coco-glucoside-50"])?
    ///     .at_most_of("co-surfactants", 1)?
    ///     .qs("kaolin")?
    ///     .at_least(Measure::active_matter(), 57)?
    ///     .minimise(Measure::water());
    /// assert!(brief.solve().is_err()); // a linear program does not choose
    /// let choice = brief.choose()?;
    /// choice.verify()?;
    /// assert_eq!(choice.present(), ["sci-powder", "coco-glucoside-50", "kaolin"]);
    /// assert!(choice.is_best());
    /// let answer = choice.chosen_brief().solve()?; // ranges, prices and proofs of the brief as chosen
    /// assert_eq!(answer.objective(), choice.objective());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Brief::try_choose`], and what forbids a choice as a fault.
    pub fn choose(&self) -> Result<Choice, Error> {
        match self.try_choose(USUAL_NODES)? {
            ChoiceOutcome::Made(choice) => Ok(*choice),
            ChoiceOutcome::Unmet(unmet) => Err(unmet.into_error()),
        }
    }
}

watched_by!(Choice);
best_of!(Choice, "choice");

getters!(Choice {
    /// The brief.
    brief: &Brief,
    /// The brief with the choices made: absent lines fixed at 0, chosen ones with plain ranges.
    chosen_brief: &Brief,
    /// How many it might have taken.
    node_limit: usize,
});

impl Choice {
    fn new(brief: &Brief, question: &Question<'_>, best: Best, node_limit: usize) -> Result<Self, Error> {
        let chosen = as_chosen(brief, &best.values);
        let grid = grid::place(&chosen, question.relaxed.program(), &best.values)?;
        Ok(Choice { brief: brief.unwatched(), chosen_brief: chosen.unwatched(), best, grid, node_limit })
    }

    /// The lines above 0, in order.
    #[must_use]
    pub fn present(&self) -> Vec<&str> {
        self.lines_where(Exact::is_positive)
    }

    /// The lines at 0, in order.
    #[must_use]
    pub fn absent(&self) -> Vec<&str> {
        self.lines_where(Exact::is_zero)
    }

    fn lines_where(&self, holds: impl Fn(&Exact) -> bool) -> Vec<&str> {
        self.brief
            .lines()
            .iter()
            .zip(&self.best.values)
            .filter(|(_, value)| holds(value))
            .map(|(line, _)| line.name())
            .collect()
    }

    /// The exact percentages, in the order of the brief's lines: what the proof is about.
    #[must_use]
    pub fn exact(&self) -> &[Exact] {
        &self.best.values
    }

    /// The grid formula.
    ///
    /// # Errors
    /// Where whole ppm cannot meet every one-sided requirement.
    pub fn formula(&self) -> Result<&Formula, Error> {
        self.grid.as_ref().map(|grid| &grid.formula).map_err(|refusal| refusal.clone().into())
    }

    /// Where the grid formula departs from an equation.
    #[must_use]
    pub fn departures(&self) -> &[Departure] {
        self.grid.as_ref().map_or(&[], |grid| &grid.departures)
    }

    /// Checks everything again without the search: the tree with its certificates, its bound, every row, range, dose
    /// and group, and that the grid formula keeps the choices, is the brief's and departs by just what is stated.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        let question = Question::new(&self.brief, None, USUAL_NODES)?;
        question.verify(&self.best)?;
        if self.chosen_brief != as_chosen(&self.brief, &self.best.values) {
            return Err(fails("the brief as chosen makes other choices than those proved").within("choice"));
        }
        grid::verify(&self.chosen_brief, &question.relaxed, &self.best.values, &self.grid)
    }
}

/// The brief with the lines above 0 present.
fn as_chosen(brief: &Brief, values: &[Exact]) -> Brief {
    let present: Vec<bool> = values.iter().map(Exact::is_positive).collect();
    brief.as_chosen(&present)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;
    use crate::measure::Measure;
    use crate::number::Ppm;

    /// One of two co-surfactants, and a target that whole ppm do not meet.
    fn made() -> Choice {
        let brief =
            Brief::new("One co-surfactant", &Catalogue::starter()).unwrap().between("sci-powder", 20, 60).unwrap();
        let brief =
            brief.absent_or_between("capb-30", 10, 20).unwrap().absent_or_between("coco-glucoside-50", 10, 20).unwrap();
        let brief = brief
            .group("co-surfactants", &["capb-30", "coco-glucoside-50"])
            .unwrap()
            .at_most_of("co-surfactants", 1)
            .unwrap();
        let brief = brief
            .qs("kaolin")
            .unwrap()
            .target(Measure::active_matter(), Exact::ratio(281, 7))
            .unwrap()
            .at_least(Measure::water(), 3)
            .unwrap();
        let ChoiceOutcome::Made(choice) = brief.minimise(Measure::water()).try_choose(900).unwrap() else {
            panic!("there is a choice")
        };
        *choice
    }

    #[test]
    fn a_choice_says_what_it_rests_on() {
        let choice = made();
        choice.verify().unwrap();
        assert_eq!((choice.bound(), choice.gap()), (choice.objective(), &Exact::ZERO));
        assert_eq!(choice.node_limit(), 900);
        assert!(choice.is_best());
        let mut open = choice.clone();
        open.best.gap = Exact::ratio(1, 8);
        assert!(!open.is_best() && open.gap() == &Exact::ratio(1, 8), "another could be better by that");
        assert!(open.verify().is_err(), "but the search was complete");
        let [departure] = choice.departures() else { panic!("{:?}", choice.departures()) };
        assert_eq!(departure.words, "active matter at 281/7 %");
        let read = choice
            .formula()
            .unwrap()
            .measure(&Measure::active_matter(), &crate::measure::Basis::AsCharged)
            .unwrap()
            .value
            .unwrap()
            .typical
            .unwrap();
        assert_eq!(departure.departure, read - Exact::ratio(281, 7));
    }

    #[test]
    fn what_is_changed_afterwards_is_refused() {
        let choice = made();
        let refused = |says: &str, change: &dyn Fn(&mut Choice)| {
            let mut forged = choice.clone();
            change(&mut forged);
            let error = forged.verify().expect_err(says).to_string();
            assert!(error.contains(says), "{error}");
        };
        let grid = |forged: &mut Choice, change: &dyn Fn(&mut Grid)| {
            if let Ok(grid) = &mut forged.grid {
                change(grid);
            }
        };
        refused("the bound, gap or objective", &|forged| forged.best.bound = Some(Exact::ONE));
        refused("other choices", &|forged| forged.chosen_brief = forged.brief.as_chosen(&[true; 4]));
        refused("a departure is not the one reported", &|forged| grid(forged, &|grid| grid.departures.clear()));
        refused("a departure is not the one reported", &|forged| {
            grid(forged, &|grid| grid.departures[0].bound += Exact::ONE)
        });
        refused("a departure is not the one reported", &|forged| {
            grid(forged, &|grid| grid.departures[0].departure += Exact::ratio(1, 1_000_000))
        });
        let moved = |forged: &mut Choice, from: usize, to: usize, parts: u32| {
            grid(forged, &|grid| {
                let mut lines = grid.formula.lines().to_vec();
                lines[from] =
                    lines[from].clone().with_percent(Ppm::from_parts(lines[from].percent().parts() - parts).unwrap());
                lines[to] =
                    lines[to].clone().with_percent(Ppm::from_parts(lines[to].percent().parts() + parts).unwrap());
                grid.formula = Formula::new("One co-surfactant", lines).unwrap();
            });
        };
        let absent = choice.exact().iter().position(Exact::is_zero).unwrap();
        refused("a line is outside its range", &|forged| moved(forged, 3, absent, 1));
        refused("it does not meet", &|forged| moved(forged, 0, 3, 10_000));
        refused("there is a grid formula", &|forged| {
            forged.grid = Err(GridRefusal { requirements: Vec::new(), search: Err(1) })
        });
    }
}
