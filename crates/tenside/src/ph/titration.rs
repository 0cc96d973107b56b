//! A trial titration as somebody typed it in: grams added to a sample, pH read.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::curve::interpolated;
use super::dissolved::Amounts;
use super::effect::Effect;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::material::Material;
use crate::number::{Exact, Interval, Mass, MassUnit, ToExact};
use crate::reading::Dilution;

/// What an electrode's reading may be off by unless it is stated, in hundredths (common practice, no source).
const USUAL_UNCERTAINTY: i64 = 5;
/// Into how many steps a calculated titration is parted.
const CALCULATED_STEPS: i64 = 40;

/// One point of a titration.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct TitrationPoint {
    /// All that has been added up to here.
    pub added: Mass,
    /// The pH then read.
    pub ph: Decimal,
}

/// A trial titration: to a sample of the product, dispersed at one dilution, so many grams of one raw material were
/// added, and the pH read.
///
/// Makers report doses from 0.15 to 5 % for the same target (common practice, no source): nothing is guessed without a
/// trial.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::ph::Titration;
/// let acid = Catalogue::starter().material("citric-acid-50")?.clone();
/// let points = [("0 g", "7.9"), ("0.2 g", "6.8"), ("0.4 g", "5.9"), ("0.6 g", "5.2"), ("0.8 g", "4.7")];
/// let points = points.map(|(grams, ph)| (grams.parse().unwrap(), ph));
/// let trial = Titration::new("100 g".parse()?, acid, "1+9".parse()?, points)?;
/// // Between two points only this is known: the dose lies between theirs.
/// assert_eq!(trial.grams_at(5.5)?.text(2), "0.51 (0.40 to 0.60)");
/// assert!(trial.grams_at(4.5).unwrap_err().is_out_of_range());   // no extrapolation
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Titration {
    sample: Mass,
    reagent: Arc<Material>,
    dilution: Dilution,
    points: Vec<TitrationPoint>,
    uncertainty: Decimal,
    pub(super) calculation: Option<Arc<Calculation>>,
}

/// What a titration was calculated from.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Calculation {
    pub(super) formula: Formula,
    pub(super) most: Mass,
    pub(super) temperature: f64,
}

getters!(Titration {
    /// The mass of product titrated.
    sample: &Mass,
    /// What was added.
    reagent: &Arc<Material>,
    /// How the sample was dispersed.
    dilution: Dilution,
    /// The points, in the order of adding.
    points: &[TitrationPoint],
    /// What a reading may be off by, in pH.
    uncertainty: Decimal,
});

impl Titration {
    /// A titration of a sample of that mass (of product, not of dispersion), dispersed at that dilution; the points in
    /// the order of adding, each with all that was added up to it.
    ///
    /// # Errors
    /// No sample, fewer than two points, grams that do not rise, a pH out of range, a pH that does not go one way
    /// throughout, an acid that raises it or an alkali that lowers it, and a raw material of which it is not known what
    /// it does: see [`Titration::with_effect`].
    pub fn new(
        sample: Mass,
        reagent: Arc<Material>,
        dilution: Dilution,
        points: impl IntoIterator<Item = (Mass, impl ToExact)>,
    ) -> Result<Self, Error> {
        let effect = Effect::of(&reagent)?;
        Titration::checked(sample, reagent, dilution, points, effect)
    }

    /// As [`Titration::new`], with a raw material of which the user knows what it does to the pH.
    ///
    /// # Errors
    /// What [`Titration::new`] refuses, and an effect that contradicts what is known of the raw material.
    pub fn with_effect(
        sample: Mass,
        reagent: Arc<Material>,
        dilution: Dilution,
        points: impl IntoIterator<Item = (Mass, impl ToExact)>,
        effect: Effect,
    ) -> Result<Self, Error> {
        if let Ok(Some(known)) = Effect::of(&reagent)
            && known != effect
        {
            let fault =
                Fault::new(FaultKind::Contradiction, format!("{} {known} the pH by what it holds", reagent.name()))
                    .at("effect")
                    .value(effect);
            return Err(fault.remedy("leave the effect out, or correct the composition of the raw material").into());
        }
        Titration::checked(sample, reagent, dilution, points, Some(effect))
    }

