//! Sweeps of briefs that their equations determine: percentages are quotients of polynomials in what axes turn.
//!
//! # Why
//! - Where a brief has as many equations as unknowns (a split is one unknown), Cramer's rule gives every percentage
//!   as a quotient of polynomials in what axes turn. The arithmetic is whole numbers in `f64`: bounds of every
//!   polynomial over the axes decide what is exact (proof notes in `closed/form.rs`, `closed/kernel.rs`); where
//!   numbers are too long the error is bounded and doubtful points are settled in exact arithmetic. Feasibility is
//!   judged by exact polynomials, never by rounded percentages. Division is by a product with the inverse unless a
//!   quotient in the block is near half-way.
//! - The one rounding rule is that of formulas: half-way to even, the q.s. line takes the rest.

mod determined;
mod form;
mod kernel;
mod level;
mod polynomial;
mod variables;
mod weights;

use std::ops::Range;

pub use level::Level;
pub(in crate::sweep) use level::LevelKernel;

use determined::{Determined, LineForm, determine};
use form::Inner;
use kernel::{BLOCK, ExactPoint, Kernel, Work, exactly};
use variables::Variables;

use super::axis::Axis;
use super::definition::Sweep;
use super::fill::{Batch, Fill, Percents};
use super::points::turned;
use super::query::Query;
use super::solved::{solve_row, swept_basis};
use crate::brief::{Objective, Parameter, Role};
use crate::error::Error;
use crate::measure::Content;
use crate::number::{Exact, HalfWay, Ppm, apportion_to};

/// Points of the inner axes that are worked in one go, at least where the sweep has as many.
const INNER: usize = 2048;
/// The most combinations of raw materials, moistures and the like, each of which has a closed form of its own.
const MOST_FORMS: usize = 4096;

const PPM_PER_PERCENT: f64 = 10_000.0;

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
    scales: Vec<f64>,
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
        let mut plans: Vec<Plan> = Vec::new();
        for combination in 0..count {
            let mut places = vec![0; axes.len()];
            let mut rest = combination;
            for axis in stepped.iter().rev() {
                places[*axis] = rest % lengths[*axis];
                rest /= lengths[*axis];
            }
            let only: Vec<Axis> = stepped.iter().map(|axis| axes[*axis].clone()).collect();
            let only_places: Vec<usize> = stepped.iter().map(|axis| places[*axis]).collect();
            let brief = turned(brief, &only, &only_places)?;
            let measures = query
                .measures
                .iter()
                .map(|(measure, basis)| Ok((measure.clone(), swept_basis(sweep, &places, basis)?)))
                .collect::<Result<Vec<_>, Error>>()?;
            let Some(form) = determine(&brief, axes, &variables, &measures)? else { return Ok(None) };
            let absorber = absorber(sweep, &form, &variables, &lengths);
            let legends = (sweep.binding_legend(), sweep.conflict_legend());
            let kernel =
                Kernel::new(&form, &variables, &lengths, Inner::new(first_inner, inner_points), legends, absorber);
            plans.push(Plan { form, kernel });
        }
        // One scale for a measure in all forms, else its values themselves.
        let mut scales: Vec<f64> = plans
            .first()
            .map_or_else(Vec::new, |plan| plan.kernel.measures.iter().map(|measure| measure.scale).collect());
        for plan in &plans {
            for (scale, measure) in scales.iter_mut().zip(&plan.kernel.measures) {
                if *scale != measure.scale {
                    *scale = 1.0;
                }
            }
        }
        Ok(Some(Closed { sweep, query: query.clone(), variables, lengths, stepped, inner_points, plans, scales }))
    }

    /// Settles points that the kernel could not: their percentages by the one rounding rule from the exact ones.
    #[cold]
    fn settle(&self, plan: &Plan, first: u64, work: &mut Work) -> Result<(), Error> {
        let doubtful = std::mem::take(&mut work.doubtful);
        for &point in &doubtful {
            let row = first + point as u64;
            let values = self.variables.at(&self.sweep.places(row));
            let legends = (self.sweep.binding_legend(), self.sweep.conflict_legend());
            let settled = match exactly(&plan.form, &values, legends) {
                Some(settled) => settled,
                None => {
                    let (_, solved) = solve_row(self.sweep, row)?;
                    let feasible = solved.percents.is_some();
                    let percents = solved.percents.unwrap_or_else(|| vec![Exact::ZERO; plan.form.lines.len()]);
                    ExactPoint { percents, feasible, binding: solved.binding, conflict: solved.conflict }
                }
            };
            (work.feasible[point], work.binding[point], work.conflict[point]) =
                (settled.feasible, settled.binding, settled.conflict);
            for (line, parts) in work.lines.iter_mut().zip(parts(&settled, plan.kernel.absorber)) {
                if let Percents::Each(line) = line {
                    line[point] = parts;
                }
            }
        }
        work.doubtful = doubtful;
        Ok(())
    }
}

