//! The kernel: percentages, limits and measures of many determined formulas, a block at a time, each array in one go.
//!
//! A percentage is `n = round(numerator / denominator)` ppm, half-way to even; the absorber (the q.s. line, else the
//! largest free line) takes what is left of 1 000 000.
//!
//! Proof note. Numerator and denominator are whole and below 2^52, so the quotient `q = n / d` is a number of steps
//! `1/(2d)` away from every half-way value unless it is one; that is at least `q * 2^-53`, more than the division's
//! rounding of less than half a unit in the last place, so that rounding the quotient rounds the exact value. A product
//! with the inverse is within `4 * 2^-53` of the quotient, less than 10^-9 ppm for anything up to 100 %: where it is
//! further than 10^-6 ppm from half-way it rounds to the same number. Where the numbers are longer the quotient's error
//! is bounded, and points so near to half-way, or so near to a limit, that the error could decide are worked out in
//! exact arithmetic.

use super::determined::{Check, Determined, LineForm};
use super::form::{Factors, Form, Inner, is_short};
use super::polynomial::Polynomial;
use super::variables::Variables;
use super::weights::{SumFactors, Weights};
use crate::number::Exact;
use crate::sweep::fill::Percents;
use crate::sweep::legend::Legend;

/// Points worked in one go: their arrays stay in the nearest cache.
pub(super) const BLOCK: usize = 512;
/// Adding and taking away 1.5 * 2^52 rounds to a whole number, half-way to even, below 2^51.
const ROUND: f64 = 6_755_399_441_055_744.0;
/// A quotient this far from the nearest whole number may be nearest to another.
const HALF_WAY: f64 = 0.5 - 1e-6;
pub(super) const WHOLE: f64 = 1_000_000.0;

#[derive(Debug)]
enum Line {
    Same(f64),
    /// Whole ppm that follow an axis.
    Given(Form),
    Quotient {
        numerator: Form,
        times: f64,
        error: f64,
    },
    Rest,
}

#[derive(Debug)]
struct Limit {
    form: Form,
    binding: u64,
    conflict: u64,
}

/// A closed form ready for many points.
#[derive(Debug)]
pub(super) struct Kernel {
    pub(super) inner: Inner,
    denominator: Form,
    has_quotients: bool,
    lines: Vec<Line>,
    limits: Vec<Limit>,
    pub(super) measures: Vec<Weights>,
    pub(super) absorber: usize,
    /// True where no point can need exact arithmetic for its digits.
    is_exact: bool,
}

/// What a kernel works in, and the results of one block.
#[derive(Debug)]
pub(crate) struct Work {
    denominator: Vec<f64>,
    room: Vec<f64>,
    worst: Vec<f64>,
    doubt: Vec<f64>,
    factors: Vec<Factors>,
    line_factors: Vec<Factors>,
    denominator_factors: Factors,
    sums: Vec<[SumFactors; 3]>,
    /// Percentages in ppm.
    pub(super) lines: Vec<Percents>,
    pub(super) measures: Vec<Vec<f64>>,
    /// True where a measure has no value although there is a formula.
    pub(super) missing: Vec<Vec<bool>>,
    pub(super) feasible: Vec<bool>,
    pub(super) binding: Vec<u64>,
    pub(super) conflict: Vec<u64>,
    /// Whether any point has a formula, or may have one.
    pub(super) any: bool,
    /// Points of the block that exact arithmetic has to settle.
    pub(super) doubtful: Vec<usize>,
}

