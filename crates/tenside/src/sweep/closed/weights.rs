//! A measure made ready for many points of whole-ppm percentages.
//!
//! A percentage is a whole number of ppm; with weights that are whole multiples of a common measure and sums below 2^53
//! the weighted sum is a whole number too, and the value is that number over a whole `scale`: one rounding. Other
//! weights (those over a molar mass) are rounded to `f64` first; the value is then within `(lines + 2) * 2^-52` of the
//! sum of the magnitudes.

use super::determined::MeasureForm;
use super::form::{Factors, Form, Inner, is_short};
use super::polynomial::Polynomial;
use super::variables::Variables;
use crate::number::Exact;
use crate::sweep::fill::Percents;

/// The weight of a line.
#[derive(Debug)]
enum Weight {
    Number(f64),
    /// It follows an axis.
    Form(Form),
}

/// A weighted sum of percentages.
#[derive(Debug)]
pub(super) struct Sum {
    weights: Vec<(usize, Weight)>,
}

/// A sum's weights at one point of the outer axes.
#[derive(Clone, Debug, Default)]
pub(super) struct SumFactors(Vec<Factors>);

impl Sum {
    fn new(
        weights: &[Polynomial],
        factor: &Exact,
        variables: &Variables,
        lengths: &[usize],
        inner: &mut Inner,
    ) -> Self {
        let mut kept = Vec::new();
        for (line, weight) in weights.iter().enumerate().filter(|(_, weight)| !weight.is_zero()) {
            let scaled = weight.times_number(factor);
            kept.push((
                line,
                match scaled.as_constant() {
                    Some(number) => Weight::Number(number.to_f64()),
                    None => Weight::Form(Form::new(&scaled, variables, lengths, inner)),
                },
            ));
        }
        Sum { weights: kept }
    }

    pub(super) fn at(&self, variables: &Variables, places: &[usize], into: &mut SumFactors) {
        into.0.resize_with(self.weights.len(), Factors::default);
        for ((_, weight), factors) in self.weights.iter().zip(&mut into.0) {
            if let Weight::Form(form) = weight {
                form.at(variables, places, factors);
            }
        }
    }

    /// The sum at the points from `start` on.
    #[inline(always)]
    pub(super) fn fill(
        &self,
        factors: &SumFactors,
        inner: &Inner,
        start: usize,
        lines: &[Percents],
        room: &mut [f64],
        out: &mut [f64],
    ) {
        let mut constant = 0.0;
        for (line, weight) in &self.weights {
            if let (Weight::Number(weight), Percents::Same(ppm)) = (weight, &lines[*line]) {
                constant += weight * ppm;
            }
        }
        let count = out.len();
        let mut plain = self.weights.iter().filter_map(|(line, weight)| match (weight, &lines[*line]) {
            (Weight::Number(weight), Percents::Each(ppm)) => Some((*weight, &ppm[..count])),
            _ => None,
        });
        match (plain.next(), plain.next()) {
            (Some((one, first)), Some((other, second))) => {
                for ((out, first), second) in out.iter_mut().zip(first).zip(second) {
                    *out = constant + one * first + other * second;
                }
            }
            (Some((one, first)), None) => {
                for (out, first) in out.iter_mut().zip(first) {
                    *out = constant + one * first;
                }
            }
            _ => out.fill(constant),
        }
        while let Some((one, first)) = plain.next() {
            match plain.next() {
                Some((other, second)) => {
                    for ((out, first), second) in out.iter_mut().zip(first).zip(second) {
                        *out = *out + one * first + other * second;
                    }
                }
                None => {
                    for (out, first) in out.iter_mut().zip(first) {
                        *out += one * first;
                    }
                }
            }
        }
        for ((line, weight), factors) in self.weights.iter().zip(&factors.0) {
            let Weight::Form(_) = weight else { continue };
            factors.fill(inner, start, &mut room[..out.len()]);
            match &lines[*line] {
                Percents::Each(ppm) => {
                    for ((out, ppm), weight) in out.iter_mut().zip(ppm).zip(room.iter()) {
                        *out += weight * ppm;
                    }
                }
                Percents::Same(ppm) => {
                    for (out, weight) in out.iter_mut().zip(room.iter()) {
                        *out += weight * ppm;
                    }
                }
            }
        }
    }
}

