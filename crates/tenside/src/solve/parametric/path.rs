//! The answers of a brief along one of its numbers, one critical region after the other (in the literature: parametric
//! programming).

use super::forms::Span;
use super::interval::Interval;
use super::program::ParametricProgram;
use super::region::{NamedBasis, conflict_region, optimal_region};
use crate::bounds::Quantity;
use crate::brief::{Brief, Parameter};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{DoubleDouble, Exact, ToExact};
use crate::solve::answer::Outcome;
use crate::solve::point::{Point, solve_point};
use crate::watch::Halt;

/// Probes for the region that follows another; each halves the way to it.
const MOST_PROBES: usize = 200;
/// A limit is followed no further than this, up or down.
const FARTHEST: i64 = 1_000_000_000;
/// Pieces of one path.
const MOST_REGIONS: usize = 10_000;

/// The answers of a brief as one of its numbers moves. Every point is proved, and the same as from cold.
///
/// Between two values of the parameter the structure of the recipe often stays: the same requirements bind, the same
/// lines stand at their ends. Such a critical region is worked out once, exactly; every further point in it is a few
/// operations per line. Where one value of the parameter moves more than one row of the program, or the objective is a
/// ratio or a sum of squares, each point is solved by itself.
///
/// ```
/// use tenside::brief::{Brief, Parameter, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::measure::Measure;
/// use tenside::number::Exact;
/// let brief = Brief::new("Plain bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("capb-30", 1)])?
///     .between("cetyl-alcohol", 3, 6)?
///     .qs("kaolin")?
///     .target(Measure::active_matter(), 50)?
///     .minimise(Measure::water());
/// let mut path = brief.solution_path(&Parameter::part("wash", "capb-30"))?;
/// for part in [1, 2, 3] {
///     let value = Exact::from(part);
///     let quick = path.percents(&value)?.expect("it is answered")[0];
///     let tenside::solve::Outcome::Answered(answer) = path.solve(&value)? else { panic!("it is answered") };
///     assert_eq!(quick, answer.exact()[0].to_f64());
/// }
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Debug)]
pub struct SolutionPath {
    brief: Brief,
    parameter: Parameter,
    program: Option<ParametricProgram>,
    start: Exact,
    lowest: Exact,
    highest: Exact,
    on_grid: bool,
    known: Vec<Known>,
}

/// A region of the path, by values of the parameter.
#[derive(Debug)]
struct Known {
    interval: Interval,
    /// Each line's numerator and the denominator, as `constant + rate * offset`; `None` without a formula.
    lines: Option<(Vec<Sides>, Sides)>,
}

/// A form of one parameter.
#[derive(Clone, Debug)]
struct Sides {
    exact: [Exact; 2],
    near: [DoubleDouble; 2],
}

impl Sides {
    fn new(form: &[Exact]) -> Self {
        let exact = [form[0].clone(), form[1].clone()];
        Sides { near: [DoubleDouble::of(&exact[0]), DoubleDouble::of(&exact[1])], exact }
    }

    fn near(&self, offset: DoubleDouble) -> DoubleDouble {
        self.near[0].plus(self.near[1].times(offset))
    }

    fn at(&self, offset: &Exact) -> Exact {
        &self.exact[0] + &self.exact[1] * offset
    }
}

/// A critical region of a path: a stretch in which the recipe keeps its structure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PathRegion {
    /// Where it begins.
    pub from: Exact,
    /// Where it ends.
    pub to: Exact,
    /// True if the brief has a formula there.
    pub is_answered: bool,
}

impl Brief {
    /// The answers of the brief as one of its numbers moves.
    ///
    /// # Errors
    /// A parameter that the brief does not have, and as [`Brief::try_solve`] for a brief that cannot be asked.
    pub fn solution_path(&self, parameter: &Parameter) -> Result<SolutionPath, Error> {
        let start = self.parameter_value(parameter)?;
        let (lowest, highest) = domain(self, parameter);
        let on_grid = matches!(parameter, Parameter::Fixed(_) | Parameter::Lowest(_) | Parameter::Highest(_));
        let program = ParametricProgram::new(self, &[vec![(parameter.clone(), Exact::ONE)]])?;
        let (brief, parameter, known) = (self.clone(), parameter.clone(), Vec::new());
        Ok(SolutionPath { brief, parameter, program, start, lowest, highest, on_grid, known })
    }
}

getters!(SolutionPath {
    /// The brief, the parameter where it was.
    brief: &Brief,
    /// The parameter.
    parameter: &Parameter,
});

