//! Critical regions: where a basis is the answer, or where the same members conflict, and what every line is there.
//!
//! # What is proved where the conditions hold
//! `D > 0`, no slack below 0, and for every nonbasic variable that could move, the first of the following that is not 0
//! everywhere is above 0: its reduced cost, then the change of each line of the order as it moves inwards. Any other
//! point in all ranges is reached by moving nonbasic variables inwards, so it costs more, or as much with an earlier
//! line greater: the basis is the canonical answer. Along a direction every condition is a linear function, so what
//! holds at two points holds between them.
//!
//! A conflict is a row of the dictionary that cannot come into its range though every nonbasic variable may move as it
//! likes. Its members are those that the deletion filter of [`Conflict`] leaves wherever the members conflict and, for
//! each of them, those that the filter has beside it when it is tried can be met without it.
//!
//! Source: Cramer's rule; lexicographic dual simplex method as in [`search`](tenside_lp::search).

use tenside_lp::search::{Found, find};
use tenside_lp::{Candidate, Outcome};

use super::basis_at::BasisAt;
use super::forms::{Form, Forms, Span, inwards, is_positive_multiple};
use super::program::ParametricProgram;
use crate::brief::{Brief, Role};
use crate::error::Error;
use crate::number::Exact;
use crate::solve::conflict::Conflict;
use crate::solve::constraint::Limit;
use crate::solve::member::filter_order;
use crate::solve::objective::optimise;
use crate::solve::program::frame;

/// What a basis says, and where. The conditions are over a common denominator that they demand to be above 0.
#[derive(Clone, Debug, Default)]
pub(crate) struct CriticalRegion {
    /// What every line's form is divided by; empty for a conflict.
    pub(crate) denominator: Form,
    /// The lines; empty for a conflict.
    pub(crate) lines: Vec<Form>,
    /// The cost of the program.
    pub(crate) cost: Form,
    /// At least 0; where it is 0 the limit binds.
    pub(crate) slacks: Vec<(Form, Option<Limit>)>,
    /// Above 0.
    pub(crate) strict: Vec<Form>,
    /// What binds everywhere, or what conflicts.
    pub(crate) limits: Vec<Limit>,
    /// True where no formula meets the limits.
    pub(crate) is_conflict: bool,
}

impl CriticalRegion {
    /// Takes up a slack, unless it is at least 0 wherever the denominator is above 0.
    fn keep_inside(&mut self, slack: Form, limit: Option<Limit>, denominator: &Form) {
        if !slack.iter().all(Exact::is_zero) && !is_positive_multiple(&slack, denominator) {
            self.slacks.push((slack, limit));
        }
    }
}

/// What the search names at a point: enough to tell whether a region is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct NamedBasis(Candidate);

impl NamedBasis {
    /// What the search names so far along the directions.
    pub(crate) fn at(program: &ParametricProgram, offsets: &[Exact]) -> Option<Self> {
        let order: Vec<usize> = (0..program.lines()).collect();
        find(&program.at(offsets), &order).map(|Found { candidate, .. }| NamedBasis(candidate))
    }

    /// True where there seems to be a formula.
    pub(crate) fn is_optimal(&self) -> bool {
        matches!(self.0, Candidate::Optimal(_))
    }
}

/// The region of a basis that is taken to be optimal; `None` if its matrix is singular at a point of the span or it
/// cannot be optimal anywhere. Whether it is the answer at a point is told by its conditions there.
pub(crate) fn optimal_region(
    brief: &Brief,
    program: &ParametricProgram,
    named: &NamedBasis,
    span: &Span,
) -> Option<CriticalRegion> {
    let mut region = region_of(brief, program, named, span)?;
    if let Some(formulas) = program.formulas() {
        keep_above_zero(formulas, span, &mut region)?;
    }
    Some(region)
}

/// What the search names where a span begins, in no order of the lines.
fn named_at_start(program: &ParametricProgram, span: &Span) -> Option<Candidate> {
    let start: Vec<Exact> = span.iter().map(|(here, _)| here.clone()).collect();
    Some(find(&program.at(&start), &[])?.candidate)
}

/// The conditions under which the cost of no formula is 0 or less: the multipliers of a basis have the signs that make
/// its cost a lower bound, whether or not its point is in all ranges, and the bound is above 0.
fn keep_above_zero(program: &ParametricProgram, span: &Span, region: &mut CriticalRegion) -> Option<()> {
    let Candidate::Optimal(basis) = named_at_start(program, span)? else { return None };
    let forms = Forms::new(program, &basis, span)?;
    let denominator = forms.form(|_| Exact::ONE);
    for variable in forms.nonbasic().filter(|variable| !forms.is_fixed(*variable)) {
        let sign = inwards(basis.place(variable));
        let reduced = forms.form(|at| at.reduced_cost(variable) * &sign);
        region.keep_inside(reduced, None, &denominator);
    }
    region.strict.extend([forms.form(|at| at.cost()), denominator]);
    Some(())
}

