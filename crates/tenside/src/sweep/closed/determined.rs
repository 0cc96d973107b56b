//! The closed form of a brief that its equations determine.
//!
//! Members of a split share one unknown, `x_j = p_j / a_j * y`, with `p_j` the part and `a_j` what one percent of the
//! line brings of what is split; every other line that is not fixed is an unknown of its own. The sum to 100, the
//! requirements that are equations and fixed members of splits are as many linear equations. With as many equations as
//! unknowns, Cramer's rule gives every unknown as a quotient of determinants, and these are polynomials in the numbers
//! that axes turn, since parts, targets, limits, fixed percentages and prices all stand in the equations to the first
//! power.
//!
//! What a requirement's row depends on is not worked out a second time here: its rows are compiled at two values of
//! each number and joined by a straight line, and one more compilation with all numbers turned at once shows that the
//! line is right.

use tenside_lp::Row;

use super::polynomial::{Polynomial, minors};
use super::variables::Variables;
use crate::brief::{Brief, BriefLine, Parameter, Role};
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::{Exact, Ppm};
use crate::solve::{Limit, limit, rows, sides, water_left, weights_as_far_as_known};
use crate::sweep::axis::Axis;
use crate::sweep::points::renamed;

/// The most unknowns that determinants are worked out for.
const MOST_UNKNOWNS: usize = 8;

/// The percentage of a line.
#[derive(Clone, Debug)]
pub(super) enum LineForm {
    /// Given.
    Given(Polynomial),
    /// Over the common denominator.
    Quotient(Polynomial),
}

/// A limit as a polynomial that is at least 0 where the limit is met, if the common denominator is above 0.
#[derive(Clone, Debug)]
pub(super) struct Check {
    pub(super) limit: Limit,
    pub(super) form: Polynomial,
    /// True where it takes no common denominator: a limit on a line that is given.
    pub(super) is_given: bool,
}

/// A measure's weights, line by line.
#[derive(Clone, Debug)]
pub(super) struct MeasureForm {
    pub(super) numerator: Vec<Polynomial>,
    /// What the numerator is divided by.
    pub(super) denominator: Vec<Polynomial>,
    /// Water as charged less what the basis keeps: below 0 there is no value.
    pub(super) water: Option<Vec<Polynomial>>,
}

/// The closed form.
#[derive(Clone, Debug)]
pub(super) struct Determined {
    pub(super) lines: Vec<LineForm>,
    pub(super) denominator: Polynomial,
    pub(super) checks: Vec<Check>,
    pub(super) measures: Vec<MeasureForm>,
}

/// Whether a brief has as many equations as unknowns: told before anything that takes long is worked out.
pub(super) fn may_be_determined(brief: &Brief, axes: &[Axis]) -> bool {
    let is_member =
        |line: &str| brief.splits().iter().any(|split| split.parts().iter().any(|(member, _)| member.as_str() == line));
    let mut unknowns = brief.splits().len();
    let mut equations = 1 + brief.requirements().iter().filter(|asked| asked.is_target()).count();
    for line in brief.lines() {
        match (is_member(line.name()), is_held(line, axes)) {
            (true, true) => equations += 1,
            (false, false) => unknowns += 1,
            _ => {}
        }
    }
    equations == unknowns
}

/// Whether a line stands at one percentage, which an axis may turn.
fn is_held(line: &BriefLine, axes: &[Axis]) -> bool {
    match line.role() {
        Role::Fixed(_) => true,
        Role::Between(low, high) => low == high && !is_swept(axes, line.name()),
        _ => false,
    }
}