impl SolutionPath {
    /// The percentages of the canonical answer at a value of the parameter, in the order of the brief's lines, each the
    /// `f64` nearest to the exact solution; `None` if the brief cannot be answered there.
    ///
    /// # Errors
    /// A value that is none for the parameter.
    pub fn percents(&mut self, value: impl ToExact) -> Result<Option<Vec<f64>>, Error> {
        let value = &value.to_exact()?;
        let is_valid =
            self.lowest <= *value && *value <= self.highest && (!self.on_grid || crate::number::Ppm::is_on_grid(value));
        if is_valid && let Some(place) = self.region(value) {
            let Some((lines, denominator)) = &self.known[place].lines else { return Ok(None) };
            let offset = value - &self.start;
            let near = DoubleDouble::of(&offset);
            let inverse = denominator.near(near).inverse();
            let nearest = |line: &Sides| line.near(near).times(inverse).nearest();
            let exact =
                |line: &Sides| line.at(&offset).checked_div(&denominator.at(&offset)).map(|value| value.to_f64());
            let percents: Option<Vec<f64>> = lines.iter().map(|line| nearest(line).or_else(|| exact(line))).collect();
            if percents.is_some() {
                return Ok(percents);
            }
        }
        match solve_point(&self.brief.with_parameter(&self.parameter, value)?)? {
            Point::Solved { values, .. } => Ok(Some(values.iter().map(Exact::to_f64).collect())),
            Point::Conflict(_) => Ok(None),
        }
    }

    /// The outcome at a value of the parameter, with exact solution, proof and grid formula or conflict; solved from
    /// cold.
    ///
    /// # Errors
    /// A value that is none for the parameter, and as [`Brief::try_solve`].
    pub fn solve(&self, value: impl ToExact) -> Result<Outcome, Error> {
        self.brief.with_parameter(&self.parameter, value)?.try_solve()
    }

    /// The critical regions of the path between two values of the parameter, in order. In each of them the recipe keeps
    /// its structure, and every percentage is a quotient of two linear functions of the parameter; where two meet,
    /// lines and limits change their roles.
    ///
    /// ```
    /// use tenside::brief::{Brief, Parameter};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// let brief = Brief::new("Wash", &Catalogue::starter())?.between("capb-30", 0, 50)?.between("sci-powder", 0, 10)?.qs("water")?;
    /// let brief = brief.target(Measure::active_matter(), 5)?.minimise(Measure::material("sci-powder")?);
    /// let parameter = Parameter::Target(brief.requirements()[0].name());
    /// // 50 % of a 30 % grade; then 10 % of an 84 % powder on top.
    /// let regions = brief.solution_path(&parameter)?.regions(1, 30)?;
    /// let ends: Vec<(f64, bool)> = regions.iter().map(|region| (region.to.to_f64(), region.is_answered)).collect();
    /// assert_eq!(ends, [(15.0, true), (23.4, true), (30.0, false)]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Values that are not in order or none for the parameter, a parameter along which each point is solved by itself,
    /// a path of more than 10 000 regions.
    pub fn regions(&mut self, from: impl ToExact, to: impl ToExact) -> Result<Vec<PathRegion>, Error> {
        let (from, to) = (&from.to_exact()?, &to.to_exact()?);
        let place = format!("path along {}", self.parameter);
        for end in [from, to] {
            if *end < self.lowest || *end > self.highest {
                return Err(Fault::new(FaultKind::OutOfRange, "the parameter cannot be there")
                    .at(&place)
                    .value(end)
                    .allowed(format!("{} to {}", self.lowest, self.highest))
                    .into());
            }
        }
        if from >= to {
            let fault = Fault::new(FaultKind::OutOfRange, "a path goes from a lower to a higher value")
                .at(&place)
                .value(format!("{from} to {to}"));
            return Err(fault.into());
        }
        if self.program.is_none() {
            return Err(Fault::new(
                FaultKind::Unsupported,
                "the parameter moves several numbers of the program, so the path has no regions",
            )
            .at(&place)
            .remedy("ask for single points")
            .into());
        }
        let mut regions: Vec<PathRegion> = Vec::new();
        let mut at = from.clone();
        while at < *to {
            self.brief.watched().check()?;
            if regions.len() == MOST_REGIONS {
                return Err(Fault::new(FaultKind::Unsupported, "the path has too many critical regions")
                    .at(&place)
                    .value(format!("{MOST_REGIONS} up to {}", at.rounded_text(6)))
                    .remedy("ask for a shorter stretch of it")
                    .into());
            }
            let Some(known) = self.following(&at, to) else {
                return Err(Fault::new(
                    FaultKind::Unsupported,
                    "no critical region of the path was found from here on",
                )
                .at(&place)
                .value(at.rounded_text(6))
                .remedy("ask for single points")
                .into());
            };
            let end = self.known[known].interval.to.clone().filter(|end| end < to).unwrap_or_else(|| to.clone());
            regions.push(PathRegion { from: at, to: end.clone(), is_answered: self.known[known].lines.is_some() });
            at = end;
        }
        Ok(regions)
    }