    /// `effect` is `None` if the raw material may do either, as a buffer does.
    fn checked(
        sample: Mass,
        reagent: Arc<Material>,
        dilution: Dilution,
        points: impl IntoIterator<Item = (Mass, impl ToExact)>,
        effect: Option<Effect>,
    ) -> Result<Self, Error> {
        if sample.grams().is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "the sample of a titration has no mass")
                .value("0 g")
                .allowed("above 0 g")
                .into());
        }
        let (mut read, mut faults) = (Vec::new(), Vec::new());
        for (index, (added, ph)) in points.into_iter().enumerate() {
            match Quantity::Ph.decimal(ph) {
                Ok(ph) => read.push(TitrationPoint { added, ph }),
                Err(error) => faults.extend(error.within(&format!("titration, point {}", index + 1)).into_faults()),
            }
        }
        Error::check(faults, ())?;
        let (points, mut faults) = (read, Vec::new());
        if points.len() < 2 {
            let fault = Fault::new(FaultKind::Missing, "a titration needs at least two points")
                .at("titration")
                .value(points.len());
            return Err(fault
                .allowed("2 or more")
                .remedy("add some more and read again: one reading says nothing of the next")
                .into());
        }
        let falling = effect.map_or(points[1].ph < points[0].ph, |effect| effect == Effect::Lowers);
        for (index, pair) in points.windows(2).enumerate() {
            let place = format!("titration, point {}", index + 2);
            if pair[1].added.grams() <= pair[0].added.grams() {
                let fault = Fault::new(FaultKind::Contradiction, "the grams added do not increase from point to point")
                    .at(&place);
                let fault = fault.value(format!("{} g after {} g", pair[1].added.grams(), pair[0].added.grams()));
                faults.push(fault.remedy("type in all that was added up to each reading, in order"));
            }
            if pair[1].ph == pair[0].ph || (pair[1].ph < pair[0].ph) != falling {
                let way = if falling { "falls" } else { "rises" };
                let fault = Fault::new(FaultKind::Contradiction, "the pH of a titration is not monotonic").at(&place);
                let why = effect.map_or_else(String::new, |effect| format!(", since {} {effect} it", reagent.name()));
                let fault = fault
                    .value(format!("{} after {}", pair[1].ph, pair[0].ph))
                    .allowed(format!("a pH that {way} from point to point{why}"));
                faults.push(fault.remedy(
                    "stir, wait and read again, leave out the points that were read too soon, or look whether this is \
                     what was added",
                ));
            }
        }
        Error::check(faults, ())?;
        Ok(Titration {
            sample,
            reagent,
            dilution,
            points,
            uncertainty: Decimal::new(USUAL_UNCERTAINTY, 2),
            calculation: None,
        })
    }

    /// With what a reading may be off by, in pH; 0.05 where nothing is said.
    ///
    /// # Errors
    /// A value out of range.
    pub fn with_uncertainty(mut self, ph: impl ToExact) -> Result<Self, Error> {
        self.uncertainty = Quantity::PhUncertainty.decimal(ph)?;
        Ok(self)
    }

    /// True if the points were calculated by the model and not read.
    #[must_use]
    pub fn is_calculated(&self) -> bool {
        self.calculation.is_some()
    }

    /// What was added did.
    #[must_use]
    pub fn effect(&self) -> Effect {
        if self.lowers() { Effect::Lowers } else { Effect::Raises }
    }

    /// What was typed in or calculated, wherever it comes from.
    pub(super) fn calculation_aside(&self) -> Titration {
        Titration { calculation: None, ..self.clone() }
    }

    /// True if what is added lowers the pH.
    #[must_use]
    pub fn lowers(&self) -> bool {
        self.points[1].ph < self.points[0].ph
    }

    /// The grams, for the sample, at which it has that pH: by monotone interpolation, between the last point that is
    /// surely before it and the first that is surely past it, given what a reading may be off by. An end that no point
    /// settles is not stated, and neither end is for a calculated titration, whose points are typical values.
    ///
    /// # Errors
    /// A pH beyond the ends of the titration.
    pub fn grams_at(&self, ph: impl ToExact) -> Result<Interval, Error> {
        let ph = Quantity::Ph.decimal(ph)?;
        let (first, last) = (&self.points[0], &self.points[self.points.len() - 1]);
        let (low, high) = if self.lowers() { (last.ph, first.ph) } else { (first.ph, last.ph) };
        if ph < low || ph > high {
            let fault = Fault::new(FaultKind::OutOfRange, "the titration does not reach that pH")
                .value(ph)
                .allowed(format!("{low} to {high}"));
            let starts_past_it = if self.lowers() { ph > first.ph } else { ph < first.ph };
            let remedy = if starts_past_it {
                "titrate a sample that starts there, with a reading before the first addition"
            } else {
                "go on with the titration past it"
            };
            return Err(fault.remedy(format!("{remedy}: nothing is extrapolated")).into());
        }
        let mut curve: Vec<(Exact, Exact)> =
            self.points.iter().map(|point| (Exact::from(point.ph), point.added.grams().clone())).collect();
        if self.lowers() {
            curve.reverse();
        }
        let typical = interpolated(&curve, &Exact::from(ph));
        if self.is_calculated() {
            return Ok(Interval { low: None, typical: Some(typical), high: None });
        }
        // How far a point is before the pH, in the direction of adding.
        let before = |point: &TitrationPoint| if self.lowers() { point.ph - ph } else { ph - point.ph };
        let surely_before = self.points.iter().rev().find(|point| before(point) >= self.uncertainty);
        let surely_past = self.points.iter().find(|point| -before(point) >= self.uncertainty);
        // Less than nothing cannot be added.
        let from_nothing = first.added.grams().is_zero().then_some(first);
        Ok(Interval {
            low: surely_before.or(from_nothing).map(|point| point.added.grams().clone()),
            typical: Some(typical),
            high: surely_past.map(|point| point.added.grams().clone()),
        })
    }

    /// What has to be added to the sample to bring it from one pH to another. Where it starts is certain if it is the
    /// titration's own start.
    ///
    /// # Errors
    /// A pH beyond the ends of the titration, and a target on the wrong side.
    pub(super) fn grams_between(&self, from: Decimal, to: Decimal) -> Result<Interval, Error> {
        if from != to && (to < from) != self.lowers() {
            let moves = if self.lowers() { "lowers" } else { "raises" };
            let fault = Fault::new(
                FaultKind::Contradiction,
                format!("{} {moves} the pH, and the target lies on the other side", self.reagent.name()),
            );
            return Err(fault
                .value(format!("from pH {from} to {to}"))
                .remedy("titrate with what moves it the other way")
                .into());
        }
        let first = &self.points[0];
        let start = if from == first.ph && first.added.grams().is_zero() {
            Interval::point(Exact::ZERO)
        } else {
            self.grams_at(from)?
        };
        let end = self.grams_at(to)?;
        let positive = |value: Exact| if value.is_negative() { Exact::ZERO } else { value };
        Ok(Interval {
            low: end.low.zip(start.high).map(|(end, start)| positive(end - start)),
            typical: end.typical.zip(start.typical).map(|(end, start)| end - start),
            high: end.high.zip(start.low).map(|(end, start)| end - start),
        })
    }
}