impl Kernel {
    pub(super) fn new(
        form: &Determined,
        variables: &Variables,
        lengths: &[usize],
        mut inner: Inner,
        legends: (&Legend, &Legend),
        absorber: usize,
    ) -> Self {
        let (low, high) = variables.ends();
        let ppm = Exact::from(10_000);
        let content = form.denominator.content();
        let denominator = form.denominator.times_number(&content.reciprocal().unwrap_or(Exact::ONE));
        let least = denominator.range(&low, &high).0.to_f64();
        let most: Vec<Exact> = low.iter().zip(&high).map(|(low, high)| low.abs().max(high.abs())).collect();
        let denominator_magnitude = denominator.magnitude(&most);
        let denominator_form = Form::new(&denominator, variables, lengths, &mut inner);
        let mut is_exact = denominator_form.error == 0.0;
        let mut lines = Vec::new();
        for (index, line) in form.lines.iter().enumerate() {
            lines.push(match line {
                _ if index == absorber => Line::Rest,
                LineForm::Given(value) => match value.as_constant() {
                    Some(percent) => Line::Same((percent * &ppm).to_f64()),
                    None => Line::Given(Form::new(&value.times_number(&ppm), variables, lengths, &mut inner)),
                },
                LineForm::Quotient(numerator) if numerator.is_zero() => Line::Same(0.0),
                LineForm::Quotient(numerator) => {
                    // numerator / denominator = (own / whole) * (u / v), both primitive
                    let own = numerator.content();
                    let ratio = &own * &ppm / &content;
                    let (u, v) = (ratio.numerator(), ratio.denominator());
                    let scaled = numerator.times_number(&(u / &own));
                    let form = Form::new(&scaled, variables, lengths, &mut inner);
                    let short =
                        form.error == 0.0 && denominator_form.error == 0.0 && is_short(&(&denominator_magnitude * &v));
                    let times = v.to_f64();
                    // |q'| <= 10^7 ppm for anything near a formula
                    let error = if short {
                        0.0
                    } else {
                        (form.error / times + 1e7 * denominator_form.error) / least.max(f64::MIN_POSITIVE)
                            + 1e7 * 4.0 * f64::EPSILON
                    };
                    is_exact &= short;
                    Line::Quotient { numerator: form, times, error }
                }
            });
        }
        let mut limits = Vec::new();
        for Check { limit, form, is_given } in &form.checks {
            let (lowest, _) = form.range(&low, &high);
            // What no point can break or meet exactly takes no time; the sign is right only where the denominator is
            // above 0.
            if lowest.is_positive() && (*is_given || least > 0.0) {
                continue;
            }
            let primitive = form.times_number(&form.content().reciprocal().unwrap_or(Exact::ONE));
            let form = Form::new(&primitive, variables, lengths, &mut inner);
            is_exact &= form.error == 0.0;
            limits.push(Limit { form, binding: legends.0.bit(*limit), conflict: legends.1.bit(*limit) });
        }
        is_exact &= least > 0.0;
        let measures = form.measures.iter().map(|form| Weights::new(form, variables, lengths, &mut inner)).collect();
        let has_quotients = lines.iter().any(|line| matches!(line, Line::Quotient { .. } | Line::Rest));
        Kernel { inner, denominator: denominator_form, has_quotients, lines, limits, measures, absorber, is_exact }
    }

    pub(super) fn work(&self) -> Work {
        let array = || vec![0.0; BLOCK];
        let lines = self.lines.iter().map(|line| match line {
            Line::Same(ppm) => Percents::Same(*ppm),
            _ => Percents::Each(array()),
        });
        Work {
            denominator: array(),
            room: array(),
            worst: array(),
            doubt: array(),
            factors: vec![Factors::default(); self.limits.len()],
            line_factors: vec![Factors::default(); self.lines.len()],
            denominator_factors: Factors::default(),
            sums: (0..self.measures.len()).map(|_| Default::default()).collect(),
            lines: lines.collect(),
            measures: self.measures.iter().map(|_| array()).collect(),
            missing: self.measures.iter().map(|_| vec![false; BLOCK]).collect(),
            feasible: vec![false; BLOCK],
            binding: vec![0; BLOCK],
            conflict: vec![0; BLOCK],
            any: false,
            doubtful: Vec::new(),
        }
    }

    /// Makes a work ready for a point of the outer axes.
    pub(super) fn turn(&self, variables: &Variables, places: &[usize], work: &mut Work) {
        self.denominator.at(variables, places, &mut work.denominator_factors);
        for (line, factors) in self.lines.iter().zip(&mut work.line_factors) {
            if let Line::Given(form) | Line::Quotient { numerator: form, .. } = line {
                form.at(variables, places, factors);
            }
        }
        for (limit, factors) in self.limits.iter().zip(&mut work.factors) {
            limit.form.at(variables, places, factors);
        }
        for (weights, sums) in self.measures.iter().zip(&mut work.sums) {
            weights.numerator.at(variables, places, &mut sums[0]);
            if let Some(denominator) = &weights.denominator {
                denominator.at(variables, places, &mut sums[1]);
            }
            if let Some(water) = &weights.water {
                water.at(variables, places, &mut sums[2]);
            }
        }
    }

