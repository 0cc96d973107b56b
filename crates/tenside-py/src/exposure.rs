//! Exposure to a substance.

use pyo3::prelude::*;
use tenside::error::{Fault, FaultKind};
use tenside::exposure::ExposureRequest;

use crate::again::{Again, Given, Reduced};
use crate::basis::Basis;
use crate::failure::Outcome;
use crate::formula::Formula;
use crate::input::Number;
use crate::interval::Interval;
use crate::output::{Fraction, Page, WIDTH};

record! {
    /// A product type of the SCCS Notes of Guidance, its columns as printed.
    ProductType {
        /// Its stable name.
        slug: String,
        /// Its name in the guidance.
        name: String,
        /// Grams a day.
        amount: Fraction,
        /// Milligrams a day and kg of body weight, where the table gives it.
        amount_per_body_weight: Option<Fraction>,
        /// The share that is taken to stay, 0 to 1.
        retention: Fraction,
        /// Grams a day that stay.
        exposure: Fraction,
        /// Milligrams a day and kg of body weight that stay.
        exposure_per_body_weight: Fraction,
        /// How sure the row is.
        mark: String,
    }
}

/// The systemic exposure to one substance and the margin to a dose without adverse effect; a qualified safety assessor decides.
///
/// >>> bar = td.Formula("Bar", {"kaolin": 99, "panthenol": 1}, td.Catalogue.starter())
/// >>> exposure = bar.exposure("PANTHENOL", product="shampoo", systemic_dose=100)
/// >>> float(round(exposure.dose.typical, 5)), float(exposure.usual_margin)
/// (0.0075, 100.0)
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone)]
pub(crate) struct Exposure(pub(crate) tenside::exposure::Exposure, pub(crate) Again);

impl PartialEq for Exposure {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

value!(Exposure, |it| it.substance());

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
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        self.1.reduced(py)
    }

    fn _repr_html_(&self) -> String {
        self.0.page().html()
    }

    fn __str__(&self) -> String {
        self.0.page().text(WIDTH)
    }

    fn __repr__(&self) -> String {
        format!("<Exposure to {:?}>", self.0.substance())
    }
}

/// What `Formula.exposure` was given.
pub(crate) struct Asked<'a> {
    pub(crate) product: Option<&'a str>,
    pub(crate) amount: Option<Number>,
    pub(crate) retained_percent: Option<Number>,
    pub(crate) absorption: Option<Number>,
    pub(crate) oral_dose: Option<Number>,
    pub(crate) oral_absorption: Option<Number>,
    pub(crate) systemic_dose: Option<Number>,
    pub(crate) body_weight: Option<Number>,
}

impl Asked<'_> {
    /// The call that asks the same of the formula again.
    pub(crate) fn again(&self, formula: &Formula, substance: &str, basis: Option<&Basis>) -> Again {
        let number = |number: &Option<Number>| number.as_ref().map(|number| number.0.clone().into());
        Again::new(formula, "exposure")
            .argument(Given::Text(substance.to_string()))
            .keyword("product", self.product.map(|product| Given::Text(product.to_string())))
            .keyword("amount", number(&self.amount))
            .keyword("retained_percent", number(&self.retained_percent))
            .keyword("absorption", number(&self.absorption))
            .keyword("oral_dose", number(&self.oral_dose))
            .keyword("oral_absorption", number(&self.oral_absorption))
            .keyword("systemic_dose", number(&self.systemic_dose))
            .keyword("body_weight", number(&self.body_weight))
            .keyword("basis", basis.cloned().map(Given::Basis))
    }

    pub(crate) fn request(self) -> Outcome<ExposureRequest> {
        let mut request = match (self.product, self.amount, self.retained_percent) {
            (Some(product), None, None) => ExposureRequest::of_product(product)?,
            (None, Some(amount), Some(percent)) => ExposureRequest::of_amount(amount.0, percent.0)?,
            _ => {
                let fault = Fault::new(FaultKind::Missing, "how the product is used is not said, or said twice");
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
                let fault = Fault::new(FaultKind::Contradiction, "the dose to compare with is not said, or said twice");
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
/// >>> [float(row.exposure_per_body_weight) for row in td.product_types() if row.slug == "shampoo"]
/// [1.51]
#[pyfunction]
pub(crate) fn product_types() -> Vec<ProductType> {
    let row = |row: &tenside::exposure::ProductType| ProductType {
        slug: row.slug().to_string(),
        name: row.name().to_string(),
        amount: Fraction(row.amount().clone()),
        amount_per_body_weight: row.amount_per_body_weight().cloned().map(Fraction),
        retention: Fraction(row.retention().clone()),
        exposure: Fraction(row.exposure().clone()),
        exposure_per_body_weight: Fraction(row.exposure_per_body_weight().clone()),
        mark: row.mark().to_string(),
    };
    tenside::exposure::ProductType::all().iter().map(row).collect()
}