impl Formula {
    /// A titration of a hundred grams of it, calculated by the model in forty steps up to `most` of a raw material: for
    /// solutions without surfactant and fatty acid only.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::Ppm;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let rinse = Formula::new("Rinse", vec![line("citric-acid-50", "1")?, line("water", "99")?])?;
    /// let alkali = catalogue.material("sodium-hydroxide-10")?.clone();
    /// let calculated = rinse.calculated_titration(alkali, &"3 g".parse()?, &"1+0".parse()?, 25.0)?;
    /// assert_eq!(calculated.grams_at("5")?.text(2), "1.95 (typical only)");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Nothing added, whatever [`Formula::solution`] refuses, with and without the raw material, and one that does not
    /// move the pH one way.
    pub fn calculated_titration(
        &self,
        reagent: Arc<Material>,
        most: &Mass,
        dilution: &Dilution,
        temperature: f64,
    ) -> Result<Titration, Error> {
        if most.grams().is_zero() {
            let fault =
                Fault::new(FaultKind::OutOfRange, "a titration in which nothing is added").at("most").value(most);
            return Err(fault.allowed("above 0 g").remedy("state how much of the raw material may be added").into());
        }
        let product = Amounts::of(self)?;
        let water = 100.0 * dilution.water_per_product().to_f64();
        let mut points = Vec::new();
        for step in 0..=CALCULATED_STEPS {
            let added = most.grams() * Exact::ratio(step, CALCULATED_STEPS);
            let ph = product.clone().with(&reagent, &added)?.solution(water, temperature)?.ph()?;
            let ph = crate::number::parse_decimal(&format!("{ph:.9}"))
                .ok_or_else(|| Fault::new(FaultKind::NotANumber, "not a pH").value(ph))?;
            points.push((Mass::new(&added, MassUnit::Gram)?, ph));
        }
        let hundred = Mass::new(Exact::hundred(), MassUnit::Gram)?;
        let calculation = Calculation { formula: self.clone(), most: most.clone(), temperature };
        Ok(Titration {
            calculation: Some(Arc::new(calculation)),
            uncertainty: Decimal::ZERO,
            ..Titration::new(hundred, reagent, *dilution, points)?
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    fn trial(points: &[(&str, &str)]) -> Result<Titration, Error> {
        let acid = Catalogue::starter().material("citric-acid-50").unwrap().clone();
        let points = points.iter().map(|(grams, ph)| (format!("{grams} g").parse().unwrap(), ph));
        Titration::new("100 g".parse().unwrap(), acid, "1+9".parse().unwrap(), points)
    }

    #[test]
    fn what_is_no_titration_is_refused() {
        assert!(trial(&[]).unwrap_err().is_missing());
        assert!(trial(&[("0", "7.9")]).unwrap_err().is_missing());
        let error = trial(&[("0", "7.9"), ("0.2", "6.8"), ("0.4", "6.9"), ("0.6", "6.9")]).unwrap_err();
        assert_eq!(error.faults().len(), 2);
        assert!(
            error.is_contradiction() && error.to_string().contains("point 3") && error.to_string().contains("falls"),
            "{error}"
        );
        assert!(trial(&[("0.2", "7.9"), ("0.2", "6.8")]).unwrap_err().is_contradiction());
        assert!(trial(&[("0.4", "7.9"), ("0.2", "6.8")]).unwrap_err().is_contradiction());
        assert!(trial(&[("0", "7"), ("0.2", "17")]).unwrap_err().is_out_of_range());
    }

    #[test]
    fn a_reading_near_a_point_widens_the_interval() {
        let trial = trial(&[("0", "8"), ("1", "7"), ("2", "6"), ("3", "5")]).unwrap();
        let at = |ph: &str| trial.grams_at(ph).unwrap().text(1);
        assert_eq!(at("6.5"), "1.5 (1.0 to 2.0)");
        // 6.98 is within 0.05 of the point at pH 7, which may lie on either side of it.
        assert_eq!(at("6.98"), "1.0 (0.0 to 2.0)");
        assert_eq!(at("5.02"), "3.0 (from 2.0, upper end not stated)");
        assert_eq!(at("8"), "0.0 (0.0 to 1.0)");
        let sharp = trial.clone().with_uncertainty(Decimal::ZERO).unwrap();
        assert_eq!(sharp.grams_at("7").unwrap().text(1), "1.0");
    }

    #[test]
    fn between_two_readings() {
        let trial = trial(&[("0", "8"), ("1", "7"), ("2", "6"), ("3", "5")]).unwrap();
        let between = |from: &str, to: &str| trial.grams_between(from.parse().unwrap(), to.parse().unwrap());
        assert_eq!(between("8", "5.5").unwrap().text(1), "2.5 (2.0 to 3.0)");
        assert_eq!(between("7.5", "5.5").unwrap().text(1), "2.0 (1.0 to 3.0)");
        assert_eq!(between("6.6", "6.4").unwrap().text(1), "0.2 (0.0 to 1.0)");
        assert!(between("6", "7").unwrap_err().is_contradiction());
        assert!(between("8.1", "6").unwrap_err().is_out_of_range());
        assert!(between("8", "4.9").unwrap_err().is_out_of_range());
    }
}
