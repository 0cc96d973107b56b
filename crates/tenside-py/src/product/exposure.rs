//! Exposure to a substance.

use pyo3::prelude::*;
use tenside::error::{Fault, FaultKind};
use tenside::exposure::ExposureRequest;

use crate::convert::failure::Outcome;
use crate::convert::input::Number;
use crate::convert::interval::Interval;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::measure::basis::Basis;

record! {
    "tenside.exposure",
    /// A product type of the SCCS Notes of Guidance, its columns as printed.
    ProductType of &tenside::exposure::ProductType, |row| {
        /// Its stable name.
        slug: String = row.slug().to_string(),
        /// Its name in the guidance.
        name: String = row.name().to_string(),
        /// Grams a day.
        amount: Fraction = Fraction(row.amount().clone()),
        /// Milligrams a day and kg of body weight, where the table gives it.
        amount_per_body_weight: Option<Fraction> = row.amount_per_body_weight().cloned().map(Fraction),
        /// The share that is taken to stay, 0 to 1.
        retention: Fraction = Fraction(row.retention().clone()),
        /// Grams a day that stay.
        exposure: Fraction = Fraction(row.exposure().clone()),
        /// Milligrams a day and kg of body weight that stay.
        exposure_per_body_weight: Fraction = Fraction(row.exposure_per_body_weight().clone()),
        /// How sure the row is.
        mark: String = row.mark().to_string(),
    }
}

/// The systemic exposure to one substance and the margin to a dose without adverse effect; a qualified safety assessor
/// decides.
///
/// >>> bar = td.Formula("Bar", {"kaolin": 99, "panthenol": 1}, td.Catalogue.starter())
/// >>> exposure = bar.exposure("PANTHENOL", product="shampoo", systemic_dose=100)
/// >>> float(round(exposure.dose.typical, 5)), float(exposure.usual_margin)
/// (0.0075, 100.0)
#[pyclass(frozen, eq, module = "tenside.exposure")]
#[derive(Clone, PartialEq)]
pub(crate) struct Exposure(pub(crate) tenside::exposure::Exposure);

shown!(Exposure, |it| it.0.page());
value!(Exposure, |it| it.substance());

document!(Exposure, |it| &it.0, back by tenside::exposure::Exposure);

getters!(Exposure {
    /// The substance asked for.
    substance: String = |it| it.substance().to_string();
    /// Its share of the product, percent.
    percent: Interval = |it| Interval(it.percent().clone());
    /// The product that stays, mg a day and kg of body weight.
    product_exposure: Fraction = |it| Fraction(it.product_exposure());
    /// What the skin is taken to let through, percent.
    absorption: Fraction = |it| Fraction(it.absorption().clone());
    /// The systemic exposure dose, mg a day and kg of body weight.
    dose: Interval = |it| Interval(it.dose().clone());
    /// The systemic dose without adverse effect that was stated.
    reference_dose: Option<Fraction> = |it| it.reference_dose().map(Fraction);
    /// The margin of safety, where a dose to compare with was stated; its low end is what counts.
    margin: Option<Interval> = |it| it.margin().cloned().map(Interval);
    /// The margin that the guidance usually compares with.
    usual_margin: Fraction = |it| Fraction(it.usual_margin().clone());
    /// What to know about these numbers.
    notes: Vec<String> = |it| it.notes();
    /// The numbers with what they rest on.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Exposure {
    fn __repr__(&self) -> String {
        format!("<Exposure to {:?}>", self.0.substance())
    }
}

/// What `Formula.exposure` was given.
struct ExposureKeywords<'a> {
    product: Option<&'a str>,
    amount: Option<Number>,
    retained_percent: Option<Number>,
    absorption: Option<Number>,
    oral_dose: Option<Number>,
    oral_absorption: Option<Number>,
    systemic_dose: Option<Number>,
    body_weight: Option<Number>,
}

impl ExposureKeywords<'_> {
    fn request(self) -> Outcome<ExposureRequest> {
        let mut request = match (self.product, self.amount, self.retained_percent) {
            (Some(product), None, None) => ExposureRequest::of_product(product)?,
            (None, Some(amount), Some(percent)) => ExposureRequest::of_amount(amount.0, percent.0)?,
            _ => {
                let fault = Fault::new(FaultKind::Missing, "how the product is used must be stated exactly once");
                return Err(fault.allowed("product=, or amount= in g a day and retained_percent=").into());
            }
        };
        if let Some(percent) = self.absorption {
            request = request.with_absorption(percent.0)?;
        }
        request = match (self.oral_dose, self.oral_absorption, self.systemic_dose) {
            (None, None, None) => request,
            (Some(dose), None, None) => request.with_oral_dose(dose.0)?,
            (Some(dose), Some(percent), None) => request.with_oral_dose_absorbed(dose.0, percent.0)?,
            (None, None, Some(dose)) => request.with_systemic_dose(dose.0)?,
            _ => {
                let fault =
                    Fault::new(FaultKind::Contradiction, "the dose to compare with must be stated at most once");
                return Err(fault.allowed("oral_dose= with or without oral_absorption=, or systemic_dose=").into());
            }
        };
        Ok(match self.body_weight {
            Some(kilograms) => request.with_body_weight(kilograms.0)?,
            None => request,
        })
    }
}

/// The product types of the SCCS Notes of Guidance that are carried, as printed.
///
/// >>> [float(row.exposure_per_body_weight) for row in td.exposure.product_types() if row.slug == "shampoo"]
/// [1.51]
#[pyfunction]
pub(crate) fn product_types() -> Rows<ProductType> {
    tenside::exposure::ProductType::all().iter().map(ProductType::from).collect()
}

#[pymethods]
impl Formula {
    /// The systemic exposure to a substance, as an ingredient and contained in others: of a `product` type of the SCCS
    /// Notes of Guidance, or of an `amount` in g a day of which `retained_percent` stays. The dose without adverse
    /// effect is `oral_dose` or `systemic_dose`, in mg a day and kg of body weight; absorptions are percent, the
    /// guidance's defaults where none is given. `oral_absorption` is percent absorbed from the gut, `body_weight` kg
    /// for an `amount`, `basis` what the substance is counted on.
    ///
    /// >>> bar = td.Formula("Bar", {"kaolin": 99, "panthenol": 1}, td.Catalogue.starter())
    /// >>> bar.exposure("PANTHENOL", product="shampoo", absorption=10).margin is None
    /// True
    #[pyo3(signature = (substance, *, product=None, amount=None, retained_percent=None, absorption=None, oral_dose=None, oral_absorption=None, systemic_dose=None, body_weight=None, basis=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn exposure(
        &self,
        py: Python<'_>,
        substance: &str,
        product: Option<&str>,
        amount: Option<Number>,
        retained_percent: Option<Number>,
        absorption: Option<Number>,
        oral_dose: Option<Number>,
        oral_absorption: Option<Number>,
        systemic_dose: Option<Number>,
        body_weight: Option<Number>,
        basis: Option<Basis>,
    ) -> Outcome<Exposure> {
        let keywords = ExposureKeywords {
            product,
            amount,
            retained_percent,
            absorption,
            oral_dose,
            oral_absorption,
            systemic_dose,
            body_weight,
        };
        let request = keywords.request()?;
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        Ok(Exposure(py.detach(|| self.0.exposure(substance, &request, &basis))?))
    }
}