    /// Feasibility, percentages and, where query, codes of `count` points from `start` of the inner axes on.
    /// Percentages are left alone where no point has a formula.
    #[inline(always)]
    pub(super) fn percents(&self, start: usize, count: usize, codes: bool, work: &mut Work) {
        self.judge(start, count, codes, work);
        if work.any {
            self.divide(start, count, work);
        }
    }

    /// Which points meet every limit.
    #[inline(always)]
    fn judge(&self, start: usize, count: usize, codes: bool, work: &mut Work) {
        let Work {
            room,
            denominator,
            denominator_factors,
            worst,
            doubt,
            factors,
            feasible,
            binding,
            conflict,
            doubtful,
            any,
            ..
        } = work;
        let (room, worst, doubt) = (&mut room[..count], &mut worst[..count], &mut doubt[..count]);
        let feasible = &mut feasible[..count];
        worst.fill(0.0);
        doubt.fill(-1.0);
        doubtful.clear();
        if codes {
            binding[..count].fill(0);
            conflict[..count].fill(0);
        }
        for (limit, factors) in self.limits.iter().zip(factors.iter()) {
            factors.fill(&self.inner, start, room);
            for (worst, value) in worst.iter_mut().zip(room.iter()) {
                *worst = if *value < *worst { *value } else { *worst };
            }
            let error = limit.form.error;
            if error > 0.0 {
                for (doubt, value) in doubt.iter_mut().zip(room.iter()) {
                    let near = error - value.abs();
                    *doubt = if near > *doubt { near } else { *doubt };
                }
            }
            if codes {
                for ((binding, conflict), value) in
                    binding[..count].iter_mut().zip(&mut conflict[..count]).zip(room.iter())
                {
                    *binding |= if *value == 0.0 { limit.binding } else { 0 };
                    *conflict |= if *value < 0.0 { limit.conflict } else { 0 };
                }
            }
        }
        if self.has_quotients {
            denominator_factors.fill(&self.inner, start, &mut denominator[..count]);
        }
        if !self.is_exact {
            let error = self.denominator.error;
            for (doubt, denominator) in doubt.iter_mut().zip(denominator.iter()) {
                // Not above 0 for sure: the equations may not determine this formula.
                *doubt = if self.has_quotients && *denominator <= error { 1.0 } else { *doubt };
            }
        }
        for (feasible, worst) in feasible.iter_mut().zip(worst.iter()) {
            *feasible = *worst >= 0.0;
        }
        *any = !self.is_exact || worst.iter().fold(0u64, |any, worst| any | u64::from(*worst >= 0.0)) != 0;
    }

    /// The percentages.
    #[inline(always)]
    fn divide(&self, start: usize, count: usize, work: &mut Work) {
        let Work { room, denominator, worst, doubt, lines, line_factors, doubtful, .. } = work;
        let (denominator, room) = (&denominator[..count], &mut room[..count]);
        let (worst, doubt) = (&worst[..count], &mut doubt[..count]);
        for (room, denominator) in room.iter_mut().zip(denominator) {
            *room = 1.0 / denominator;
        }
        let mut left = WHOLE;
        for line in lines.iter() {
            if let Percents::Same(ppm) = line {
                left -= ppm;
            }
        }
        let mut rest = match &mut lines[self.absorber] {
            Percents::Each(ppm) => std::mem::take(ppm),
            Percents::Same(_) => return,
        };
        let absorber = &mut rest[..count];
        absorber.fill(left);
        for (index, (form, line)) in self.lines.iter().zip(lines.iter_mut()).enumerate() {
            if index == self.absorber {
                continue;
            }
            let Percents::Each(ppm) = line else { continue };
            let ppm = &mut ppm[..count];
            match form {
                Line::Quotient { times, error, .. } => {
                    line_factors[index].fill(&self.inner, start, ppm);
                    let times = *times;
                    let inverse = 1.0 / times;
                    let mut near = 0u64;
                    if *error == 0.0 {
                        // A product with the inverse is faster than a quotient, and tells as well which whole number is
                        // nearest unless two are about as near: then the whole block is divided.
                        for (ppm, reciprocal) in ppm.iter().zip(room.iter()) {
                            let about = (ppm * inverse) * reciprocal;
                            let whole = (about + ROUND) - ROUND;
                            near |= u64::from((about - whole).abs() > HALF_WAY);
                        }
                    }
                    if *error == 0.0 && near == 0 {
                        for ((ppm, reciprocal), absorber) in ppm.iter_mut().zip(room.iter()).zip(absorber.iter_mut()) {
                            let about = (*ppm * inverse) * reciprocal;
                            let whole = (about + ROUND) - ROUND;
                            *ppm = whole;
                            *absorber -= whole;
                        }
                        continue;
                    }
                    if *error > 0.0 {
                        for ((ppm, denominator), doubt) in ppm.iter().zip(denominator).zip(doubt.iter_mut()) {
                            let quotient = ppm / (denominator * times);
                            let whole = (quotient + ROUND) - ROUND;
                            let near = (quotient - whole).abs() + error - 0.5;
                            *doubt = if near > *doubt { near } else { *doubt };
                        }
                    }
                    for ((ppm, denominator), absorber) in ppm.iter_mut().zip(denominator).zip(absorber.iter_mut()) {
                        let quotient = *ppm / (denominator * times);
                        let whole = (quotient + ROUND) - ROUND;
                        *ppm = whole;
                        *absorber -= whole;
                    }
                }
                Line::Given(_) => {
                    line_factors[index].fill(&self.inner, start, ppm);
                    for (ppm, absorber) in ppm.iter().zip(absorber.iter_mut()) {
                        *absorber -= ppm;
                    }
                }
                Line::Same(_) | Line::Rest => {}
            }
        }
        // Rounding may take more than there is of the absorber.
        for ((doubt, absorber), worst) in doubt.iter_mut().zip(absorber.iter()).zip(worst) {
            *doubt = if *worst >= 0.0 && *absorber < 0.0 { 1.0 } else { *doubt };
        }
        if doubt.iter().fold(0u64, |any, doubt| any | u64::from(*doubt >= 0.0)) != 0 {
            doubtful.extend(doubt.iter().enumerate().filter(|(_, doubt)| **doubt >= 0.0).map(|(point, _)| point));
        }
        lines[self.absorber] = Percents::Each(rest);
    }

