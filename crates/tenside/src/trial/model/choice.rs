//! Which model to take, by a stated criterion.

use super::FittedModel;
use crate::document::{Named, named_enum};
use crate::error::{Error, Fault, FaultKind};
use crate::trial::log::TrialLog;
use crate::trial::{Blend, Terms};

named_enum! {
    /// What models are compared by; less is better.
    Criterion "criterion" {
        /// Akaike's with the correction for few results.
        Aicc = "AICc",
        /// The sum of squares by which each result is missed when the model is fitted without it.
        Press = "PRESS",
    }
}

/// One model that was tried.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ModelCandidate {
    /// Its polynomial.
    pub blend: Blend,
    /// How many terms it has.
    pub terms: usize,
    /// Its criterion; `None` if it has none.
    pub value: Option<f64>,
    /// Its predicted R-squared.
    pub predicted: Option<f64>,
    /// Its residual deviation, in the unit of the property.
    pub residual_deviation: Option<f64>,
    /// Why it is not in the choice.
    pub refused: Option<String>,
}

/// The models that were tried, and the one with the least criterion.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ModelChoice {
    /// What they were compared by.
    pub criterion: Criterion,
    /// Every polynomial, from the simplest.
    pub candidates: Vec<ModelCandidate>,
    /// The one with the least criterion, the simplest of equals.
    pub best: FittedModel,
}

impl TrialLog {
    /// Fits every polynomial in the components and process terms of `like` and takes the one with the least criterion.
    /// Polynomials with terms that the design does not tell apart are left out.
    ///
    /// A chosen model looks better than it is: the same results chose it. Check it by further runs.
    ///
    /// # Errors
    /// As for [`fit`](Self::fit) where no polynomial can be fitted.
    pub fn best_model(&self, response: &str, like: &Terms, criterion: Criterion) -> Result<ModelChoice, Error> {
        let mut candidates = Vec::new();
        let mut best: Option<(f64, FittedModel)> = None;
        let mut why = None;
        for blend in Blend::ALL {
            let terms = like.clone().with_blend(*blend);
            let count = terms.as_ref().map_or(0, Terms::len);
            let refused = |refused: String| ModelCandidate {
                blend: *blend,
                terms: count,
                value: None,
                predicted: None,
                residual_deviation: None,
                refused: Some(refused),
            };
            let model = match terms.and_then(|terms| self.fit(response, &terms)) {
                Ok(model) => model,
                Err(error) => {
                    candidates.push(refused(error.to_string()));
                    why.get_or_insert(error);
                    continue;
                }
            };
            if !model.aliased().is_empty() {
                let words: Vec<String> = model.aliased().iter().map(super::AliasedTerm::words).collect();
                candidates.push(refused(format!("not told apart: {}", words.join("; "))));
                continue;
            }
            let value = match criterion {
                Criterion::Aicc => model.aicc(),
                Criterion::Press => model.press(),
            };
            let Some(value) = value else {
                candidates.push(refused(format!(
                    "no {criterion}: too few results, a run alone decides a term, or runs share whole plots"
                )));
                continue;
            };
            let candidate = ModelCandidate {
                blend: *blend,
                terms: count,
                value: Some(value),
                predicted: model.predicted(),
                residual_deviation: Some(model.residual_deviation()),
                refused: None,
            };
            candidates.push(candidate);
            if best.as_ref().is_none_or(|(least, _)| value < *least) {
                best = Some((value, model));
            }
        }
        match best {
            Some((_, best)) => Ok(ModelChoice { criterion, candidates, best }),
            None => Err(why.unwrap_or_else(|| {
                let fault = Fault::new(FaultKind::NotKnown, format!("{criterion} is known of no model")).at(response);
                fault.remedy("make more runs, or fit one model and look at it").into()
            })),
        }
    }
}
