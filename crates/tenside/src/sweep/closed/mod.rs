//! Sweeps of briefs that their equations determine: percentages are quotients of polynomials in what axes turn.
//!
//! # Why
//! - Where a brief has as many equations as unknowns (a split is one unknown), Cramer's rule gives every percentage
//!   as a quotient of polynomials in what axes turn, and every measure is one too. The arithmetic is whole numbers in
//!   `f64`: bounds of every polynomial over the axes decide what is exact (proof notes in `closed/form.rs`,
//!   `closed/kernel.rs`), and what is not is settled in exact arithmetic. Where cells are, an engine that works them
//!   out to twice the length takes the sweep if it can.

mod determined;
mod form;
mod kernel;
mod level;
mod polynomial;
#[cfg(test)]
mod tests;
mod variables;

use std::ops::Range;

use tenside_lp::dot;

pub use level::Level;

use determined::{Check, Determined, LineForm, determine, may_be_determined};
use form::Inner;
use kernel::{BLOCK, Kernel, Work};
use polynomial::Polynomial;
use variables::Variables;

use super::axis::Axis;
use super::definition::Sweep;
use super::fill::{Batch, Fill, Percents};
use super::points::turned;
use super::query::Query;
use super::solved::{solve_row, swept_basis};
use crate::brief::{Brief, Objective, Parameter};
use crate::error::Error;
use crate::measure::Content;
use crate::number::Exact;

/// Points of the inner axes that are worked in one go, at least where the sweep has as many.
const INNER: usize = 2048;
/// The most combinations of raw materials, moistures and the like, each of which has a closed form of its own.
const MOST_FORMS: usize = 4096;

/// One closed form.
struct Plan {
    form: Determined,
    kernel: Kernel,
}

/// The closed forms of a sweep.
pub(super) struct Closed<'a> {
    sweep: &'a Sweep,
    query: Query,
    variables: Variables,
    lengths: Vec<usize>,
    /// The axes that take a closed form for every point, and their lengths.
    stepped: Vec<usize>,
    inner_points: usize,
    plans: Vec<Plan>,
}

impl<'a> Closed<'a> {
    /// The closed forms; nothing where the equations leave the lines something to choose.
    pub(super) fn new(sweep: &'a Sweep, query: &Query) -> Result<Option<Self>, Error> {
        let brief = sweep.brief();
        if !matches!(brief.objective(), None | Some(Objective::Measure { .. })) {
            return Ok(None);
        }
        let axes = sweep.axes();
        let lengths: Vec<usize> = axes.iter().map(Axis::len).collect();
        let is_symbolic: Vec<bool> = axes.iter().map(|axis| turns_numbers(sweep, axis)).collect();
        let stepped: Vec<usize> = (0..axes.len()).filter(|axis| !is_symbolic[*axis]).collect();
        let Some(count) = stepped
            .iter()
            .try_fold(1usize, |count, axis| count.checked_mul(lengths[*axis]))
            .filter(|count| *count <= MOST_FORMS)
        else {
            return Ok(None);
        };
        let only: Vec<Axis> = stepped.iter().map(|axis| axes[*axis].clone()).collect();
        let mut combinations: Vec<(Vec<usize>, Brief)> = Vec::with_capacity(count);
        for combination in 0..count {
            let mut places = vec![0; axes.len()];
            let mut rest = combination;
            for axis in stepped.iter().rev() {
                places[*axis] = rest % lengths[*axis];
                rest /= lengths[*axis];
            }
            let only_places: Vec<usize> = stepped.iter().map(|axis| places[*axis]).collect();
            let brief = turned(brief, &only, &only_places)?;
            if !may_be_determined(&brief, axes) {
                return Ok(None);
            }
            combinations.push((places, brief));
        }
        let variables = Variables::new(axes, &is_symbolic);
        let mut first_inner = axes.len();
        let mut inner_points = 1usize;
        while first_inner > 0
            && is_symbolic[first_inner - 1]
            && (inner_points < INNER && inner_points * lengths[first_inner - 1] <= 16 * INNER || inner_points == 1)
        {
            first_inner -= 1;
            inner_points *= lengths[first_inner];
        }
        let mut plans: Vec<Plan> = Vec::with_capacity(count);
        for (places, brief) in &combinations {
            let measures = query
                .measures
                .iter()
                .map(|(measure, basis)| Ok((measure.clone(), swept_basis(sweep, places, basis)?)))
                .collect::<Result<Vec<_>, Error>>()?;
            let Some(form) = determine(brief, axes, &variables, &measures)? else { return Ok(None) };
            let inner = Inner::new(first_inner, inner_points);
            let kernel = Kernel::new(&form, &variables, &lengths, inner, sweep.binding_legend(), query.lines);
            plans.push(Plan { form, kernel });
        }
        Ok(Some(Closed { sweep, query: query.clone(), variables, lengths, stepped, inner_points, plans }))
    }