    /// The measures of the points, once their percentages are settled.
    #[inline(always)]
    pub(super) fn weigh(&self, start: usize, count: usize, work: &mut Work) {
        let Work { room, denominator, worst, lines, sums, measures, missing, .. } = work;
        for ((weights, sums), (out, missing)) in
            self.measures.iter().zip(sums.iter()).zip(measures.iter_mut().zip(missing.iter_mut()))
        {
            let (out, missing) = (&mut out[..count], &mut missing[..count]);
            weights.numerator.fill(&sums[0], &self.inner, start, lines, room, out);
            if let Some(below) = &weights.denominator {
                below.fill(&sums[1], &self.inner, start, lines, room, &mut denominator[..count]);
                for ((out, missing), below) in out.iter_mut().zip(missing.iter_mut()).zip(denominator.iter()) {
                    *missing = *below == 0.0;
                    *out /= if *below == 0.0 { 1.0 } else { *below };
                }
            }
            if let Some(water) = &weights.water {
                water.fill(&sums[2], &self.inner, start, lines, room, &mut worst[..count]);
                let counted = weights.denominator.is_some();
                for (missing, water) in missing.iter_mut().zip(worst.iter()) {
                    *missing = (counted && *missing) || *water < 0.0;
                }
            }
        }
    }
}

/// One point in exact arithmetic.
pub(super) struct ExactPoint {
    /// Exact percentages.
    pub(super) percents: Vec<Exact>,
    pub(super) feasible: bool,
    pub(super) binding: u64,
    pub(super) conflict: u64,
}

/// A point's percentages and limits, exact; nothing where the equations do not determine them.
pub(super) fn exactly(form: &Determined, values: &[Exact], legends: (&Legend, &Legend)) -> Option<ExactPoint> {
    let denominator = form.denominator.at(values);
    let inverse = denominator.reciprocal()?;
    let percent = |line: &LineForm| match line {
        LineForm::Given(value) => value.at(values),
        LineForm::Quotient(numerator) => numerator.at(values) * &inverse,
    };
    let mut point =
        ExactPoint { percents: form.lines.iter().map(percent).collect(), feasible: true, binding: 0, conflict: 0 };
    for Check { limit, form, is_given } in &form.checks {
        let value: Exact = Polynomial::at(form, values);
        let value = if *is_given || denominator.is_positive() { value } else { -value };
        if value.is_negative() {
            point.feasible = false;
            point.conflict |= legends.1.bit(*limit);
        } else if value.is_zero() {
            point.binding |= legends.0.bit(*limit);
        }
    }
    Some(point)
}
