//! The interaction parameter of two surfactants from measured critical micelle concentrations of their mixtures.
//!
//! ```text
//! minimise sum (ln C_measured - ln C(B))²,   d ln C / dB = x_1 x_2
//! ```
//!
//! with the composition `x` of the first micelles. Logarithms, since such concentrations are read to a part of
//! themselves.

use statrs::distribution::{ContinuousCDF, StudentsT};

use super::MixedMicelles;
use super::solve::at_onset;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, ToExact};

/// One measured mixture.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct InteractionPair {
    /// The mole share of the first surfactant.
    pub share: f64,
    /// The measured critical micelle concentration, mmol/L.
    pub measured: f64,
    /// That of the fitted parameter.
    pub fitted: f64,
    /// The parameter that this mixture alone gives; `None` if none in range does.
    pub alone: Option<f64>,
    /// The share of the first surfactant in the micelles.
    pub in_micelles: f64,
}

/// A fitted interaction parameter.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MicelleInteraction {
    /// The parameter, in units of RT.
    pub parameter: f64,
    /// Its standard error; `None` for a single mixture, which tells none.
    pub error: Option<f64>,
    /// By what part measured concentrations lie from the fitted ones, standard deviation; `None` for a single mixture.
    pub deviation: Option<f64>,
    /// The mixtures.
    pub pairs: Vec<InteractionPair>,
}

impl MicelleInteraction {
    /// Where the parameter lies with a confidence in percent; `None` for a single mixture.
    ///
    /// # Errors
    /// A confidence out of range.
    pub fn interval(&self, confidence: impl ToExact) -> Result<Option<(f64, f64)>, Error> {
        let share = Quantity::Confidence.float(confidence)? / 100.0;
        let degrees = self.pairs.len() as f64 - 1.0;
        let half = self.error.and_then(|error| {
            StudentsT::new(0.0, 1.0, degrees).ok().map(|student| error * student.inverse_cdf(0.5 + share / 2.0))
        });
        Ok(half.map(|half| (self.parameter - half, self.parameter + half)))
    }
}

const ITERATIONS: usize = 100;
const LOWEST: f64 = -50.0;
const HIGHEST: f64 = 2.0;

/// The mixture's critical concentration with its logarithm's slope, and the first surfactant's share of the micelles.
fn of(parameter: f64, share: f64, cmcs: [f64; 2]) -> Option<(f64, f64, f64)> {
    let interactions = [vec![0.0, parameter], vec![parameter, 0.0]];
    let onset = at_onset(&[share, 1.0 - share], &cmcs, &interactions)?;
    Some((onset.total, onset.micelles[0] * onset.micelles[1], onset.micelles[0]))
}

/// The parameter under which these concentrations are missed by the least sum of squares; `None` if none in range is.
fn fitted(pairs: &[(f64, f64)], cmcs: [f64; 2]) -> Option<f64> {
    let mut parameter = 0.0_f64;
    for _ in 0..ITERATIONS {
        let (mut along, mut squares) = (0.0, 0.0);
        for (share, measured) in pairs {
            let (total, slope, _) = of(parameter, *share, cmcs)?;
            along += slope * (measured / total).ln();
            squares += slope * slope;
        }
        // Where a slope all but vanishes the parameter says nothing.
        let change = (along / squares.max(1e-300)).clamp(-2.0, 2.0);
        let next = (parameter + change).clamp(LOWEST, HIGHEST);
        if (next - parameter).abs() < 1e-12 * (1.0 + parameter.abs()) {
            // At an end it would go on.
            return (next > LOWEST && next < HIGHEST).then_some(next);
        }
        parameter = next;
    }
    None
}

impl MixedMicelles {
    /// Fits the interaction parameter of two surfactants: their critical micelle concentrations alone, and of each
    /// measured mixture the first one's mole share in percent and the mixture's critical micelle concentration;
    /// concentrations in mmol/L.
    ///
    /// ```
    /// use tenside::trial::MixedMicelles;
    /// let fit = MixedMicelles::fit_interaction("8.2", "0.11", [("10", "0.115291"), ("50", "0.167272"), ("90", "0.494733")])?;
    /// assert!((fit.parameter + 3.9).abs() < 1e-4 && fit.error.is_some_and(|error| error < 1e-4));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// No mixture, shares that are not between 0 and 100 %, concentrations that are not above 0, and mixtures to which
    /// no parameter from -50 to 2 comes nearest.
    pub fn fit_interaction<S: ToExact, C: ToExact>(
        first: impl ToExact,
        second: impl ToExact,
        mixtures: impl IntoIterator<Item = (S, C)>,
    ) -> Result<MicelleInteraction, Error> {
        let concentration = |number: Result<Exact, Error>, place: &str| {
            let number = number.map_err(|error| error.within(place))?;
            Quantity::CriticalConcentration.check(&number).map_err(|error| error.within(place))?;
            if number.is_zero() {
                return Err(Error::from(Quantity::CriticalConcentration.fault(&number).at(place)));
            }
            Ok(number.to_f64())
        };
        let cmcs = [
            concentration(first.to_exact(), "first surfactant")?,
            concentration(second.to_exact(), "second surfactant")?,
        ];
        let mut pairs: Vec<(f64, f64)> = Vec::new();
        for (index, (share, measured)) in mixtures.into_iter().enumerate() {
            let place = format!("mixture {}", index + 1);
            Quantity::TrialRuns.check(&Exact::from(i64::try_from(index + 1).unwrap_or(i64::MAX)))?;
            let share = share.to_exact().map_err(|error| error.within(&place))?.to_f64();
            if !(share > 0.0 && share < 100.0) {
                return Err(Fault::new(FaultKind::OutOfRange, "the share of the first surfactant out of range")
                    .at(place)
                    .value(share)
                    .allowed("above 0, below 100 mol %")
                    .into());
            }
            pairs.push((share / 100.0, concentration(measured.to_exact(), &place)?));
        }
        if pairs.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "no measured mixture")
                .remedy("give at least one, better three or more over the range of shares")
                .into());
        }
        let none = || -> Error {
            let fault =
                Fault::new(FaultKind::NotKnown, "no interaction parameter comes nearest to these concentrations")
                    .allowed("-50 to 2");
            fault
                .remedy(
                    "check units and shares: a mixture far above the ideal one separates, one far below was not \
                     measured right",
                )
                .into()
        };
        let parameter = fitted(&pairs, cmcs).ok_or_else(none)?;
        let (mut squares, mut slopes, mut rows) = (0.0, 0.0, Vec::new());
        for (share, measured) in &pairs {
            let (total, slope, in_micelles) = of(parameter, *share, cmcs).ok_or_else(none)?;
            squares += (measured / total).ln().powi(2);
            slopes += slope * slope;
            rows.push(InteractionPair {
                share: *share,
                measured: *measured,
                fitted: total,
                alone: fitted(&[(*share, *measured)], cmcs),
                in_micelles,
            });
        }
        let deviation = (pairs.len() > 1).then(|| (squares / (pairs.len() - 1) as f64).sqrt());
        Ok(MicelleInteraction {
            parameter,
            error: deviation.map(|deviation| deviation / slopes.sqrt()),
            deviation,
            pairs: rows,
        })
    }
}