    /// True where no cell needs exact arithmetic.
    pub(super) fn is_short(&self) -> bool {
        self.plans.iter().all(|plan| plan.kernel.is_short)
    }

    /// Settles the points that the kernel left to exact arithmetic.
    #[cold]
    fn settle(&self, plan: &Plan, first: u64, work: &mut Work) -> Result<(), Error> {
        for point in std::mem::take(&mut work.doubtful) {
            let row = first + point as u64;
            let values = self.variables.at(&self.sweep.places(row));
            let (percents, binding) = match self.exactly(&plan.form, &values) {
                Some(found) => found,
                None => {
                    let (_, solved) = solve_row(self.sweep, row)?;
                    (solved.percents, solved.binding)
                }
            };
            (work.columns.feasible[point], work.columns.binding[point]) = (percents.is_some(), binding);
            let Some(percents) = percents else { continue };
            for (line, percent) in work.columns.lines.iter_mut().zip(&percents) {
                if let Percents::Each(line) = line {
                    line[point] = percent.to_f64();
                }
            }
            let weighed =
                |weights: &[Polynomial]| -> Exact { dot(weights.iter().map(|weight| weight.at(&values)), &percents) };
            let columns = work.columns.measures.iter_mut().zip(&mut work.columns.missing);
            for (measure, (cells, missing)) in plan.form.measures.iter().zip(columns) {
                let is_short_of_water = measure.water.as_ref().is_some_and(|water| weighed(water).is_negative());
                let value = weighed(&measure.numerator).checked_div(&weighed(&measure.denominator));
                let value = value.filter(|_| !is_short_of_water);
                (cells[point], missing[point]) = (value.as_ref().map_or(0.0, Exact::to_f64), value.is_none());
            }
        }
        Ok(())
    }

    /// A point's exact percentages, if it has a formula, and what binds; nothing where the equations do not determine
    /// them.
    fn exactly(&self, form: &Determined, values: &[Exact]) -> Option<(Option<Vec<Exact>>, u64)> {
        let denominator = form.denominator.at(values);
        let inverse = denominator.reciprocal()?;
        let mut binding = 0;
        for Check { limit, form, is_given } in &form.checks {
            let value = form.at(values);
            let value = if *is_given || denominator.is_positive() { value } else { -value };
            if value.is_negative() {
                return Some((None, 0));
            }
            binding |= if value.is_zero() { self.sweep.binding_legend().bit(*limit) } else { 0 };
        }
        let percent = |line: &LineForm| match line {
            LineForm::Given(value) => value.at(values),
            LineForm::Quotient(numerator) => numerator.at(values) * &inverse,
        };
        Some((Some(form.lines.iter().map(percent).collect()), binding))
    }
}

/// True where an axis turns a number that stands to the first power in the equations; others take a closed form for
/// every point.
pub(in crate::sweep) fn turns_numbers(sweep: &Sweep, axis: &Axis) -> bool {
    let requirements = || sweep.brief().requirements().iter().filter(|known| known.is_for_every_composition());
    match axis {
        Axis::Moisture(_) | Axis::Material { .. } => false,
        Axis::Parameter(Parameter::Target(name) | Parameter::AtLeast(name) | Parameter::AtMost(name), _) => {
            !requirements().any(|known| known.name() == *name)
        }
        Axis::Parameter(Parameter::Price(_), _) => !requirements().any(|known| known.measure().counts(&Content::Cost)),
        Axis::Parameter(..) | Axis::Share { .. } | Axis::Lattice { .. } => true,
    }
}

impl Fill for Closed<'_> {
    fn fill(&self, rows: Range<u64>, each: &mut dyn FnMut(&Batch<'_>) -> bool) -> Result<bool, Error> {
        let inner = self.inner_points as u64;
        let mut works: Vec<Option<Work>> = (0..self.plans.len()).map(|_| None).collect();
        let mut first = rows.start;
        let mut turned = None;
        while first < rows.end {
            let (outer, start) = (first / inner, usize::try_from(first % inner).unwrap_or(0));
            let count = usize::try_from(rows.end - first).unwrap_or(BLOCK).min(BLOCK).min(self.inner_points - start);
            let places = self.sweep.places(first);
            let place = self.stepped.iter().fold(0, |place, axis| place * self.lengths[*axis] + places[*axis]);
            let plan = &self.plans[place];
            let work = works[place].get_or_insert_with(|| plan.kernel.work());
            if turned != Some(outer) {
                plan.kernel.turn(&self.variables, &places, work);
                turned = Some(outer);
            }
            self.query.level.run(
                #[inline(always)]
                || plan.kernel.fill(start, count, self.query.binding, work),
            );
            if !work.doubtful.is_empty() {
                self.settle(plan, first, work)?;
            }
            if !each(&work.columns.batch(first, count)) {
                return Ok(false);
            }
            first += count as u64;
        }
        Ok(true)
    }

    fn is_quick(&self) -> bool {
        self.is_short()
    }
}
