//! The runs of a design, chosen among candidates by exchange.
//!
//! With `D = (M_0 + sum f f')^-1` over the runs chosen so far, `d_ij = f_i' D f_j` and `q_ij = f_i' D K D f_j`, a run
//! `i` given up for a candidate `j` multiplies the determinant of the information matrix by
//! `g = (1 + d_jj)(1 - d_ii) + d_ij^2` and lowers the average variance `tr K D` by
//! `((1 - d_ii) q_jj + 2 d_ij q_ij - (1 + d_jj) q_ii) / g`. Run by run the best exchange is made, until none betters
//! the design; that from several starts, each some runs at random and the rest one by one where the variance is
//! greatest.
//!
//! Source: V. V. Fedorov, Theory of Optimal Experiments, 1972, in the order of R. D. Cook and C. J. Nachtsheim, A
//! comparison of algorithms for constructing exact D-optimal designs, Technometrics 22, 1980, 315-324 (both from
//! memory).

use std::ops::Range;

use nalgebra::{DMatrix, DVector};

use super::plots::Plots;
use super::rows::Rows;
use crate::number::Random;

/// Passes over all runs before a start ends.
const MOST_PASSES: usize = 200;
/// What an exchange has to better the design by, as a share.
const LEAST_GAIN: f64 = 1e-9;
/// What stands for the information of nothing, so that the first runs have a variance.
const ALMOST_NOTHING: f64 = 1e-8;

/// What is looked for.
pub(super) enum Criterion {
    /// The greatest determinant of the information matrix of so many terms.
    Determinant(usize),
    /// The least average variance, with this average of `f f'`.
    Average(DMatrix<f64>),
}

impl Criterion {
    /// The logarithm of what a design is worth: greater is better.
    pub(super) fn worth(&self, inverse: &DMatrix<f64>) -> Option<f64> {
        match self {
            Criterion::Determinant(terms) => inverse
                .view((0, 0), (*terms, *terms))
                .into_owned()
                .cholesky()
                .map(|factor| -2.0 * factor.l_dirty().diagonal().iter().map(|value| value.ln()).sum::<f64>()),
            Criterion::Average(moments) => Some(-moments.dot(inverse).ln()),
        }
    }
}

/// The question: candidates in coordinates in which they are about as long one way as another.
pub(super) struct Exchange<'a> {
    pub(super) candidates: &'a Rows,
    /// The information of runs already made.
    pub(super) made: &'a DMatrix<f64>,
    pub(super) criterion: &'a Criterion,
    pub(super) runs: usize,
    pub(super) plots: Option<&'a Plots>,
}

