//! The kernel: feasibility, what binds, percentages and measures of many determined formulas, a block at a time, each
//! array in one go.
//!
//! Proof note. A cell is a quotient of two polynomials whose values are whole numbers below 2^52, so that `f64` works
//! them out without error (`closed/form.rs`). Dividing one by the other rounds once, to the nearest: the cell is the
//! `f64` nearest to the exact number. Where bounds over the axes do not show numbers to be as short, every point with a
//! formula is left to exact arithmetic. The sign of a limit is that of a whole number too; where it is too long, the
//! points at which the error of its value could decide are left to exact arithmetic.

use super::determined::{Check, Determined, LineForm, MeasureForm};
use super::form::{Factors, Form, Inner, is_short};
use super::polynomial::Polynomial;
use super::variables::Variables;
use crate::number::Exact;
use crate::sweep::fill::{Columns, Percents};
use crate::sweep::legend::Legend;

/// Points worked in one go: their arrays stay in the nearest cache.
pub(super) const BLOCK: usize = 512;

/// A number at every point.
#[derive(Debug)]
enum Cells {
    Same(f64),
    /// A whole number over `times` that of a denominator.
    Quotient {
        numerator: Form,
        denominator: usize,
        times: f64,
    },
    Nothing,
}

/// A measure.
#[derive(Debug)]
struct Measured {
    value: Cells,
    /// Water as charged less what the basis keeps, where that could be below 0: then there is no value.
    water: Option<Form>,
}

#[derive(Debug)]
struct Limit {
    form: Form,
    binding: u64,
}

/// A closed form ready for many points.
#[derive(Debug)]
pub(super) struct Kernel {
    inner: Inner,
    /// What numerators are divided by; the first is that of the lines.
    denominators: Vec<Form>,
    lines: Vec<Cells>,
    measures: Vec<Measured>,
    limits: Vec<Limit>,
    /// True where the sign of no limit needs exact arithmetic.
    is_sure: bool,
    /// True where no cell needs exact arithmetic.
    pub(super) is_short: bool,
}

/// What a kernel works in, and the results of one block.
#[derive(Debug)]
pub(super) struct Work {
    room: Vec<f64>,
    worst: Vec<f64>,
    doubt: Vec<f64>,
    denominators: Vec<(Factors, Vec<f64>)>,
    limits: Vec<Factors>,
    line_factors: Vec<Factors>,
    /// Of each measure its numerator and its water.
    measure_factors: Vec<[Factors; 2]>,
    pub(super) columns: Columns,
    /// Points of the block that exact arithmetic has to settle.
    pub(super) doubtful: Vec<usize>,
}

/// What polynomials are made ready with.
struct Making<'a> {
    variables: &'a Variables,
    lengths: &'a [usize],
    inner: Inner,
    /// The least, the greatest and the greatest magnitude of each variable.
    ends: (Vec<Exact>, Vec<Exact>),
    most: Vec<Exact>,
    denominators: Vec<(Polynomial, Form)>,
    is_short: bool,
}

impl Making<'_> {
    fn form(&mut self, polynomial: &Polynomial) -> Form {
        Form::new(polynomial, self.variables, self.lengths, &mut self.inner)
    }

    /// The place of a denominator whose coefficients are whole and have no common measure.
    fn denominator(&mut self, polynomial: Polynomial) -> usize {
        if let Some(place) = self.denominators.iter().position(|(known, _)| *known == polynomial) {
            return place;
        }
        let form = self.form(&polynomial);
        self.denominators.push((polynomial, form));
        self.denominators.len() - 1
    }

    /// `numerator / below`, which is the same wherever `below` is not 0 if one is a multiple of the other.
    fn quotient(&mut self, numerator: &Polynomial, below: &Polynomial) -> Cells {
        let own = below.content();
        let Some(inverse) = own.reciprocal() else { return Cells::Nothing };
        if let Some(ratio) = numerator.ratio_to(below)
            && below.range(&self.ends.0, &self.ends.1).0.is_positive()
        {
            return Cells::Same(ratio.to_f64());
        }
        let denominator = self.denominator(below.times_number(&inverse));
        // The contents as a quotient of whole numbers.
        let content = numerator.content();
        let ratio = &content * &inverse;
        let (above, times) = (ratio.numerator(), ratio.denominator());
        let primitive = content.reciprocal().unwrap_or(Exact::ONE);
        let numerator = self.form(&numerator.times_number(&(above * primitive)));
        let (known, form) = &self.denominators[denominator];
        self.is_short &=
            numerator.error == 0.0 && form.error == 0.0 && is_short(&(known.magnitude(&self.most) * &times));
        Cells::Quotient { numerator, denominator, times: times.to_f64() }
    }

    fn measured(&mut self, form: &MeasureForm, lines: &[Polynomial], denominator: &Polynomial) -> Measured {
        let sum = |weights: &[Polynomial]| {
            let terms = weights.iter().zip(lines).filter(|(weight, _)| !weight.is_zero());
            terms.fold(Polynomial::default(), |sum, (weight, line)| sum.plus(&weight.times(line)))
        };
        let (numerator, below) = (sum(&form.numerator), sum(&form.denominator));
        // What is the same for every formula is a multiple of the lines' own denominator.
        let value = match below.ratio_to(denominator).and_then(|factor| factor.reciprocal()) {
            Some(factor) => self.quotient(&numerator.times_number(&factor), denominator),
            None => self.quotient(&numerator, &below),
        };
        let water = form.water.as_ref().map(|weights| sum(weights));
        let water = water.filter(|water| water.range(&self.ends.0, &self.ends.1).0.is_negative());
        let water = water.map(|water| {
            let form = self.form(&water.times_number(&water.content().reciprocal().unwrap_or(Exact::ONE)));
            self.is_short &= form.error == 0.0;
            form
        });
        Measured { value, water }
    }
}