/// The closed form of a brief along axes of which the symbolic ones turn numbers; nothing where the equations do not
/// determine the lines.
pub(super) fn determine(
    brief: &Brief,
    axes: &[Axis],
    variables: &Variables,
    measures: &[(Measure, Basis)],
) -> Result<Option<Determined>, Error> {
    let Some(unknowns) = Unknowns::new(brief, axes, variables)? else { return Ok(None) };
    let Some(rows) = swept_rows(brief, axes, variables)? else { return Ok(None) };
    let mut equations = vec![unknowns.equation(
        &vec![variables.constant(&Exact::ONE); brief.lines().len()],
        &Exact::hundred(),
        variables,
    )];
    for (_, row) in rows.iter().filter(|(_, row)| row.low == row.high) {
        equations.push(unknowns.equation(&row.coefficients, row.low.as_ref().unwrap_or(&Exact::ZERO), variables));
    }
    equations.extend(
        unknowns.held.iter().map(|(group, factor, value)| unknowns.held_equation(*group, factor, value, variables)),
    );
    if equations.len() != unknowns.count || unknowns.count > MOST_UNKNOWNS {
        return Ok(None);
    }
    let mut minors = minors(&equations, variables.all.len());
    // Cramer's rule: y_g = (-1)^(count - g) * minor without g / minor without the right-hand side, which is the last
    // column.
    let count = unknowns.count;
    for (group, minor) in minors.iter_mut().enumerate().take(count) {
        if (count - group) % 2 == 0 {
            *minor = minor.times_number(&Exact::from(-1));
        }
    }
    // Powers of single numbers that all share, as of a part by which the split is scaled, cancel; not of one that can be
    // 0, where the equations determine nothing and that has to show in the denominator.
    let mut common = minors.iter().fold(None, |common, minor| minor.common_powers(common));
    for (power, variable) in common.iter_mut().flatten().zip(&variables.all) {
        *power = if variable.exact.iter().any(Exact::is_zero) { 0 } else { *power };
    }
    let mut minors: Vec<Polynomial> = minors
        .iter()
        .map(|minor| common.as_ref().map_or_else(|| minor.clone(), |powers| minor.divided_by_powers(powers)))
        .collect();
    let denominator = minors.pop().unwrap_or_default();
    if denominator.is_zero() {
        return Ok(None);
    }
    let middle: Vec<Exact> =
        variables.all.iter().map(|variable| variable.exact[variable.exact.len() / 2].clone()).collect();
    let sign = if denominator.at(&middle).is_negative() { Exact::from(-1) } else { Exact::ONE };
    let denominator = denominator.times_number(&sign);
    let lines: Vec<LineForm> = unknowns
        .lines
        .iter()
        .map(|line| match line {
            Place::Given(value) => LineForm::Given(value.clone()),
            Place::Of(group, factor) => LineForm::Quotient(minors[*group].times(factor).times_number(&sign)),
        })
        .collect();
    let mut checks = line_checks(brief, axes, variables, &lines, &denominator);
    for (limit, row) in rows.iter().filter(|(_, row)| row.low != row.high) {
        // sum c_j x_j, over the denominator
        let mut form = Polynomial::default();
        for (coefficient, line) in row.coefficients.iter().zip(&lines) {
            let percent = match line {
                LineForm::Given(value) => value.times(&denominator),
                LineForm::Quotient(numerator) => numerator.clone(),
            };
            form = form.plus(&percent.times(coefficient));
        }
        if let Some(low) = &row.low {
            checks.push(Check { limit: *limit, form: form.minus(&denominator.times_number(low)), is_given: false });
        }
        if let Some(high) = &row.high {
            checks.push(Check { limit: *limit, form: denominator.times_number(high).minus(&form), is_given: false });
        }
    }
    let mut forms = Vec::new();
    for (measure, basis) in measures {
        match measure_form(brief, axes, variables, measure, basis)? {
            Some(form) => forms.push(form),
            None => return Ok(None),
        }
    }
    Ok(Some(Determined { lines, denominator, checks, measures: forms }))
}

/// Where a line's percentage comes from.
enum Place {
    Given(Polynomial),
    /// An unknown, and what it is multiplied by.
    Of(usize, Polynomial),
}

struct Unknowns {
    lines: Vec<Place>,
    count: usize,
    /// Fixed members of splits: unknown, factor, percentage.
    held: Vec<(usize, Polynomial, Polynomial)>,
}

