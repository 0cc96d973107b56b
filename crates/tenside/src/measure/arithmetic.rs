//! Measures as a vector space: added, taken away, multiplied by numbers.

use std::ops::{Add, Mul, Neg, Sub};

use super::{Measure, Term};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

impl Measure {
    /// The sum of measures: of raw materials in several forms, of several classes.
    ///
    /// ```
    /// use tenside::material::Form;
    /// use tenside::measure::Measure;
    /// let wet = Measure::sum([Form::Liquid, Form::Paste].map(Measure::form))?;
    /// assert_eq!(wet.name(), "raw materials in form liquid + raw materials in form paste");
    /// assert!(Measure::sum([Measure::water(), Measure::cost()]).is_err());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// No measure, and what adding two of them refuses.
    pub fn sum(measures: impl IntoIterator<Item = Measure>) -> Result<Self, Error> {
        let mut measures = measures.into_iter();
        let Some(first) = measures.next() else {
            return Err(Fault::new(FaultKind::Missing, "a sum of no measures").remedy("give one or more").into());
        };
        measures.try_fold(first, |sum, measure| sum + measure)
    }

    fn joined(&self, other: &Measure, sign: &Exact) -> Result<Self, Error> {
        let refuse = |message: &str| {
            Fault::new(FaultKind::Contradiction, message).value(format!("{} and {}", self.name(), other.name()))
        };
        if self.denominator != other.denominator {
            let fault = refuse("measures over different denominators have no sum");
            return Err(fault
                .remedy("add the numerators first, then take them per one denominator or within one scope")
                .into());
        }
        if self.numerator[0].content.weight_unit(None) != other.numerator[0].content.weight_unit(None) {
            let (left, right) = (self.unit(None), other.unit(None));
            return Err(refuse("measures in different units have no sum")
                .allowed(format!("one unit; these are in {left} and {right}"))
                .into());
        }
        let mut terms = self.numerator.to_vec();
        for term in other.numerator.iter() {
            let factor = sign * &term.factor;
            match terms.iter_mut().find(|known| known.content == term.content && known.scope == term.scope) {
                Some(known) => known.factor += factor,
                None => terms.push(Term { factor, ..term.clone() }),
            }
        }
        terms.retain(|term| !term.factor.is_zero());
        if terms.is_empty() {
            return Err(refuse("the measures take each other away and nothing is left to measure").into());
        }
        Ok(Measure { numerator: terms.into(), denominator: self.denominator.clone() })
    }
}

impl Add for Measure {
    type Output = Result<Measure, Error>;

    /// The sum of two measures over one denominator, in one unit.
    fn add(self, other: Measure) -> Result<Measure, Error> {
        self.joined(&other, &Exact::ONE)
    }
}

impl Sub for Measure {
    type Output = Result<Measure, Error>;

    /// The difference of two measures over one denominator, in one unit.
    fn sub(self, other: Measure) -> Result<Measure, Error> {
        self.joined(&other, &-Exact::ONE)
    }
}

impl Mul<Exact> for Measure {
    type Output = Result<Measure, Error>;

    /// The measure so many times; 0 times is refused, since nothing would be measured.
    fn mul(self, factor: Exact) -> Result<Measure, Error> {
        if factor.is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "a measure taken 0 times measures nothing")
                .value(self.name())
                .allowed("any number but 0")
                .into());
        }
        let times = |term: &Term| Term { factor: &term.factor * &factor, ..term.clone() };
        Ok(Measure { numerator: self.numerator.iter().map(times).collect(), denominator: self.denominator })
    }
}

impl Neg for Measure {
    type Output = Measure;