impl Kernel {
    pub(super) fn new(
        form: &Determined,
        variables: &Variables,
        lengths: &[usize],
        inner: Inner,
        binding: &Legend,
        wants_lines: bool,
    ) -> Self {
        let ends = variables.ends();
        let most = ends.0.iter().zip(&ends.1).map(|(low, high)| low.abs().max(high.abs())).collect();
        let mut making = Making { variables, lengths, inner, ends, most, denominators: Vec::new(), is_short: true };
        let content = form.denominator.content();
        let denominator = form.denominator.times_number(&content.reciprocal().unwrap_or(Exact::ONE));
        making.denominator(denominator.clone());
        let is_above_nought = denominator.range(&making.ends.0, &making.ends.1).0.is_positive();
        let one = variables.constant(&Exact::ONE);
        let lines = form.lines.iter().map(|line| match line {
            _ if !wants_lines => Cells::Nothing,
            LineForm::Given(value) => making.quotient(value, &one),
            LineForm::Quotient(numerator) => making.quotient(numerator, &form.denominator),
        });
        let lines = lines.collect();
        let over: Vec<Polynomial> = form
            .lines
            .iter()
            .map(|line| match line {
                LineForm::Given(value) => value.times(&form.denominator),
                LineForm::Quotient(numerator) => numerator.clone(),
            })
            .collect();
        let measures = form.measures.iter().map(|measure| making.measured(measure, &over, &form.denominator)).collect();
        let mut limits = Vec::new();
        let mut is_sure = is_above_nought && making.denominators[0].1.error == 0.0;
        for Check { limit, form, is_given } in &form.checks {
            let (lowest, _) = form.range(&making.ends.0, &making.ends.1);
            // What no point can break or meet exactly takes no time; the sign is right only where the denominator is
            // above 0.
            if lowest.is_positive() && (*is_given || is_above_nought) {
                continue;
            }
            let form = making.form(&form.times_number(&form.content().reciprocal().unwrap_or(Exact::ONE)));
            is_sure &= form.error == 0.0;
            limits.push(Limit { form, binding: binding.bit(*limit) });
        }
        let Making { inner, denominators, is_short, .. } = making;
        let denominators = denominators.into_iter().map(|(_, form)| form).collect();
        Kernel { inner, denominators, lines, measures, limits, is_sure, is_short }
    }

    pub(super) fn work(&self) -> Work {
        let array = || vec![0.0; BLOCK];
        let lines = self.lines.iter().map(|line| match line {
            Cells::Same(percent) => Percents::Same(*percent),
            Cells::Nothing => Percents::Same(0.0),
            Cells::Quotient { .. } => Percents::Each(array()),
        });
        Work {
            room: array(),
            worst: array(),
            doubt: array(),
            denominators: self.denominators.iter().map(|_| (Factors::default(), array())).collect(),
            limits: vec![Factors::default(); self.limits.len()],
            line_factors: vec![Factors::default(); self.lines.len()],
            measure_factors: vec![Default::default(); self.measures.len()],
            columns: Columns { lines: lines.collect(), ..Columns::new(0, self.measures.len(), BLOCK) },
            doubtful: Vec::new(),
        }
    }

    /// Makes a work ready for a point of the outer axes.
    pub(super) fn turn(&self, variables: &Variables, places: &[usize], work: &mut Work) {
        for (form, (factors, _)) in self.denominators.iter().zip(&mut work.denominators) {
            form.at(variables, places, factors);
        }
        for (limit, factors) in self.limits.iter().zip(&mut work.limits) {
            limit.form.at(variables, places, factors);
        }
        let measures = self.measures.iter().map(|measure| &measure.value);
        let factors = work.measure_factors.iter_mut().map(|[numerator, _]| numerator);
        for (cells, factors) in self.lines.iter().zip(&mut work.line_factors).chain(measures.zip(factors)) {
            if let Cells::Quotient { numerator, .. } = cells {
                numerator.at(variables, places, factors);
            }
        }
        for (measure, [_, factors]) in self.measures.iter().zip(&mut work.measure_factors) {
            if let Some(water) = &measure.water {
                water.at(variables, places, factors);
            }
        }
    }

