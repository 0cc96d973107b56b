//! One raw material in place of another, keeping chosen measures.
//!
//! Four linear programs, each among the answers of the one before:
//!
//! ```text
//! 1   least total departure of the kept measures, each in parts of its value before (of one unit where that was 0)
//! 2   least total change of the other lines; a q.s. line, which takes the rest, is not counted
//! 3   of that, as much as can be in the largest free line, which feels it least
//! 4   least change of the line itself
//! ```
//!
//! Lines that the formula marks as fixed, and raw materials dosed with care (preservatives, acids, scents and the
//! like), stay as they are. Where a kept measure cannot be kept so, the nearest formula is given, and which of those
//! lines would have to give for it.
//!
//! A measure `n / d` whose denominator differs from formula to formula departs from `v` by `|n - v d| / d`, which is not
//! linear. From a formula in which the departure is `t` and the denominator `d*`, the first program is asked anew with
//! `(|n - v d| - t d) / d*` in its place, as long as the sum of the departures falls: of one such measure alone these
//! are Dinkelbach's steps, which end at the least (W. Dinkelbach, Management Science 13, 1967; from memory), and the
//! last program proves it. Such a denominator stays at a thousandth at least of what it would be if nothing else changed.
//! The later programs let none of them depart further.
//!
//! # Why
//! - Where such a measure is kept beside others, the sum of departures has more than one low: what is found is none
//!   that such a step lowers, and need not be the least.
//! - Fixed lines and raw materials dosed with care stay, and are named where they would have to give. A candidate
//!   of which an attribute or pH range is not stated does not match.

mod outcome;

use std::sync::Arc;

use tenside_lp::{Column, Optimum, Outcome, Program, Row, dot, solve_watched};

use super::grid;
use super::objective::is_constant;
use super::point::rows;
use super::program::{Frame, difference, frame, giving, one_line};
use super::sides::{Sides, sides, sides_of};
use crate::bounds::Quantity;
use crate::brief::{Brief, BriefLine, Requirement, Role};
use crate::catalogue::Catalogue;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::measure::{Basis, LineView, Measure};
use crate::number::Exact;
use crate::watch::{Unwatched, Watch};

/// What a substitution cannot promise.
pub(super) const EQUAL_IN: &str = "equal in what was kept, not in foam, feel or pH";

/// A measure that was to be kept.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Kept {
    /// The measure.
    pub measure: Measure,
    /// Its unit.
    pub unit: String,
    /// Its value before.
    pub before: Exact,
    /// Its value in the new formula.
    pub after: Exact,
    /// True where the exact solution keeps it; the grid formula then departs by less than rounding to 0.0001 % can.
    pub is_exact: bool,
}

/// A line at another percentage.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LineChange {
    /// The line.
    pub line: String,
    /// Percent before.
    pub before: Exact,
    /// Percent after.
    pub after: Exact,
}

/// A formula with one raw material replaced.
#[derive(Clone, Debug, PartialEq)]
pub struct Substitution {
    before: Formula,
    after: Formula,
    line: String,
    new_line: String,
    kept: Vec<Kept>,
    total_departure: Exact,
    exact: Vec<Exact>,
    needed: Option<Exact>,
    room: Exact,
    would_have_to_give: Vec<LineChange>,
    stages: Vec<Solved>,
}

impl Formula {
    /// Replaces the raw material of a line by another, keeping these measures exactly where that is possible, else as
    /// nearly as it is; the other lines change least and every line keeps its phase. Of what a ratio divides by, a
    /// thousandth at least stays.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::measure::Measure;
    /// use tenside::number::Ppm;
    /// use tenside::substance::Class;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let bar = Formula::new("Bar", vec![line("sci-powder", "40")?, line("stearic-acid", "20")?, line("kaolin", "40")?.as_qs(true)])?;
    /// let noodles = catalogue.material("sci-noodles")?;
    /// let keep = [Measure::active_matter(), Measure::class(Class::FattyAcid)];
    /// let substitution = bar.substitute("sci-powder", noodles, &keep)?;
    /// substitution.verify()?;
    /// assert!(substitution.is_exact());
    /// // The noodles bring stearic acid of their own, so the line of it is lowered.
    /// assert!(substitution.after().line("stearic-acid")?.percent() < bar.line("stearic-acid")?.percent());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An unknown line, the same raw material, a measure that has no value in the formula or whose scope names the
    /// replaced line by the name of its raw material.
    pub fn substitute(&self, line: &str, replacement: &Arc<Material>, keep: &[Measure]) -> Result<Substitution, Error> {
        self.substitute_watched(line, replacement, keep, Arc::new(Unwatched))
    }

