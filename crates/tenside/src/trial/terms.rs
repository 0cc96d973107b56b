//! The terms of a model of a mixture: what a measured property is a sum of.
//!
//! With `x_i` the fraction of component `i` in the mixture, `sum x_i = 1`, the canonical polynomials are
//!
//! ```text
//! linear          sum b_i x_i
//! quadratic       linear + sum_{i<j} b_ij x_i x_j
//! special cubic   quadratic + sum_{i<j<k} b_ijk x_i x_j x_k
//! full cubic      special cubic + sum_{i<j} g_ij x_i x_j (x_i - x_j)
//! ```
//!
//! They have neither a constant nor squares: since the fractions sum to 1, both are sums of what is there. A process
//! variable `v` between `low` and `high` is coded to `z = (2 v - low - high) / (high - low)`, from -1 to 1, so that a
//! coefficient is the change over half the range.
//!
//! Source: H. Scheffé, Experiments with mixtures, Journal of the Royal Statistical Society B 20, 1958, 344-360; with
//! process variables: the same, B 25, 1963, 235-263 (both from memory).

use crate::bounds::Quantity;
use crate::document::{check_name, named_enum};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{DoubleDouble, Exact, ToExact};

named_enum! {
    /// Scheffé's canonical polynomials in the fractions of a mixture.
    Blend "blend model" {
        /// Each component for itself.
        Linear = "linear",
        /// And every pair.
        Quadratic = "quadratic",
        /// And every three.
        SpecialCubic = "special-cubic",
        /// And every pair times its difference.
        FullCubic = "full-cubic",
    }
}

named_enum! {
    /// How far a model follows process variables.
    ProcessOrder "order of process terms" {
        /// Each for itself.
        Linear = "linear",
        /// And every square and pair. A square needs more than two levels.
        Quadratic = "quadratic",
    }
}

named_enum! {
    /// How the terms of process variables and of the mixture go together.
    Crossing "crossing" {
        /// Added: a process variable does the same to every mixture.
        Added = "added",
        /// Every term of the mixture times every process term: it may do something else to each.
        Crossed = "crossed",
    }
}

/// Something of the process that is varied beside the mixture: press force, cure days.
#[derive(Clone, Debug, PartialEq)]
pub struct ProcessVariable {
    name: String,
    unit: String,
    low: Exact,
    high: Exact,
}

getters!(ProcessVariable {
    /// Its name.
    name: &str,
    /// Its unit; may be empty.
    unit: &str,
    /// The lowest setting.
    low: &Exact,
    /// The highest setting.
    high: &Exact,
});

impl ProcessVariable {
    /// A variable with its unit (may be empty) and the range in which it is varied.
    ///
    /// ```
    /// let press = tenside::trial::ProcessVariable::new("press force", "kN", 10, 40)?;
    /// assert_eq!(press.coded(40.0), 1.0);
    /// assert_eq!(press.coded(25.0), 0.0);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A bad name, no number, a setting beyond a million, a low end that is not below the high end.
    pub fn new(name: &str, unit: &str, low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let name = check_name(name)?;
        let unit = if unit.is_empty() { String::new() } else { check_name(unit)? };
        let (low, high) = (low.to_exact()?, high.to_exact()?);
        Quantity::ProcessSetting.check(&low)?;
        Quantity::ProcessSetting.check(&high)?;
        if low >= high {
            return Err(Fault::new(FaultKind::Contradiction, "the low end is not below the high end")
                .at(format!("process variable {name:?}"))
                .value(format!("{low} to {high}"))
                .into());
        }
        Ok(ProcessVariable { name, unit, low, high })
    }

    /// A setting as it stands in the model: -1 at the low end, 1 at the high end.
    #[must_use]
    pub fn coded(&self, setting: f64) -> f64 {
        let (low, high) = (self.low.to_f64(), self.high.to_f64());
        (2.0 * setting - low - high) / (high - low)
    }

    /// The same of an exact setting.
    pub(super) fn coded_exactly(&self, setting: &Exact) -> Exact {
        (Exact::from(2) * setting - &self.low - &self.high) / (&self.high - &self.low)
    }

    /// The setting at a coded value.
    ///
    /// # Errors
    /// What is no number.
    pub fn setting(&self, coded: impl ToExact) -> Result<Exact, Error> {
        Ok((&self.low + &self.high + coded.to_exact()? * &(&self.high - &self.low)) / Exact::from(2))
    }
}

