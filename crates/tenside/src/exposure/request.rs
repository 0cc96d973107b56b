//! What an exposure is calculated from.

use super::ProductType;
use super::table::guidance;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, ToExact};

/// How much of the product stays on a person, mg a day and kg of body weight.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Use {
    /// A row of the guidance.
    Row(&'static ProductType),
    /// Grams a day and what of it stays, percent.
    Stated { amount: Exact, retained_percent: Exact },
}

/// The route of a dose without adverse effect.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Dose {
    /// Taken in by mouth; how much is absorbed, percent, where the user knows.
    Oral { dose: Exact, absorption: Option<Exact> },
    /// A dose inside the body already.
    Systemic(Exact),
}

/// How the product is used and what the user knows of the substance. Values are immutable; a change gives a new one.
///
/// ```
/// use tenside::exposure::ExposureRequest;
/// let asked = ExposureRequest::of_product("shampoo")?.with_oral_dose("150")?.with_absorption("10")?;
/// assert!(ExposureRequest::of_product("solid-shampoo").is_err());
/// assert!(asked.with_absorption("101").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct ExposureRequest {
    pub(super) product: Use,
    pub(super) absorption: Option<Exact>,
    pub(super) dose: Option<Dose>,
    pub(super) body_weight: Option<Exact>,
}

impl ExposureRequest {
    /// Used as a product type of the guidance.
    ///
    /// # Errors
    /// A type that has no row; solid products are told how to choose.
    pub fn of_product(slug: &str) -> Result<Self, Error> {
        Ok(ExposureRequest::new(Use::Row(ProductType::find(slug)?)))
    }

    /// Used so many grams a day, of which so many percent stay: for products without a row. The retention factor of
    /// guidance is a hundredth of that.
    ///
    /// # Errors
    /// Amounts and percentages outside their ranges.
    pub fn of_amount(amount: impl ToExact, retained_percent: impl ToExact) -> Result<Self, Error> {
        let (amount, retained_percent) = (amount.to_exact()?, retained_percent.to_exact()?);
        Quantity::DailyAmount.check(&amount)?;
        Quantity::Percent.check(&retained_percent).map_err(|error| error.within("retained percent"))?;
        Ok(ExposureRequest::new(Use::Stated { amount, retained_percent }))
    }

    fn new(product: Use) -> Self {
        ExposureRequest { product, absorption: None, dose: None, body_weight: None }
    }

    /// With the share absorbed through the skin, percent; else the guidance's default.
    ///
    /// # Errors
    /// A percentage outside 0 to 100.
    pub fn with_absorption(mut self, percent: impl ToExact) -> Result<Self, Error> {
        let percent = percent.to_exact()?;
        Quantity::Percent.check(&percent).map_err(|error| error.within("dermal absorption"))?;
        self.absorption = Some(percent);
        Ok(self)
    }

    /// With the highest oral dose without adverse effect (NOAEL), mg a day and kg of body weight; how much of it is
    /// absorbed is the guidance's default.
    ///
    /// # Errors
    /// A dose outside its range.
    pub fn with_oral_dose(self, dose: impl ToExact) -> Result<Self, Error> {
        self.with_dose(Dose::Oral { dose: dose.to_exact()?, absorption: None })
    }

    /// As [`ExposureRequest::with_oral_dose`], with the share absorbed from the gut, percent.
    ///
    /// # Errors
    /// A dose or percentage outside its range.
    pub fn with_oral_dose_absorbed(self, dose: impl ToExact, percent: impl ToExact) -> Result<Self, Error> {
        let (dose, percent) = (dose.to_exact()?, percent.to_exact()?);
        Quantity::Percent.check(&percent).map_err(|error| error.within("oral absorption"))?;
        self.with_dose(Dose::Oral { dose, absorption: Some(percent) })
    }

    /// With a systemic point of departure, mg a day and kg of body weight.
    ///
    /// # Errors
    /// A dose outside its range.
    pub fn with_systemic_dose(self, dose: impl ToExact) -> Result<Self, Error> {
        self.with_dose(Dose::Systemic(dose.to_exact()?))
    }

    fn with_dose(mut self, dose: Dose) -> Result<Self, Error> {
        let (Dose::Oral { dose: value, .. } | Dose::Systemic(value)) = &dose;
        Quantity::Dose.check(value)?;
        self.dose = Some(dose);
        Ok(self)
    }

    /// With a body weight in kg for amounts that the user states; rows of the guidance have theirs printed.
    ///
    /// # Errors
    /// A weight outside its range, and a weight with a row.
    pub fn with_body_weight(mut self, kilograms: impl ToExact) -> Result<Self, Error> {
        let kilograms = Quantity::BodyWeight.exact(kilograms)?;
        if let Use::Row(row) = &self.product {
            return Err(Fault::new(
                FaultKind::Contradiction,
                "a row of the guidance has its exposure per body weight printed",
            )
            .value(row.slug())
            .remedy("state the grams used a day and the share retained to calculate with another body weight")
            .into());
        }
        self.body_weight = Some(kilograms);
        Ok(self)
    }

    /// mg of product a day and kg of body weight that stay.
    pub(super) fn product_exposure(&self) -> Exact {
        match &self.product {
            Use::Row(row) => row.exposure_per_body_weight().clone(),
            Use::Stated { amount, retained_percent } => {
                amount * retained_percent * Exact::from(10) / self.used_body_weight()
            }
        }
    }

    pub(super) fn used_body_weight(&self) -> &Exact {
        self.body_weight.as_ref().unwrap_or(&guidance().body_weight)
    }

    pub(super) fn used_absorption(&self) -> &Exact {
        self.absorption.as_ref().unwrap_or(&guidance().dermal_absorption)
    }

    /// The systemic dose that exposure is compared with.
    pub(super) fn systemic_dose(&self) -> Option<Exact> {
        self.dose.as_ref().map(|dose| match dose {
            Dose::Oral { dose, absorption } => {
                dose * absorption.as_ref().unwrap_or(&guidance().oral_absorption) / Exact::hundred()
            }
            Dose::Systemic(dose) => dose.clone(),
        })
    }
}