    /// Works out `count` points from `start` of the inner axes on. Cells are left alone where no point has a formula.
    #[inline(always)]
    pub(super) fn fill(&self, start: usize, count: usize, binding: bool, work: &mut Work) {
        let any = self.judge(start, count, binding, work);
        if any && self.is_short {
            self.divide(start, count, work);
        }
        if !self.is_sure || !self.is_short {
            let Work { worst, doubt, doubtful, .. } = work;
            let points = worst.iter().zip(doubt.iter()).take(count).enumerate();
            let left = points.filter(|(_, (worst, doubt))| **doubt >= 0.0 || !self.is_short && **worst >= 0.0);
            doubtful.extend(left.map(|(point, _)| point));
        }
    }

    /// Which points meet every limit; whether any may.
    #[inline(always)]
    fn judge(&self, start: usize, count: usize, binding: bool, work: &mut Work) -> bool {
        let Work { room, worst, doubt, denominators, limits, columns, doubtful, .. } = work;
        let (feasible, bits) = (&mut columns.feasible[..count], &mut columns.binding[..count]);
        let (room, worst, doubt) = (&mut room[..count], &mut worst[..count], &mut doubt[..count]);
        worst.fill(0.0);
        doubt.fill(-1.0);
        doubtful.clear();
        if binding {
            bits.fill(0);
        }
        for (limit, factors) in self.limits.iter().zip(limits.iter()) {
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
            if binding {
                for (bits, value) in bits.iter_mut().zip(room.iter()) {
                    *bits |= if *value == 0.0 { limit.binding } else { 0 };
                }
            }
        }
        if !self.is_sure
            && let (Some(form), Some((factors, _))) = (self.denominators.first(), denominators.first())
        {
            factors.fill(&self.inner, start, room);
            for (doubt, denominator) in doubt.iter_mut().zip(room.iter()) {
                // Not above 0 for sure: the equations may not determine this formula.
                *doubt = if *denominator <= form.error { 1.0 } else { *doubt };
            }
        }
        for (feasible, worst) in feasible.iter_mut().zip(worst.iter()) {
            *feasible = *worst >= 0.0;
        }
        worst.iter().fold(0u64, |any, worst| any | u64::from(*worst >= 0.0)) != 0
    }

    /// The percentages and the measures.
    #[inline(always)]
    fn divide(&self, start: usize, count: usize, work: &mut Work) {
        let Work { room, denominators, line_factors, measure_factors, columns, .. } = work;
        let Columns { lines, measures, missing, .. } = columns;
        for (factors, values) in denominators.iter_mut() {
            factors.fill(&self.inner, start, &mut values[..count]);
        }
        for ((cells, factors), line) in self.lines.iter().zip(line_factors.iter()).zip(lines) {
            if let Percents::Each(line) = line {
                self.quotients(cells, factors, denominators, start, &mut line[..count]);
            }
        }
        let columns = measures.iter_mut().zip(missing.iter_mut());
        for ((measure, [factors, water]), (out, missing)) in
            self.measures.iter().zip(measure_factors.iter()).zip(columns)
        {
            let (out, missing) = (&mut out[..count], &mut missing[..count]);
            self.quotients(&measure.value, factors, denominators, start, out);
            match &measure.value {
                // The lines' own denominator is above 0.
                Cells::Quotient { denominator, .. } if *denominator > 0 => {
                    let below = &denominators[*denominator].1;
                    for ((out, missing), below) in out.iter_mut().zip(missing.iter_mut()).zip(below) {
                        *missing = *below == 0.0;
                        *out = if *missing { 0.0 } else { *out };
                    }
                }
                value => missing.fill(matches!(value, Cells::Nothing)),
            }
            if measure.water.is_some() {
                water.fill(&self.inner, start, &mut room[..count]);
                for (missing, water) in missing.iter_mut().zip(room.iter()) {
                    *missing |= *water < 0.0;
                }
            }
        }
    }

    /// The numbers of a column.
    #[inline(always)]
    fn quotients(
        &self,
        cells: &Cells,
        factors: &Factors,
        denominators: &[(Factors, Vec<f64>)],
        start: usize,
        out: &mut [f64],
    ) {
        match cells {
            Cells::Quotient { denominator, times, .. } => {
                factors.fill(&self.inner, start, out);
                for (out, below) in out.iter_mut().zip(&denominators[*denominator].1) {
                    *out /= below * times;
                }
            }
            Cells::Same(value) => out.fill(*value),
            Cells::Nothing => out.fill(0.0),
        }
    }
}