/// The terms of a model: components of the mixture, process variables, and which products of them.
///
/// ```
/// use tenside::trial::{Blend, Crossing, ProcessOrder, ProcessVariable, Terms};
/// let terms = Terms::new(["wash", "kaolin", "cetyl-alcohol"], Blend::Quadratic)?;
/// assert_eq!(terms.names()[..4], ["wash", "kaolin", "cetyl-alcohol", "wash*kaolin"]);
/// assert_eq!(terms.row(&[0.5, 0.5, 0.0], &[])?, [0.5, 0.5, 0.0, 0.25, 0.0, 0.0]);
///
/// let pressed = terms.with_process([ProcessVariable::new("press force", "kN", 10, 40)?], ProcessOrder::Linear, Crossing::Added)?;
/// assert_eq!(pressed.len(), 7);
/// assert_eq!(pressed.row(&[1.0, 0.0, 0.0], &[40.0])?, [1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0]);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Terms {
    components: Vec<String>,
    blend: Blend,
    process: Vec<ProcessVariable>,
    order: ProcessOrder,
    crossing: Crossing,
    whole_plot_ratio: Option<Exact>,
}

getters!(Terms {
    /// The components, in the order of their fractions.
    components: &[String],
    /// The polynomial of the mixture.
    blend: Blend,
    /// The process variables, in the order of their settings.
    process: &[ProcessVariable],
    /// How far the model follows process variables.
    order: ProcessOrder,
    /// How terms of mixture and process go together.
    crossing: Crossing,
    /// How many times the variance of a single run that of a whole plot is; nothing where every run is set up anew.
    whole_plot_ratio: Option<&Exact>,
});