    /// The region that begins at a value or before it and ends after it.
    fn following(&mut self, at: &Exact, last: &Exact) -> Option<usize> {
        let half = Exact::ratio(1, 2);
        let between = |one: &Exact, other: &Exact| (one + other) * &half;
        let mut probe = between(at, last);
        for _ in 0..MOST_PROBES {
            match self.region(&probe) {
                Some(found) => match &self.known[found].interval.from {
                    Some(from) if from > at => probe = between(at, from),
                    _ => return Some(found),
                },
                // Two regions meet just there.
                None => probe = between(at, &between(at, &probe)),
            }
        }
        None
    }

    /// From where to where the structure at a value stays, no further than the parameter may go; `None` if each point is
    /// solved by itself, or where two structures meet. An end that only the kind of the number sets is none.
    pub(super) fn interval(&mut self, value: &Exact) -> Option<Interval> {
        let known = self.region(value)?;
        let mut interval = self.known[known].interval.clone();
        let (from, to) = (interval.from.clone(), interval.to.clone());
        interval.not_below(self.lowest.clone());
        interval.not_above(self.highest.clone());
        let (kind_lowest, kind_highest) = kind_of(&self.parameter);
        let keep = |end: Option<Exact>, kind: &Exact| end.filter(|end| self.on_grid || end != kind);
        Some(Interval {
            from: if from == interval.from { from } else { keep(interval.from, &kind_lowest) },
            to: if to == interval.to { to } else { keep(interval.to, &kind_highest) },
        })
    }

    /// The known region that holds a value strictly inside; found if none is known.
    fn region(&mut self, value: &Exact) -> Option<usize> {
        if let Some(known) = self.known.iter().position(|known| known.interval.holds(value)) {
            return Some(known);
        }
        let program = self.program.as_ref()?;
        let offset = value - &self.start;
        let named = NamedBasis::at(program, std::slice::from_ref(&offset))?;
        // The matrix of the basis may be singular at one of them.
        let steps = [Exact::ONE, Exact::from(-1), Exact::ratio(1, 2)];
        let (region, interval) = steps.iter().find_map(|step| {
            let span: Span = vec![(offset.clone(), &offset + step)];
            let region = if named.is_optimal() {
                optimal_region(&self.brief, program, &named, &span)
            } else {
                conflict_region(&self.brief, program, &span, false).ok().flatten()
            }?;
            let interval = Interval::of(&region, &offset)?;
            Some((region, interval))
        })?;
        let lines = (!region.is_conflict)
            .then(|| (region.lines.iter().map(|form| Sides::new(form)).collect(), Sides::new(&region.denominator)));
        self.known.push(Known { interval: interval.moved_by(&self.start), lines });
        Some(self.known.len() - 1)
    }
}

/// What such a number may be, whatever the brief.
fn kind_of(parameter: &Parameter) -> (Exact, Exact) {
    let range = |quantity: Quantity| {
        let (low, high) = quantity.range();
        (low.into(), high.into())
    };
    match parameter {
        Parameter::Part { .. } => range(Quantity::SplitPart),
        Parameter::Price(_) => range(Quantity::Price),
        Parameter::Fixed(_) | Parameter::Lowest(_) | Parameter::Highest(_) => (Exact::ZERO, Exact::hundred()),
        Parameter::Target(_) | Parameter::AtLeast(_) | Parameter::AtMost(_) => {
            (Exact::from(-FARTHEST), Exact::from(FARTHEST))
        }
    }
}

/// What the number may be beside the others of the brief.
fn domain(brief: &Brief, parameter: &Parameter) -> (Exact, Exact) {
    let (mut lowest, mut highest) = kind_of(parameter);
    let other = |end: fn(String) -> Parameter, name: &String| brief.parameter_value(&end(name.clone()));
    match parameter {
        Parameter::Lowest(name) => highest = other(Parameter::Highest, name).unwrap_or(highest),
        Parameter::Highest(name) => lowest = other(Parameter::Lowest, name).unwrap_or(lowest),
        Parameter::AtLeast(name) => highest = other(Parameter::AtMost, name).unwrap_or(highest),
        Parameter::AtMost(name) => lowest = other(Parameter::AtLeast, name).unwrap_or(lowest),
        Parameter::Part { .. } | Parameter::Fixed(_) | Parameter::Target(_) | Parameter::Price(_) => {}
    }
    (lowest, highest)
}