impl Unknowns {
    fn new(brief: &Brief, axes: &[Axis], variables: &Variables) -> Result<Option<Self>, Error> {
        let mut factors: Vec<Option<(usize, Polynomial)>> = vec![None; brief.lines().len()];
        for (group, split) in brief.splits().iter().enumerate() {
            for ((line, _), part) in split.parts().iter().zip(variables.parts(brief, axes, group)) {
                let Some(index) = brief.lines().iter().position(|known| known.name() == line) else { return Ok(None) };
                let (brought, _) = sides(brief, &split.measure_of(line), &Basis::AsCharged)?;
                let Some(inverse) = brought[index].reciprocal() else { return Ok(None) };
                if factors[index].is_some() {
                    return Ok(None);
                }
                factors[index] = Some((group, part.times_number(&inverse)));
            }
        }
        let mut unknowns = Unknowns { lines: Vec::new(), count: brief.splits().len(), held: Vec::new() };
        for (line, factor) in brief.lines().iter().zip(factors) {
            let fixed = is_held(line, axes).then(|| {
                let swept = variables.of_dial(axes, &Parameter::Fixed(line.name().to_string()));
                swept.unwrap_or_else(|| variables.constant(&line.role().range().0.percent()))
            });
            let place = match (factor, fixed) {
                (Some((group, factor)), fixed) => {
                    unknowns.held.extend(fixed.map(|value| (group, factor.clone(), value)));
                    Place::Of(group, factor)
                }
                (None, Some(value)) => Place::Given(value),
                (None, None) => {
                    unknowns.count += 1;
                    Place::Of(unknowns.count - 1, variables.constant(&Exact::ONE))
                }
            };
            unknowns.lines.push(place);
        }
        Ok(Some(unknowns))
    }

    /// `sum c_j x_j = value` in the unknowns, the right-hand side last.
    fn equation(&self, coefficients: &[Polynomial], value: &Exact, variables: &Variables) -> Vec<Polynomial> {
        let mut row = vec![Polynomial::default(); self.count + 1];
        row[self.count] = variables.constant(value);
        for (coefficient, line) in coefficients.iter().zip(&self.lines) {
            match line {
                Place::Given(given) => row[self.count] = row[self.count].minus(&coefficient.times(given)),
                Place::Of(group, factor) => row[*group] = row[*group].plus(&coefficient.times(factor)),
            }
        }
        row
    }

    fn held_equation(
        &self,
        group: usize,
        factor: &Polynomial,
        value: &Polynomial,
        variables: &Variables,
    ) -> Vec<Polynomial> {
        let mut row = self.equation(&[], &Exact::ZERO, variables);
        row[group] = factor.clone();
        row[self.count] = value.clone();
        row
    }
}

fn is_swept(axes: &[Axis], line: &str) -> bool {
    axes.iter().any(
        |axis| matches!(axis, Axis::Parameter(Parameter::Lowest(name) | Parameter::Highest(name), _) if name == line),
    )
}

fn line_checks(
    brief: &Brief,
    axes: &[Axis],
    variables: &Variables,
    lines: &[LineForm],
    denominator: &Polynomial,
) -> Vec<Check> {
    let mut checks = Vec::new();
    for (index, (line, form)) in brief.lines().iter().zip(lines).enumerate() {
        // A line held at one percentage meets it by its equation.
        if matches!(line.role(), Role::Fixed(_)) {
            continue;
        }
        let (low, high) = line.role().range();
        // Percentages that sum to 100 and of which none is below 0 are none above 100.
        let is_given_high = high == Ppm::WHOLE && !is_swept(axes, line.name());
        let end = |parameter: Parameter, end: Exact| {
            variables.of_dial(axes, &parameter).unwrap_or_else(|| variables.constant(&end))
        };
        let low = end(Parameter::Lowest(line.name().to_string()), low.percent());
        let high = end(Parameter::Highest(line.name().to_string()), high.percent());
        let (percent, low, high, is_given) = match form {
            LineForm::Given(value) => (value, low, high, true),
            LineForm::Quotient(numerator) => (numerator, low.times(denominator), high.times(denominator), false),
        };
        checks.push(Check { limit: Limit::Low(index), form: percent.minus(&low), is_given });
        if !is_given_high {
            checks.push(Check { limit: Limit::High(index), form: high.minus(percent), is_given });
        }
    }
    checks
}

/// A requirement's row with coefficients that follow the axes.
struct SweptRow {
    coefficients: Vec<Polynomial>,
    low: Option<Exact>,
    high: Option<Exact>,
}