impl Terms {
    /// A model of the mixture alone.
    ///
    /// # Errors
    /// No component, one that stands twice, a bad name, more than four hundred terms.
    pub fn new<N: AsRef<str>>(components: impl IntoIterator<Item = N>, blend: Blend) -> Result<Self, Error> {
        let mut names: Vec<String> = Vec::new();
        for name in components {
            let name = check_name(name.as_ref())?;
            if names.contains(&name) {
                return Err(Fault::new(FaultKind::Duplicate, "a component stands twice in the model")
                    .value(format!("{name:?}"))
                    .into());
            }
            names.push(name);
            if names.len() > MOST_TERMS {
                return Err(Quantity::ModelTerms.fault(format!("more than {MOST_TERMS}")).into());
            }
        }
        if names.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "a model without components")
                .remedy("name the lines that are varied")
                .into());
        }
        let terms = Terms {
            components: names,
            blend,
            process: Vec::new(),
            order: ProcessOrder::Linear,
            crossing: Crossing::Added,
            whole_plot_ratio: None,
        };
        terms.checked()
    }

    /// With process variables, instead of those before.
    ///
    /// # Errors
    /// A name that is a component or stands twice, more than four hundred terms.
    pub fn with_process(
        mut self,
        process: impl IntoIterator<Item = ProcessVariable>,
        order: ProcessOrder,
        crossing: Crossing,
    ) -> Result<Self, Error> {
        let mut variables: Vec<ProcessVariable> = Vec::new();
        for variable in process {
            if self.components.contains(&variable.name) || variables.iter().any(|known| known.name == variable.name) {
                return Err(Fault::new(FaultKind::Duplicate, "a name stands twice in the model")
                    .value(format!("{:?}", variable.name))
                    .into());
            }
            variables.push(variable);
            if variables.len() > MOST_TERMS {
                return Err(Quantity::ModelTerms.fault(format!("more than {MOST_TERMS}")).into());
            }
        }
        (self.process, self.order, self.crossing) = (variables, order, crossing);
        self.checked()
    }

    /// With another polynomial of the mixture.
    ///
    /// # Errors
    /// More than four hundred terms.
    pub fn with_blend(self, blend: Blend) -> Result<Self, Error> {
        Terms { blend, ..self }.checked()
    }

    /// With whole plots: runs between which no setting was changed share a departure of its own, whose variance is this
    /// many times that of a single run. Where nothing is known of it, 1 is taken (common practice, no source).
    ///
    /// ```
    /// use tenside::trial::{Blend, Terms};
    /// let terms = Terms::new(["wash", "kaolin"], Blend::Linear)?.with_whole_plots(1)?;
    /// assert_eq!(terms.whole_plot_ratio(), Some(&1.into()));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A ratio that is no number, or out of range.
    pub fn with_whole_plots(mut self, ratio: impl ToExact) -> Result<Self, Error> {
        let ratio = ratio.to_exact()?;
        Quantity::WholePlotRatio.check(&ratio)?;
        self.whole_plot_ratio = Some(ratio);
        Ok(self)
    }

    fn checked(self) -> Result<Self, Error> {
        if self.len() > MOST_TERMS {
            let fault = Quantity::ModelTerms.fault(self.len());
            return Err(fault.remedy("name fewer components, or take a lower model").into());
        }
        Ok(self)
    }

    /// How many terms there are.
    #[must_use]
    #[expect(clippy::len_without_is_empty, reason = "a model without terms is refused")]
    pub fn len(&self) -> usize {
        let (parts, settings) = (self.components.len(), self.process.len());
        let pairs = parts * (parts - 1) / 2;
        let triples = pairs * parts.saturating_sub(2) / 3;
        let blend = match self.blend {
            Blend::Linear => parts,
            Blend::Quadratic => parts + pairs,
            Blend::SpecialCubic => parts + pairs + triples,
            Blend::FullCubic => parts + 2 * pairs + triples,
        };
        let process = match self.order {
            ProcessOrder::Linear => settings,
            ProcessOrder::Quadratic => settings + settings * (settings + 1) / 2,
        };
        match self.crossing {
            Crossing::Added => blend + process,
            Crossing::Crossed => blend * (1 + process),
        }
    }

    /// What each term is, in the order of [`row`](Self::row): `kaolin`, `wash*kaolin`, `wash*kaolin*(wash-kaolin)`,
    /// `press force^2`.
    #[must_use]
    pub fn names(&self) -> Vec<String> {
        let blend = self.blend_terms(
            |place| self.components[place].clone(),
            |left, right| format!("{left}*{right}"),
            |left, right| format!("({left}-{right})"),
        );
        let of = |place: usize| self.process[place].name.clone();
        let process =
            self.process_terms(
                of,
                |left, right| if left == right { format!("{left}^2") } else { format!("{left}*{right}") },
            );
        self.together(blend, &process, |left, right| format!("{left}*{right}"))
    }

    /// Which step of the model each term belongs to, in the order of [`row`](Self::row).
    pub(super) fn steps(&self) -> Vec<&'static str> {
        let degrees = self.blend_terms(|_| 1, |left, right| left + right, |left, _| *left);
        let process = self.process_terms(|_| 1, |left, right| left + right);
        let pairs = self.together(
            degrees.into_iter().map(|degree| (degree, 0)).collect(),
            &process.into_iter().map(|degree| (0, degree)).collect::<Vec<_>>(),
            |left, right| (left.0 + right.0, left.1 + right.1),
        );
        let word = |(blend, process)| match (blend, process) {
            (_, 1) => "process",
            (_, 2) => "process, quadratic",
            (1, _) => "blend, linear",
            (2, _) => "blend, quadratic",
            _ => "blend, cubic",
        };
        pairs.into_iter().map(word).collect()
    }

    /// The value of each term for a mixture.
    ///
    /// `parts` are the fractions of the components in the order of [`components`](Self::components), which sum to 1
    /// where the components are the whole mixture; `process` are settings in their units.
    ///
    /// # Errors
    /// Another number of values than there are components or process variables, and a value that is not finite.
    pub fn row(&self, parts: &[f64], process: &[f64]) -> Result<Vec<f64>, Error> {
        for (what, values, names) in
            [("fractions", parts, self.components.len()), ("settings", process, self.process.len())]
        {
            if values.len() != names {
                let fault = Fault::new(FaultKind::OutOfRange, format!("another number of {what} than the model has"));
                return Err(fault.value(values.len()).allowed(names.to_string()).into());
            }
            if let Some(value) = values.iter().find(|value| !value.is_finite()) {
                return Err(Fault::new(FaultKind::NotANumber, format!("one of the {what} is no finite number"))
                    .value(value)
                    .into());
            }
        }
        let coded: Vec<f64> =
            self.process.iter().zip(process).map(|(variable, setting)| variable.coded(*setting)).collect();
        Ok(self.values(parts, &coded))
    }

    /// As [`row`](Self::row), with coded settings, unchecked.
    pub(super) fn values(&self, parts: &[f64], coded: &[f64]) -> Vec<f64> {
        let blend = self.blend_terms(|place| parts[place], |left, right| left * right, |left, right| left - right);
        let process = self.process_terms(|place| coded[place], |left, right| left * right);
        self.together(blend, &process, |left, right| left * right)
    }

    /// As [`values`](Self::values), with twice the digits.
    pub(super) fn fine_values(&self, parts: &[DoubleDouble], coded: &[DoubleDouble]) -> Vec<DoubleDouble> {
        let times = |left: &DoubleDouble, right: &DoubleDouble| left.times(*right);
        let blend = self.blend_terms(|place| parts[place], times, |left, right| left.minus(*right));
        self.together(blend, &self.process_terms(|place| coded[place], times), times)
    }

    /// The terms of absolute values, for bounds of rounding errors; sums in place of differences.
    pub(super) fn sizes(&self, parts: &[f64], coded: &[f64]) -> Vec<f64> {
        let blend =
            self.blend_terms(|place| parts[place].abs(), |left, right| left * right, |left, right| left + right);
        let process = self.process_terms(|place| coded[place].abs(), |left, right| left * right);
        self.together(blend, &process, |left, right| left * right)
    }

    pub(super) fn blend_terms<T: Clone>(
        &self,
        of: impl Fn(usize) -> T,
        times: impl Fn(&T, &T) -> T,
        minus: impl Fn(&T, &T) -> T,
    ) -> Vec<T> {
        let single: Vec<T> = (0..self.components.len()).map(of).collect();
        let pairs = || {
            single
                .iter()
                .enumerate()
                .flat_map(|(place, left)| single[place + 1..].iter().map(move |right| (left, right)))
        };
        let mut terms = single.clone();
        if self.blend >= Blend::Quadratic {
            terms.extend(pairs().map(|(left, right)| times(left, right)));
        }
        if self.blend >= Blend::FullCubic {
            terms.extend(pairs().map(|(left, right)| times(&times(left, right), &minus(left, right))));
        }
        if self.blend >= Blend::SpecialCubic {
            for (place, first) in single.iter().enumerate() {
                for (next, second) in single.iter().enumerate().skip(place + 1) {
                    terms.extend(single[next + 1..].iter().map(|third| times(&times(first, second), third)));
                }
            }
        }
        terms
    }

    pub(super) fn process_terms<T: Clone>(&self, of: impl Fn(usize) -> T, times: impl Fn(&T, &T) -> T) -> Vec<T> {
        let single: Vec<T> = (0..self.process.len()).map(of).collect();
        let mut terms = single.clone();
        if self.order == ProcessOrder::Quadratic {
            for (place, left) in single.iter().enumerate() {
                terms.extend(single[place..].iter().map(|right| times(left, right)));
            }
        }
        terms
    }

    pub(super) fn together<T: Clone>(&self, blend: Vec<T>, process: &[T], times: impl Fn(&T, &T) -> T) -> Vec<T> {
        let mut terms = blend.clone();
        match self.crossing {
            Crossing::Added => terms.extend(process.iter().cloned()),
            Crossing::Crossed => {
                terms.extend(process.iter().flat_map(|setting| blend.iter().map(|term| times(term, setting))))
            }
        }
        terms
    }
}