fn region_of(brief: &Brief, program: &ParametricProgram, named: &NamedBasis, span: &Span) -> Option<CriticalRegion> {
    let Candidate::Optimal(basis) = &named.0 else { return None };
    let forms = Forms::new(program, basis, span)?;
    let is_ratio = program.formulas().is_some();
    // Of a ratio what is worked out is `y`, and a line is 100 `y_j` over the sum of all.
    let sum = |at: &BasisAt| at.values[..program.lines()].iter().sum::<Exact>() / Exact::hundred();
    let denominator = forms.form(|at| if is_ratio { sum(at) } else { Exact::ONE });
    let mut region = CriticalRegion {
        lines: (0..program.lines()).map(|line| forms.form(|at| at.values[line].clone())).collect(),
        cost: forms.form(|at| at.cost()),
        denominator: denominator.clone(),
        strict: vec![denominator.clone()],
        ..CriticalRegion::default()
    };
    if is_ratio {
        region.strict.push(forms.form(|_| Exact::ONE));
    }
    for (slack, variable, upper) in forms.slacks() {
        let bound = limit_of(brief, program, &forms, variable, upper);
        if slack.iter().all(Exact::is_zero) {
            region.limits.extend(bound);
        } else {
            region.keep_inside(slack, bound, &denominator);
        }
    }
    // A tie of a ratio is not told by the order of the lines: they are quotients themselves.
    let lines = if is_ratio { 0 } else { program.lines() };
    for variable in forms.nonbasic().filter(|variable| !forms.is_fixed(*variable)) {
        let condition = forms.first_change(variable, lines)?;
        if !is_positive_multiple(&condition, &denominator) {
            region.strict.push(condition);
        }
    }
    Some(region)
}

/// The region in which the members of the conflict of `brief`, which stands at the first offsets of the span, are what
/// its deletion filter leaves; `None` if that is not shown. Without `codes` only that there is no formula.
///
/// # Errors
/// As solving the brief.
pub(crate) fn conflict_region(
    brief: &Brief,
    program: &ParametricProgram,
    span: &Span,
    codes: bool,
) -> Result<Option<CriticalRegion>, Error> {
    let mut region = CriticalRegion { is_conflict: true, ..CriticalRegion::default() };
    let program = program.formulas().unwrap_or(program);
    if !codes {
        return Ok(refuse(program, span, &mut region).map(|()| region));
    }
    let proof = optimise(brief, frame(brief)?)?;
    if !matches!(proof.outcome(), Outcome::Infeasible(_)) {
        return Ok(None);
    }
    let conflict = Conflict::new(brief.clone(), proof)?;
    if conflict.program.names().len() != program.names().len() {
        return Ok(None);
    }
    let kept = &conflict.members;
    let mut shown = refuse(&program.only(kept), span, &mut region);
    let mut beside = filter_order(brief, &conflict.program);
    for tried in beside.clone() {
        // What the filter has beside a member when it tries it: what it kept before, and all that it has not tried.
        beside.retain(|member| *member != tried);
        if !kept.contains(&tried) {
            continue;
        }
        shown = shown.and_then(|()| admit(&program.only(&beside), span, &mut region));
        beside.push(tried);
    }
    region.limits.extend(&conflict.members);
    Ok(shown.map(|()| region))
}

/// The conditions under which a dictionary row proves that no point is in all ranges.
fn refuse(program: &ParametricProgram, span: &Span, region: &mut CriticalRegion) -> Option<()> {
    let Candidate::Infeasible { basis, variable, below } = named_at_start(program, span)? else { return None };
    let forms = Forms::new(program, &basis, span)?;
    let outwards = if below { Exact::ONE } else { Exact::from(-1) };
    region.strict.push(forms.form(|_| Exact::ONE));
    region.strict.push(forms.form_of(|at| {
        let end = at.end(variable, !below)?;
        Some((end - at.activity(variable)) * &outwards)
    })?);
    for nonbasic in forms.nonbasic().filter(|nonbasic| !forms.is_fixed(*nonbasic)) {
        let turned = -(&outwards * inwards(forms.basis.place(nonbasic)));
        let form = forms.form(|at| at.change(variable, nonbasic) * &turned);
        if !form.iter().all(Exact::is_zero) {
            region.slacks.push((form, None));
        }
    }
    Some(())
}

/// The conditions under which a basis has its point in all ranges.
fn admit(program: &ParametricProgram, span: &Span, region: &mut CriticalRegion) -> Option<()> {
    let Candidate::Optimal(basis) = named_at_start(program, span)? else { return None };
    let forms = Forms::new(program, &basis, span)?;
    let denominator = forms.form(|_| Exact::ONE);
    for (slack, ..) in forms.slacks() {
        region.keep_inside(slack, None, &denominator);
    }
    region.strict.push(denominator);
    Some(())
}

fn limit_of(
    brief: &Brief,
    program: &ParametricProgram,
    forms: &Forms<'_>,
    variable: usize,
    upper: bool,
) -> Option<Limit> {
    match variable.checked_sub(forms.columns) {
        // An equation is no limit that binds.
        Some(row) => program.limits()[row].filter(|_| !forms.is_fixed(variable)),
        None if variable >= program.lines() || matches!(brief.lines()[variable].role(), Role::Fixed(_)) => None,
        None => Some(if upper { Limit::High(variable) } else { Limit::Low(variable) }),
    }
}