/// A measure ready for many points.
#[derive(Debug)]
pub(super) struct Weights {
    pub(super) numerator: Sum,
    /// Nothing where it is the same for every formula.
    pub(super) denominator: Option<Sum>,
    /// Water as charged less what the basis keeps.
    pub(super) water: Option<Sum>,
    /// The value is what is worked out over this.
    pub(super) scale: f64,
}

impl Weights {
    pub(super) fn new(form: &MeasureForm, variables: &Variables, lengths: &[usize], inner: &mut Inner) -> Self {
        let (low, high) = variables.ends();
        let most: Vec<Exact> = low.iter().zip(&high).map(|(low, high)| low.abs().max(high.abs())).collect();
        let content = |weights: &[Polynomial]| {
            weights.iter().fold(Exact::ZERO, |content, weight| content.common_measure(&weight.content()))
        };
        let million = Exact::from(1_000_000);
        let is_short_sum = |weights: &[Polynomial], factor: &Exact| {
            let sum: Exact = weights.iter().map(|weight| weight.times_number(factor).magnitude(&most)).sum();
            variables.all.iter().all(|variable| variable.is_short) && is_short(&(sum * &million))
        };
        let whole = |numerator: &Exact, denominator: &Exact| -> Option<(Exact, Exact)> {
            // numerator / denominator as two whole numbers
            let ratio = numerator.checked_div(denominator)?;
            Some((ratio.numerator(), ratio.denominator()))
        };
        let same = form.denominator.windows(2).all(|pair| pair[0] == pair[1]);
        let same =
            form.denominator.first().filter(|_| same).and_then(Polynomial::as_constant).filter(Exact::is_positive);
        let water = form.water.as_ref().map(|weights| {
            let weights: Vec<Polynomial> = weights.iter().map(|weight| variables.constant(weight)).collect();
            let content = content(&weights);
            Sum::new(&weights, &content.reciprocal().unwrap_or(Exact::ONE), variables, lengths, inner)
        });
        let numerator_content = content(&form.numerator);
        let mut sum = |weights: &[Polynomial], factor: &Exact| Sum::new(weights, factor, variables, lengths, inner);
        match same {
            Some(each) => {
                // N . n / (10^6 each), n in ppm
                let below = &million * each;
                let found = whole(&numerator_content, &below).filter(|(above, scale)| {
                    let factor = above.checked_div(&numerator_content).unwrap_or(Exact::ONE);
                    is_short(scale) && is_short_sum(&form.numerator, &factor)
                });
                match found.filter(|_| !numerator_content.is_zero()) {
                    Some((above, scale)) => {
                        let numerator = sum(&form.numerator, &(above / &numerator_content));
                        Weights { numerator, denominator: None, water, scale: scale.to_f64() }
                    }
                    None => Weights {
                        numerator: sum(&form.numerator, &(Exact::ONE / below)),
                        denominator: None,
                        water,
                        scale: 1.0,
                    },
                }
            }
            None => {
                let denominator_content = content(&form.denominator);
                let found = whole(&numerator_content, &denominator_content).filter(|_| !numerator_content.is_zero());
                let factors = found.map(|(above, below)| (above / &numerator_content, below / &denominator_content));
                let short = factors.filter(|(above, below)| {
                    is_short_sum(&form.numerator, above) && is_short_sum(&form.denominator, below)
                });
                let (above, below) = short.unwrap_or((Exact::ONE, Exact::ONE));
                Weights {
                    numerator: sum(&form.numerator, &above),
                    denominator: Some(sum(&form.denominator, &below)),
                    water,
                    scale: 1.0,
                }
            }
        }
    }
}