    fn neg(self) -> Measure {
        let turned = |term: &Term| Term { factor: -&term.factor, ..term.clone() };
        Measure { numerator: self.numerator.iter().map(turned).collect(), denominator: self.denominator }
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::catalogue::Catalogue;
    use crate::formula::{Formula, Line};
    use crate::material::Form;
    use crate::measure::{Basis, Scope};
    use crate::number::{Interval, Ppm};

    const MATERIALS: [&str; 6] = ["sci-powder", "capb-30", "glycerin-99-5", "kaolin", "lavender-oil", "water"];

    fn value(parts: &[u32], measure: &Measure, basis: &Basis) -> Interval {
        let catalogue = Catalogue::starter();
        let whole: u32 = 1_000_000 - parts.iter().sum::<u32>();
        let lines = MATERIALS.iter().zip(parts.iter().copied().chain([whole])).map(|(id, share)| {
            Line::new(id, catalogue.material(id).unwrap().clone(), Ppm::from_parts(share).unwrap()).unwrap()
        });
        Formula::new("Drawn", lines.collect()).unwrap().measure(measure, basis).unwrap().value.unwrap()
    }

    proptest! {
        /// The value of a sum is the sum of the values, for typical compositions; its interval lies within that of the
        /// values taken apart, since they are reached for different compositions.
        #[test]
        fn reading_is_linear(
            parts in prop::collection::vec(0u32..150_000, MATERIALS.len() - 1),
            which in (0usize..5, 0usize..5),
            factors in (-40i64..40, -40i64..40),
            dry in any::<bool>(),
        ) {
            prop_assume!(which.0 != which.1 && factors.0 != 0 && factors.1 != 0);
            let form = Measure::form(Form::Powder);
            let measures = [Measure::active_matter(), Measure::water(), Measure::solids(), Measure::unspecified(), form];
            let (left, right) = (&measures[which.0], &measures[which.1]);
            let basis = if dry { Basis::finished(Exact::ONE).unwrap() } else { Basis::AsCharged };
            let (first, second) = (Exact::ratio(factors.0, 7), Exact::ratio(factors.1, 7));
            let sum = ((left.clone() * first.clone()).unwrap() + (right.clone() * second.clone()).unwrap()).unwrap();
            let found = value(&parts, &sum, &basis);
            let (left, right) = (value(&parts, left, &basis), value(&parts, right, &basis));
            let apart = |first_end: &Option<Exact>, second_end: &Option<Exact>| {
                Some(&first * first_end.as_ref()? + &second * second_end.as_ref()?)
            };
            prop_assert_eq!(&found.typical, &apart(&left.typical, &right.typical));
            // A factor below 0 makes the low end of the high one.
            let end = |interval: &Interval, factor: &Exact, low: bool| {
                if low != factor.is_negative() { interval.low.clone() } else { interval.high.clone() }
            };
            let [low, high] = [true, false].map(|low| apart(&end(&left, &first, low), &end(&right, &second, low)));
            prop_assert!(low.is_none_or(|low| found.low.as_ref().is_none_or(|found| *found >= low)));
            prop_assert!(high.is_none_or(|high| found.high.as_ref().is_none_or(|found| *found <= high)));
        }
    }

    #[test]
    fn sums_are_told_in_words_that_can_be_read_back() {
        let form = Measure::form;
        let sum = (form(Form::Liquid) + form(Form::Oil)).unwrap();
        assert_eq!(sum.name(), "raw materials in form liquid + raw materials in form oil");
        assert_eq!(
            (sum.clone() * Exact::ratio(1, 2)).unwrap().name(),
            "0.5 x raw materials in form liquid + 0.5 x raw materials in form oil"
        );
        let ratio = sum.clone().per(&form(Form::Powder));
        assert_eq!(
            ratio.name(),
            "(raw materials in form liquid + raw materials in form oil) per raw materials in form powder"
        );
        let scope = Scope::phase("melted").unwrap();
        assert_eq!(
            sum.within(scope.clone()).name(),
            "(raw materials in form liquid + raw materials in form oil) within phase melted"
        );
        let mixed = (Measure::water() - Measure::water().contributed_by(scope)).unwrap();
        assert_eq!(mixed.name(), "water - water from phase melted");
        assert_eq!((-Measure::water()).name(), "-water");
    }

    #[test]
    fn what_has_no_sum_is_refused_with_the_reason() {
        let refused = |left: Measure, right: Measure, says: &str| {
            let message = (left + right).unwrap_err().to_string();
            assert!(message.contains(says), "{message}");
        };
        refused(Measure::water(), Measure::cost(), "different units");
        refused(Measure::water(), Measure::water().per(&Measure::solids()), "different denominators");
        refused(Measure::water(), Measure::solids().within(Scope::phase("melted").unwrap()), "different denominators");
        refused(Measure::water(), -Measure::water(), "nothing is left");
        assert!((Measure::water() * Exact::ZERO).unwrap_err().is_out_of_range());
        assert!(Measure::sum([]).unwrap_err().is_missing());
        // Like terms are one.
        assert_eq!((Measure::water() + Measure::water()).unwrap(), (Measure::water() * Exact::from(2)).unwrap());
    }
}
