//! What makes one formula better than another: one property, or several by their desirabilities.
//!
//! ```text
//! larger   d = ((y - low) / (high - low))^s       target   d = ((y - low) / (target - low))^s below, ((high - y) / (high - target))^s above
//! smaller  d = ((high - y) / (high - low))^s      D = (d_1 d_2 ... d_k)^(1/k)
//! ```
//!
//! each from 0, not acceptable, to 1, no better needed. G. Derringer and R. Suich, Journal of Quality Technology 12,
//! 1980, 214-219 (from memory).

use std::fmt::Display;

use crate::bounds::Quantity;
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, ToExact};

named_enum! {
    /// Which values of a property are wanted.
    Desired "desire" {
        /// Larger ones.
        Larger = "larger",
        /// Smaller ones.
        Smaller = "smaller",
        /// A target, neither more nor less.
        Target = "target",
    }
}

/// How desirable the values of a property are.
///
/// ```
/// use tenside::trial::Desirability;
/// let hard = Desirability::larger(30, 50)?.with_shape(2)?;
/// assert_eq!([20.0, 40.0, 60.0].map(|newtons| hard.of(newtons)), [0.0, 0.25, 1.0]);
/// let mild = Desirability::target("4.5", "5.5", "6.5")?;
/// assert_eq!(mild.of(6.0), 0.5);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Desirability {
    desired: Desired,
    low: f64,
    target: f64,
    high: f64,
    shape: f64,
}

getters!(Desirability {
    /// Which values are wanted.
    desired: Desired,
    /// Its exponent.
    shape: f64,
});

impl Desirability {
    fn new(desired: Desired, ends: [Result<Exact, Error>; 3]) -> Result<Self, Error> {
        let [low, target, high] = ends;
        let (low, target, high) = (low?, target?, high?);
        for end in [&low, &target, &high] {
            Quantity::TrialResult.check(end)?;
        }
        if low >= high
            || target < low
            || target > high
            || (desired == Desired::Target && (target == low || target == high))
        {
            let fault = Fault::new(FaultKind::Contradiction, "the values of a desirability do not rise")
                .value(format!("{low}, {target}, {high}"));
            return Err(fault.allowed("low < high, a target between them").into());
        }
        Ok(Desirability { desired, low: low.to_f64(), target: target.to_f64(), high: high.to_f64(), shape: 1.0 })
    }

    /// Nothing up to `low`, all from `high` on; in the unit of the property.
    ///
    /// # Errors
    /// No numbers, out of range, a low end that is not below the high end.
    pub fn larger(low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let high = high.to_exact();
        Desirability::new(Desired::Larger, [low.to_exact(), high.clone(), high])
    }

    /// All down to `low`, nothing from `high` on.
    ///
    /// # Errors
    /// As for [`larger`](Self::larger).
    pub fn smaller(low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let low = low.to_exact();
        Desirability::new(Desired::Smaller, [low.clone(), low, high.to_exact()])
    }

    /// All at the target, nothing at `low` and `high`.
    ///
    /// # Errors
    /// As for [`larger`](Self::larger), and a target that is not between them.
    pub fn target(low: impl ToExact, target: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        Desirability::new(Desired::Target, [low.to_exact(), target.to_exact(), high.to_exact()])
    }

    /// What words ask for; a target is for [`Desired::Target`] alone.
    ///
    /// # Errors
    /// As for [`larger`](Self::larger), a target that is missing and one where none is wanted.
    pub fn of_words<T: ToExact + Display>(
        desired: Desired,
        low: impl ToExact,
        target: Option<T>,
        high: impl ToExact,
    ) -> Result<Self, Error> {
        match (desired, target) {
            (Desired::Larger, None) => Desirability::larger(low, high),
            (Desired::Smaller, None) => Desirability::smaller(low, high),
            (Desired::Target, Some(target)) => Desirability::target(low, target, high),
            (Desired::Target, None) => Err(Fault::new(FaultKind::Missing, "a target is wanted and none is stated")
                .remedy("state the target, between low and high")
                .into()),
            (_, Some(target)) => {
                let fault = Fault::new(FaultKind::Contradiction, "a target has a meaning only where one is wanted")
                    .value(target);
                Err(fault.allowed(format!("desired {}", Desired::Target)).into())
            }
        }
    }

    /// With the exponent `s`: 1 is straight, above 1 only values near the best are worth much.
    ///
    /// # Errors
    /// No number, or one out of range.
    pub fn with_shape(mut self, shape: impl ToExact) -> Result<Self, Error> {
        let shape = Quantity::DesirabilityShape.exact(shape)?;
        self.shape = shape.to_f64();
        Ok(self)
    }

    /// Its low end, target and high end; the target of larger values is the high end, of smaller ones the low end.
    #[must_use]
    pub fn ends(&self) -> (f64, f64, f64) {
        (self.low, self.target, self.high)
    }

    /// How desirable a value is, 0 to 1.
    #[must_use]
    pub fn of(&self, value: f64) -> f64 {
        let straight = match self.desired {
            Desired::Larger => (value - self.low) / (self.high - self.low),
            Desired::Smaller => (self.high - value) / (self.high - self.low),
            Desired::Target if value <= self.target => (value - self.low) / (self.target - self.low),
            Desired::Target => (self.high - value) / (self.high - self.target),
        };
        straight.clamp(0.0, 1.0).powf(self.shape)
    }

    /// The most that any value between two has.
    fn most(&self, low: f64, high: f64) -> f64 {
        self.of(self.target.max(low).min(high))
    }
}

/// What is made as great as can be.
pub(super) enum Goal {
    /// One property, or with -1 its opposite.
    One(f64),
    /// The geometric mean of what several are worth.
    Several(Vec<Desirability>),
}

impl Goal {
    pub(super) fn of(&self, values: &[f64]) -> f64 {
        match self {
            Goal::One(sign) => sign * values[0],
            Goal::Several(desired) => mean(desired.iter().zip(values).map(|(desired, value)| desired.of(*value))),
        }
    }

    /// The most for values between these.
    pub(super) fn most(&self, ends: &[(f64, f64)]) -> f64 {
        match self {
            Goal::One(sign) => (sign * ends[0].0).max(sign * ends[0].1),
            Goal::Several(desired) => {
                mean(desired.iter().zip(ends).map(|(desired, (low, high))| desired.most(*low, *high)))
            }
        }
    }

    /// Which ends of a property's range matter: the low one, the high one.
    pub(super) fn asks(&self, property: usize) -> (bool, bool) {
        match self {
            Goal::One(sign) => (*sign < 0.0, *sign > 0.0),
            Goal::Several(desired) => match desired[property].desired {
                Desired::Larger => (false, true),
                Desired::Smaller => (true, false),
                Desired::Target => (true, true),
            },
        }
    }
}

fn mean(parts: impl ExactSizeIterator<Item = f64>) -> f64 {
    let count = parts.len() as f64;
    parts.map(|part| part.powf(1.0 / count)).product()
}