impl Exchange<'_> {
    /// The candidates that a run is chosen among: those of its block.
    fn own(&self, run: usize) -> Range<usize> {
        let blocks = self.plots.map_or(1, Plots::blocks);
        let (count, block) = (self.candidates.count() / blocks, run % blocks);
        block * count..(block + 1) * count
    }

    /// The best of some starts, as places of candidates in ascending order; nothing where every start was singular or
    /// `go_on` said no.
    pub(super) fn best(
        &self,
        starts: usize,
        random: &mut Random,
        mut go_on: impl FnMut() -> bool,
    ) -> Option<Vec<usize>> {
        let mut best: Option<(f64, Vec<usize>)> = None;
        for _ in 0..starts {
            let chosen = self.start(random);
            if let Some((worth, chosen)) = self.exchanged(chosen, &mut go_on)
                && best.as_ref().is_none_or(|(known, _)| worth > known + LEAST_GAIN)
            {
                best = Some((worth, chosen));
            }
            if !go_on() {
                break;
            }
        }
        best.map(|(_, mut chosen)| {
            chosen.sort_unstable();
            chosen
        })
    }

    /// Runs to begin from: some at random, the rest where the variance is greatest.
    pub(super) fn start(&self, random: &mut Random) -> Vec<usize> {
        let width = self.candidates.width();
        let at_random = (1 + random.below(width.div_ceil(2))).min(self.runs);
        let mut information = self.made + DMatrix::identity(width, width) * ALMOST_NOTHING;
        let mut chosen: Vec<usize> = (0..at_random)
            .map(|run| {
                let own = self.own(run);
                own.start + random.below(own.len())
            })
            .collect();
        let mut held = self.plots.map(|plots| plots.held(&chosen));
        for place in &chosen {
            let row = self.candidates.vector(*place);
            information.ger(1.0, &row, &row, 1.0);
        }
        // With what stands for nothing added it is positive definite.
        let Some(mut inverse) = information.cholesky().map(|factor| factor.inverse()) else { return chosen };
        let mut variances = self.candidates.forms(&inverse);
        while chosen.len() < self.runs {
            let own = self.own(chosen.len());
            let worth: Vec<f64> = own
                .clone()
                .map(|place| {
                    (1.0 + variances[place])
                        / self.plots.zip(held.as_ref()).map_or(1.0, |(plots, held)| plots.grown(held, place, 1.0))
                })
                .collect();
            let place = own.start + greatest(&worth);
            if let (Some(plots), Some(held)) = (self.plots, &mut held) {
                plots.hold(held, place, 1.0);
            }
            add(&mut inverse, &mut variances, self.candidates, place, 1.0);
            chosen.push(place);
        }
        chosen
    }

    fn inverse(&self, chosen: &[usize]) -> Option<DMatrix<f64>> {
        let mut information = self.made.clone();
        for place in chosen {
            let row = self.candidates.vector(*place);
            information.ger(1.0, &row, &row, 1.0);
        }
        information.cholesky().map(|factor| factor.inverse())
    }

    fn exchanged(&self, mut chosen: Vec<usize>, go_on: &mut impl FnMut() -> bool) -> Option<(f64, Vec<usize>)> {
        for _ in 0..MOST_PASSES {
            // Worked out anew for every pass, so that errors of updates do not gather.
            let mut inverse = self.inverse(&chosen)?;
            let mut variances = self.candidates.forms(&inverse);
            let mut averaged = self.averaged(&inverse);
            let mut held = self.plots.map(|plots| plots.held(&chosen));
            let mut changed = false;
            for (place, run) in chosen.iter_mut().enumerate() {
                if !go_on() {
                    return None;
                }
                let Some(entering) =
                    self.better(self.own(place), *run, &inverse, &variances, averaged.as_ref(), held.as_deref())
                else {
                    continue;
                };
                if let (Some(plots), Some(held)) = (self.plots, &mut held) {
                    plots.hold(held, entering, 1.0);
                    plots.hold(held, *run, -1.0);
                }
                add(&mut inverse, &mut variances, self.candidates, entering, 1.0);
                add(&mut inverse, &mut variances, self.candidates, *run, -1.0);
                averaged = self.averaged(&inverse);
                *run = entering;
                changed = true;
            }
            if !changed {
                break;
            }
        }
        let inverse = self.inverse(&chosen)?;
        Some((self.criterion.worth(&inverse)?, chosen))
    }

    /// `D K D` and its form at every candidate.
    fn averaged(&self, inverse: &DMatrix<f64>) -> Option<(DMatrix<f64>, Vec<f64>)> {
        let Criterion::Average(moments) = self.criterion else { return None };
        let averaged = inverse * moments * inverse;
        let forms = self.candidates.forms(&averaged);
        Some((averaged, forms))
    }

    /// The candidate that a run is best given up for.
    fn better(
        &self,
        own: Range<usize>,
        leaving: usize,
        inverse: &DMatrix<f64>,
        variances: &[f64],
        averaged: Option<&(DMatrix<f64>, Vec<f64>)>,
        held: Option<&[f64]>,
    ) -> Option<usize> {
        let row = self.candidates.vector(leaving);
        let with = self.candidates.times(&(inverse * &row));
        let left = 1.0 - variances[leaving];
        let factor = |place: usize| (1.0 + variances[place]) * left + with[place] * with[place];
        let gains: Vec<f64> = match averaged {
            None => {
                // Of the determinant with the whole plots beside the terms, without what is theirs.
                let of_plots = |place: usize| match (self.plots, held) {
                    (Some(plots), Some(held)) => plots.moved(held, leaving, place),
                    _ => 1.0,
                };
                own.clone().map(|place| factor(place) / of_plots(place) - 1.0).collect()
            }
            Some((averaged, forms)) => {
                let Criterion::Average(moments) = self.criterion else { return None };
                let now = moments.dot(inverse);
                let crossed = self.candidates.times(&(averaged * &row));
                let gain = |place: usize| {
                    let factor = factor(place);
                    let lower = left * forms[place] + 2.0 * with[place] * crossed[place]
                        - (1.0 + variances[place]) * forms[leaving];
                    if factor > LEAST_GAIN { lower / factor / now } else { f64::NEG_INFINITY }
                };
                own.clone().map(gain).collect()
            }
        };
        let place = greatest(&gains);
        (gains[place] > LEAST_GAIN).then_some(own.start + place)
    }
}

/// One row more (or, with -1, one less) in the inverse and in the variances of all candidates.
fn add(inverse: &mut DMatrix<f64>, variances: &mut [f64], candidates: &Rows, place: usize, sign: f64) {
    let along: DVector<f64> = &*inverse * candidates.vector(place);
    let scale = -sign / (1.0 + sign * variances[place]);
    for (variance, with) in variances.iter_mut().zip(candidates.times(&along)) {
        *variance += scale * with * with;
    }
    inverse.ger(scale, &along, &along, 1.0);
}

/// The place of the greatest, the first of several.
pub(super) fn greatest(values: &[f64]) -> usize {
    let mut best = 0;
    for (place, value) in values.iter().enumerate() {
        if *value > values[best] {
            best = place;
        }
    }
    best
}