fn swept_rows(brief: &Brief, axes: &[Axis], variables: &Variables) -> Result<Option<Vec<(Limit, SweptRow)>>, Error> {
    let compiled = |brief: &Brief| -> Result<Vec<(Limit, Row)>, Error> {
        let program = rows(brief)?;
        let named = program.names().iter().zip(program.program().rows());
        Ok(named
            .filter_map(|(name, row)| limit(name).map(|limit| (limit, row.clone())))
            .filter(|(limit, _)| !matches!(limit, Limit::Split { .. }))
            .collect())
    };
    let base = compiled(brief)?;
    let mut swept: Vec<Vec<Polynomial>> =
        base.iter().map(|(_, row)| row.coefficients.iter().map(|value| variables.constant(value)).collect()).collect();
    let (mut all, mut values) = (brief.clone(), variables.at(&vec![0; axes.len()]));
    for (axis, known) in axes.iter().enumerate() {
        let (
            Axis::Parameter(
                parameter @ (Parameter::Target(_) | Parameter::AtLeast(_) | Parameter::AtMost(_) | Parameter::Price(_)),
                points,
            ),
            Some(variable),
        ) = (known, variables.of_axis(axis))
        else {
            continue;
        };
        let before = brief.parameter_value(parameter)?;
        let Some(after) = points.iter().find(|value| **value != before) else { continue };
        let Ok(turned) = brief.with_parameter(parameter, after) else { return Ok(None) };
        let other = compiled(&turned)?;
        if !alike(&base, &other) {
            return Ok(None);
        }
        let step = variables.value(variable).minus(&variables.constant(&before));
        for (row, ((_, base), (_, other))) in swept.iter_mut().zip(base.iter().zip(&other)) {
            for (coefficient, (base, other)) in row.iter_mut().zip(base.coefficients.iter().zip(&other.coefficients)) {
                let slope = (other - base) / (after - &before);
                *coefficient = coefficient.plus(&step.times_number(&slope));
            }
        }
        // Values between the two, all axes at once: a curve would show.
        let joint = &before + Exact::ratio(i64::try_from(axis % 3).unwrap_or(0) + 3, 8) * (after - &before);
        let name = renamed(brief, &all, parameter);
        let Ok(turned) = all.with_parameter(&name, &joint) else { return Ok(None) };
        values[variable] = &joint / &variables.all[variable].unit;
        all = turned;
    }
    let joint = compiled(&all)?;
    let follows = |row: &[Polynomial], compiled: &Row| {
        row.iter().zip(&compiled.coefficients).all(|(swept, compiled)| swept.at(&values) == *compiled)
    };
    if !alike(&base, &joint) || !swept.iter().zip(&joint).all(|(row, (_, compiled))| follows(row, compiled)) {
        return Ok(None);
    }
    let rows = base
        .into_iter()
        .zip(swept)
        .map(|((limit, row), coefficients)| (limit, SweptRow { coefficients, low: row.low, high: row.high }));
    Ok(Some(rows.collect()))
}

fn alike(base: &[(Limit, Row)], other: &[(Limit, Row)]) -> bool {
    base.len() == other.len()
        && base
            .iter()
            .zip(other)
            .all(|((limit, row), (known, other))| limit == known && row.low == other.low && row.high == other.high)
}

/// A measure's weights; only prices among what axes turn can be in them.
fn measure_form(
    brief: &Brief,
    axes: &[Axis],
    variables: &Variables,
    measure: &Measure,
    basis: &Basis,
) -> Result<Option<MeasureForm>, Error> {
    let weights = |brief: &Brief| weights_as_far_as_known(brief, measure, basis);
    let (numerator, denominator) = weights(brief)?;
    let constant =
        |weights: &[Exact]| -> Vec<Polynomial> { weights.iter().map(|weight| variables.constant(weight)).collect() };
    let mut swept = (constant(&numerator), constant(&denominator));
    for (axis, known) in axes.iter().enumerate() {
        let (Axis::Parameter(parameter @ Parameter::Price(_), points), Some(variable)) =
            (known, variables.of_axis(axis))
        else {
            continue;
        };
        let before = brief.parameter_value(parameter)?;
        let Some(after) = points.iter().find(|value| **value != before) else { continue };
        let other = weights(&brief.with_parameter(parameter, after)?)?;
        let step = variables.value(variable).minus(&variables.constant(&before));
        let add = |swept: &mut Vec<Polynomial>, base: &[Exact], other: &[Exact]| {
            for (weight, (base, other)) in swept.iter_mut().zip(base.iter().zip(other)) {
                *weight = weight.plus(&step.times_number(&((other - base) / (after - &before))));
            }
        };
        add(&mut swept.0, &numerator, &other.0);
        add(&mut swept.1, &denominator, &other.1);
    }
    let water = water_left(brief, basis)?.map(|weights| constant(&weights));
    Ok(Some(MeasureForm { numerator: swept.0, denominator: swept.1, water }))
}