/// The most terms, as the table of bounds has it.
const MOST_TERMS: usize = 400;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Named;

    #[test]
    fn names_values_and_number_agree_for_every_model() {
        let process =
            [ProcessVariable::new("force", "kN", 10, 40).unwrap(), ProcessVariable::new("days", "", 1, 28).unwrap()];
        for blend in Blend::ALL {
            for order in ProcessOrder::ALL {
                for crossing in Crossing::ALL {
                    let terms = Terms::new(["a", "b", "c", "d"], *blend)
                        .unwrap()
                        .with_process(process.clone(), *order, *crossing)
                        .unwrap();
                    assert_eq!(terms.names().len(), terms.len(), "{blend} {order} {crossing}");
                    assert_eq!(terms.row(&[0.1, 0.2, 0.3, 0.4], &[10.0, 28.0]).unwrap().len(), terms.len());
                }
            }
        }
        let full = Terms::new(["a", "b", "c"], Blend::FullCubic).unwrap();
        assert_eq!(full.names()[6..], ["a*b*(a-b)", "a*c*(a-c)", "b*c*(b-c)", "a*b*c"]);
        let values = full.row(&[0.5, 0.25, 0.25], &[]).unwrap();
        assert_eq!(values[6..], [0.03125, 0.03125, 0.0, 0.03125]);
    }

    #[test]
    fn what_is_no_model_is_refused() {
        assert!(Terms::new(["a", "a"], Blend::Linear).unwrap_err().is_duplicate());
        assert!(Terms::new([""; 0], Blend::Linear).unwrap_err().is_missing());
        assert!(Terms::new((0..100_000).map(|place| place.to_string()), Blend::Linear).unwrap_err().is_out_of_range());
        assert!(Terms::new((0..40).map(|place| place.to_string()), Blend::Quadratic).unwrap_err().is_out_of_range());
        let terms = Terms::new(["a", "b"], Blend::Linear).unwrap();
        assert!(terms.row(&[0.5], &[]).unwrap_err().is_out_of_range());
        assert!(terms.row(&[0.5, f64::NAN], &[]).unwrap_err().is_not_a_number());
        let named = ProcessVariable::new("a", "", 0, 1).unwrap();
        assert!(terms.with_process([named], ProcessOrder::Linear, Crossing::Added).unwrap_err().is_duplicate());
        assert!(ProcessVariable::new("force", "kN", 3, 3).unwrap_err().is_contradiction());
    }

    #[test]
    fn the_most_terms_are_those_of_the_table() {
        assert_eq!(Quantity::ModelTerms.range().1, MOST_TERMS.into());
    }
}