    /// As [`Formula::substitute`], ended early where the watch says so.
    ///
    /// # Errors
    /// As [`Formula::substitute`], and `Stopped`.
    pub fn substitute_watched(
        &self,
        line: &str,
        replacement: &Arc<Material>,
        keep: &[Measure],
        watch: Arc<dyn Watch>,
    ) -> Result<Substitution, Error> {
        let asked = self.line(line)?;
        let index = self.lines().iter().position(|known| known.name() == line).unwrap_or_default();
        let substitution = if asked.material() == replacement {
            Err(Fault::new(FaultKind::Contradiction, "the raw material would be replaced by itself")
                .value(replacement.id())
                .into())
        } else {
            Exchange::new(self, index, replacement, keep, watch).and_then(Exchange::substitution)
        };
        substitution.map_err(|error| error.within(&format!("line {line:?}")))
    }
}

/// A replacement being worked out.
struct Exchange<'a> {
    before: &'a Formula,
    index: usize,
    replacement: &'a Arc<Material>,
    lines: Vec<Line>,
    keep: &'a [Measure],
    values: Vec<Exact>,
    /// What each departure counts: in parts of the value before, of one unit where that was 0.
    weights: Vec<Exact>,
    watch: Arc<dyn Watch>,
}

/// Lines at the end of the stages, how far each kept measure departs there, and the programs.
struct Staged {
    values: Vec<Exact>,
    departures: Vec<Departure>,
    programs: Vec<Solved>,
}

/// How far a measure departs from its value before.
#[derive(Clone)]
struct Departure {
    below: Exact,
    by: Exact,
}

/// A program and what came of it.
type Solved = (Program, Optimum);

/// Solves with more rows for what a goal costs.
type Solver<'a> = dyn Fn(&[Row], &[Exact]) -> Result<Solved, Error> + 'a;

/// One in so many of a denominator stays at least.
const LEAST_LEFT: i32 = 1000;

/// The value of a measure in a formula, and its unit.
fn value_in(formula: &Formula, measure: &Measure, missing: &str) -> Result<(Exact, String), Error> {
    let measured = formula.measure(measure, &Basis::AsCharged)?;
    let value = measured.value.and_then(|value| value.typical).ok_or_else(|| {
        let unknown = || Fault::new(FaultKind::NotKnown, missing).into();
        Error::from_faults(measured.why_not).unwrap_or_else(unknown).within(&measure.name())
    })?;
    Ok((value, measured.unit))
}

impl<'a> Exchange<'a> {
    fn new(
        before: &'a Formula,
        index: usize,
        replacement: &'a Arc<Material>,
        keep: &'a [Measure],
        watch: Arc<dyn Watch>,
    ) -> Result<Self, Error> {
        Quantity::KeptMeasures.check_count(keep.len())?;
        let value = |measure| value_in(before, measure, "a measure to keep has no value in the formula");
        let values = keep.iter().map(|measure| Ok(value(measure)?.0)).collect::<Result<Vec<_>, Error>>()?;
        let weights = values.iter().map(|value| value.abs().reciprocal().unwrap_or(Exact::ONE)).collect();
        let old = &before.lines()[index];
        // A line that was called after its raw material is called after the new one.
        let name = match (
            old.name() == old.material().id(),
            before.lines().iter().any(|line| line.name() == replacement.id()),
        ) {
            (true, false) => replacement.id().to_string(),
            (true, true) => format!("{} for {}", replacement.id(), old.name()),
            (false, _) => old.name().to_string(),
        };
        let new = Line::new(&name, Arc::clone(replacement), old.percent())?.in_phase(old.phase())?;
        let new = new.in_groups(old.groups()).for_purposes(old.purposes()).as_qs(old.is_qs()).as_fixed(old.is_fixed());
        let mut lines = before.lines().to_vec();
        lines[index] = new;
        Ok(Exchange { before, index, replacement, lines, keep, values, weights, watch })
    }

    /// The line as it was.
    fn old(&self) -> &Line {
        &self.before.lines()[self.index]
    }

    /// Fixed, or dosed with care.
    fn is_held(&self, index: usize) -> bool {
        let line = &self.lines[index];
        index != self.index && !line.is_qs() && (line.is_fixed() || line.material().main_class().is_dosed_with_care())
    }