/// Whole ppm that sum to a million; where the absorber has too little, the largest line gives the rest.
fn parts(point: &ExactPoint, absorber: usize) -> Vec<f64> {
    if !point.feasible {
        return vec![0.0; point.percents.len()];
    }
    let shares: Vec<Exact> = point.percents.iter().map(|percent| percent * Exact::from(10_000)).collect();
    let largest = (0..shares.len())
        .max_by(|left, right| shares[*left].cmp(&shares[*right]).then(right.cmp(left)))
        .unwrap_or(absorber);
    let whole = i64::from(Ppm::WHOLE.parts());
    let rounded = apportion_to(&shares, whole, absorber).or_else(|_| apportion_to(&shares, whole, largest));
    let nearest = |share: &Exact| share.round_i64(HalfWay::ToEven).unwrap_or(0);
    rounded
        .map_or_else(|_| shares.iter().map(nearest).collect(), |rounded| rounded.units)
        .into_iter()
        .map(|units| units as f64)
        .collect()
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

/// The line that takes what is left to 100: the q.s. line, else the free line that is largest at the middle of the
/// axes.
fn absorber(sweep: &Sweep, form: &Determined, variables: &Variables, lengths: &[usize]) -> usize {
    if let Some(line) = sweep.brief().lines().iter().position(|line| line.role() == &Role::Qs) {
        return line;
    }
    let middle: Vec<usize> = lengths.iter().map(|length| length / 2).collect();
    let values = variables.at(&middle);
    let percent = |line: &LineForm| match line {
        LineForm::Given(_) => Exact::from(-1),
        LineForm::Quotient(numerator) => numerator.at(&values).abs(),
    };
    let percents: Vec<Exact> = form.lines.iter().map(percent).collect();
    (0..percents.len()).max_by(|left, right| percents[*left].cmp(&percents[*right]).then(right.cmp(left))).unwrap_or(0)
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
            self.query.level.run(PercentsOf { kernel: &plan.kernel, start, count, codes: self.query.codes, work });
            if !work.doubtful.is_empty() {
                self.settle(plan, first, work)?;
            }
            if work.any {
                self.query.level.run(WeighingOf { kernel: &plan.kernel, start, count, work });
            }
            for ((values, measure), scale) in work.measures.iter_mut().zip(&plan.kernel.measures).zip(&self.scales) {
                if *scale != measure.scale {
                    values.iter_mut().for_each(|value| *value /= measure.scale);
                }
            }
            let batch = Batch {
                first,
                count,
                lines: &work.lines,
                line_scale: PPM_PER_PERCENT,
                measures: &work.measures,
                scales: &self.scales,
                missing: &work.missing,
                feasible: &work.feasible,
                binding: &work.binding,
                conflict: &work.conflict,
            };
            if !each(&batch) {
                return Ok(false);
            }
            first += count as u64;
        }
        Ok(true)
    }

    fn scales(&self) -> (f64, &[f64]) {
        (PPM_PER_PERCENT, &self.scales)
    }

    fn is_closed(&self) -> bool {
        true
    }
}

struct PercentsOf<'a> {
    kernel: &'a Kernel,
    start: usize,
    count: usize,
    codes: bool,
    work: &'a mut Work,
}

impl LevelKernel for PercentsOf<'_> {
    type Output = ();
    #[inline(always)]
    fn call(self) {
        self.kernel.percents(self.start, self.count, self.codes, self.work);
    }
}

struct WeighingOf<'a> {
    kernel: &'a Kernel,
    start: usize,
    count: usize,
    work: &'a mut Work,
}

impl LevelKernel for WeighingOf<'_> {
    type Output = ();
    #[inline(always)]
    fn call(self) {
        self.kernel.weigh(self.start, self.count, self.work);
    }
}