    fn held(&self) -> impl Iterator<Item = usize> + '_ {
        (0..self.lines.len()).filter(|index| self.is_held(*index))
    }

    /// The q.s. line, else the largest of the others that is not held.
    fn absorber(&self) -> Option<usize> {
        let others = || (0..self.lines.len()).filter(|index| *index != self.index && !self.is_held(*index));
        // Of several the first.
        let largest = || others().rev().max_by_key(|index| self.lines[*index].percent());
        others().find(|index| self.lines[*index].is_qs()).or_else(largest)
    }

    /// The new lines as a brief; held lines are fixed, or free too.
    fn brief(&self, free_all: bool) -> Result<Brief, Error> {
        let mut brief = Brief::new(self.before.title(), &Catalogue::empty())?.watched_by(Arc::clone(&self.watch));
        if let Some(prices) = self.before.prices() {
            brief = brief.priced_by(Arc::clone(prices));
        }
        for (index, line) in self.lines.iter().enumerate() {
            let role = match (line.is_qs(), self.is_held(index) && !free_all) {
                (true, _) => Role::Qs,
                (false, true) => Role::Fixed(line.percent()),
                (false, false) => Role::Free,
            };
            brief = brief.line(
                BriefLine::new(line.name(), Arc::clone(line.material()), role)?
                    .in_phase(line.phase())?
                    .for_purposes(line.purposes()),
            )?;
            for group in line.groups() {
                brief = brief.group(group, &[line.name()])?;
            }
        }
        Ok(brief)
    }

    /// Works through the stages; `counted` are the lines whose change the second one makes least.
    fn staged(&self, brief: &Brief, counted: &dyn Fn(usize) -> bool) -> Result<Staged, Error> {
        let (lines, kept) = (self.lines.len(), self.keep.len());
        let Frame { mut columns, rows } = frame(brief)?;
        // Columns: the lines, how far each kept measure departs, how far each line changes.
        let width = 2 * lines + kept;
        columns.resize(width, Column { low: Some(Exact::ZERO), high: None, cost: Exact::ZERO });
        let mut rows: Vec<Row> = rows.into_iter().map(|named| named.row).collect();
        let mut near = |form: &[Exact], column: usize, value: &Exact| {
            rows.extend(giving(form, [Some(value.clone()), Some(value.clone())], (column, &Exact::ONE), width));
        };
        let sides = self.keep.iter().map(|measure| sides(brief, measure, &Basis::AsCharged));
        let sides = sides.collect::<Result<Vec<_>, _>>()?;
        for (at, ((numerator, denominator), value)) in sides.iter().zip(&self.values).enumerate() {
            near(&difference(numerator, denominator, value), lines + at, &Exact::ZERO);
        }
        let start: Vec<Exact> = self.lines.iter().map(|line| line.percent().percent()).collect();
        for (index, percent) in start.iter().enumerate() {
            near(&one_line(lines, index), lines + kept + index, percent);
        }
        // A ratio of next to nothing over next to nothing is kept by no formula that anybody means.
        let start = self.departures(&sides, &start)?;
        for (departure, (_, denominator)) in start.iter().zip(&sides).filter(|(_, (_, below))| !is_constant(below)) {
            let low = Some(&departure.below / Exact::from(LEAST_LEFT));
            rows.push(Row { coefficients: denominator.to_vec(), low, high: None });
        }
        rows.iter_mut().for_each(|row| row.coefficients.resize(width, Exact::ZERO));
        let solved = |rows: &[Row], more: &[Row], goal: &[Exact]| -> Result<Solved, Error> {
            let priced = columns.iter().zip(goal).map(|(column, cost)| Column { cost: cost.clone(), ..column.clone() });
            let program = Program::new(priced.collect(), rows.iter().chain(more).cloned().collect())?;
            let order: Vec<usize> = (0..lines).collect();
            if let Outcome::Optimal(optimum) = solve_watched(&program, &order, brief.watched())? {
                return Ok((program, optimum));
            }
            let message = "the lines that stay as they are leave no percentage for the others";
            Err(Fault::new(FaultKind::Contradiction, message).remedy("free one of them").into())
        };
        let (nearest, departures) = self.nearest(&sides, width, start, &|more, goal| solved(&rows, more, goal))?;
        let mut programs = vec![nearest];
        // What the sum is of measures over the whole formula, and each of the others, departs no further.
        let mut sum = Row { coefficients: vec![Exact::ZERO; width], low: None, high: Some(Exact::ZERO) };
        for (at, departure) in departures.iter().enumerate() {
            if !is_constant(&sides[at].1) {
                rows.push(self.no_further(at, departure, &sides[at].1, width));
            } else {
                sum.coefficients[lines + at] = &self.weights[at] / &departure.below;
                sum.high = sum.high.map(|high| high + &self.weights[at] * &departure.by);
            }
        }
        rows.push(sum);
        let mut goals = vec![vec![Exact::ZERO; width]; 3];
        let absorber = self.absorber();
        for index in (0..lines).filter(|index| *index != self.index && counted(*index)) {
            goals[0][lines + kept + index] = Exact::ONE;
            if Some(index) != absorber {
                goals[1][lines + kept + index] = Exact::ONE;
            }
        }
        goals[2][lines + kept + self.index] = Exact::ONE;
        let mut values = Vec::new();
        for goal in goals {
            let (program, optimum) = solved(&rows, &[], &goal)?;
            values = optimum.values[..lines].to_vec();
            rows.push(Row { coefficients: goal, low: None, high: Some(optimum.objective.clone()) });
            programs.push((program, optimum));
        }
        let departures = self.departures(&sides, &values)?;
        Ok(Staged { departures, values, programs })
    }

    /// The first program, and how far each kept measure departs at least, from what is known to be possible on.
    fn nearest(
        &self,
        sides: &[Sides],
        width: usize,
        mut known: Vec<Departure>,
        solved: &Solver<'_>,
    ) -> Result<(Solved, Vec<Departure>), Error> {
        let lines = self.lines.len();
        let ratios: Vec<usize> = (0..sides.len()).filter(|at| !is_constant(&sides[*at].1)).collect();
        let nearer_than = |optimum: &Optimum, known: &[Departure]| {
            let found = self.departures(sides, &optimum.values[..lines]).ok();
            found.filter(|found| self.total(found) < self.total(known))
        };
        // As if nothing departed, which finds what keeps all; then from the nearest that is known.
        let mut from: Vec<Departure> =
            known.iter().map(|departure| Departure { by: Exact::ZERO, ..departure.clone() }).collect();
        let (mut is_first, mut is_settled) = (true, ratios.is_empty() || ratios.len() == sides.len());
        loop {
            let mut goal = vec![Exact::ZERO; width];
            for (at, (departure, (_, denominator))) in from.iter().zip(sides).enumerate() {
                let weight = &self.weights[at] / &departure.below;
                if !is_constant(denominator) {
                    let gain = &weight * &departure.by;
                    goal.iter_mut().zip(&**denominator).for_each(|(cost, below)| *cost -= &(&gain * below));
                }
                goal[lines + at] = weight;
            }
            let first = solved(&[], &goal)?;
            let mut nearer = nearer_than(&first.1, &known);
            if nearer.is_none() && !is_first && !is_settled {
                // The others as near as they come with no ratio further off.
                is_settled = true;
                let mut others = vec![Exact::ZERO; width];
                for at in (0..sides.len()).filter(|at| !ratios.contains(at)) {
                    others[lines + at] = &self.weights[at] / &known[at].below;
                }
                let held = ratios.iter().map(|at| self.no_further(*at, &known[*at], &sides[*at].1, width));
                nearer = nearer_than(&solved(&held.collect::<Vec<_>>(), &others)?.1, &known);
            }
            let is_last = ratios.is_empty() || nearer.is_none() && !is_first;
            known = nearer.unwrap_or(known);
            if is_last || self.total(&known).is_zero() {
                return Ok((first, known));
            }
            (from, is_first) = (known.clone(), false);
        }
    }

    /// That a ratio departs no further.
    fn no_further(&self, at: usize, departure: &Departure, denominator: &[Exact], width: usize) -> Row {
        let mut coefficients: Vec<Exact> = denominator.iter().map(|below| -(&departure.by * below)).collect();
        coefficients.resize(width, Exact::ZERO);
        coefficients[self.lines.len() + at] = Exact::ONE;
        Row { coefficients, low: None, high: Some(Exact::ZERO) }
    }

    /// How far each kept measure departs in a formula; refused where one has no value.
    fn departures(&self, sides: &[Sides], values: &[Exact]) -> Result<Vec<Departure>, Error> {
        let departure = |((numerator, denominator), before): (&Sides, &Exact)| {
            let below = dot(&**denominator, values);
            let by = (dot(&**numerator, values).checked_div(&below)? - before).abs();
            below.is_positive().then_some(Departure { below, by })
        };
        sides.iter().zip(&self.values).map(departure).collect::<Option<_>>().ok_or_else(|| {
            let message = "the denominator of a ratio to keep would be 0";
            Fault::new(FaultKind::Unsupported, message).value(self.before.title()).into()
        })
    }

    fn total(&self, departures: &[Departure]) -> Exact {
        dot(&self.weights, departures.iter().map(|departure| &departure.by))
    }

    fn substitution(self) -> Result<Substitution, Error> {
        let brief = self.brief(false)?;
        let staged = self.staged(&brief, &|index| !self.lines[index].is_qs())?;
        let departures = staged.departures;
        let total_departure = self.total(&departures);
        let would_give = if total_departure.is_zero() { Vec::new() } else { self.would_give()? };
        let needed = self.needed(&brief);
        let after = self.on_grid(brief, &staged.values)?;
        let mut kept = Vec::with_capacity(self.keep.len());
        for (at, (measure, before)) in self.keep.iter().zip(&self.values).enumerate() {
            let (value, unit) = value_in(&after, measure, "a measure to keep has no value in the formula found")?;
            kept.push(Kept {
                measure: measure.clone(),
                unit,
                before: before.clone(),
                after: value,
                is_exact: departures[at].by.is_zero(),
            });
        }
        let held: Exact = self.held().map(|index| self.lines[index].percent().percent()).sum();
        Ok(Substitution {
            before: self.before.clone(),
            after,
            line: self.old().name().to_string(),
            new_line: self.lines[self.index].name().to_string(),
            kept,
            total_departure,
            exact: staged.values,
            needed,
            room: Exact::hundred() - held,
            would_have_to_give: would_give,
            stages: staged.programs,
        })
    }

    /// With every line free: which of the held ones change, if that keeps the measures exactly.
    fn would_give(&self) -> Result<Vec<LineChange>, Error> {
        let staged = self.staged(&self.brief(true)?, &|index| self.is_held(index))?;
        if !self.total(&staged.departures).is_zero() {
            return Ok(Vec::new());
        }
        let change = |index: usize| LineChange {
            line: self.lines[index].name().to_string(),
            before: self.lines[index].percent().percent(),
            after: staged.values[index].clone(),
        };
        Ok(self.held().map(change).filter(|change| change.before != change.after).collect())
    }

    /// How much of the new raw material brings what the line brought of the first measure that both bring.
    fn needed(&self, brief: &Brief) -> Option<Exact> {
        let brought = |line: &Line, measure: &Measure| {
            let (numerator, denominator) = sides_of(brief, measure, &[LineView::of(line)]).ok()?;
            numerator[0].checked_div(&denominator[0])
        };
        self.keep.iter().filter(|measure| !measure.is_ratio()).find_map(|measure| {
            let new = brought(&self.lines[self.index], measure)?;
            let share = brought(self.old(), measure)?.checked_div(&new).filter(Exact::is_positive)?;
            Some(self.old().percent().percent() * share)
        })
    }

    /// The solution in whole ppm, the measures being asked for at the values that they reach.
    fn on_grid(&self, brief: Brief, values: &[Exact]) -> Result<Formula, Error> {
        let mut asked = brief;
        for measure in self.keep {
            let (numerator, denominator) = sides(&asked, measure, &Basis::AsCharged)?;
            if let Some(reached) = dot(&*numerator, values).checked_div(&dot(&*denominator, values)) {
                asked = asked.require(Requirement::equal(measure.clone(), reached)?)?;
            }
        }
        let grid = grid::place(&asked, &rows(&asked)?, values)?.map_err(Error::from)?;
        let lines = self
            .lines
            .iter()
            .zip(grid.formula.lines())
            .map(|(line, placed)| line.clone().with_percent(placed.percent()));
        let title = format!("{}, {} for {}", self.before.title(), self.replacement.id(), self.old().material().id());
        let title: String = title.chars().take(200).collect();
        Ok(Formula::new(&title, lines.collect())?
            .with_phases(self.before.phases())?
            .with_prices(self.before.prices().cloned()))
    }
}

#[cfg(test)]
#[path = "substitute_tests.rs"]
mod tests;
