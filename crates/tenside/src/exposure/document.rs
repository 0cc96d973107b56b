//! Exposures as documents, and back.

use super::request::{Dose, Use};
use super::{Exposure, ExposureRequest};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::{IntervalDocument, Notation, Number, TableView, form, restore};
use crate::error::Error;
use crate::formula::{FormulaDocument, read_formula};
use crate::measure::{BasisDocument, read_basis};

form! {
    /// How the product is used and what is known of the substance.
    ExposureRequestDocument of ExposureRequest, |it| {
        /// The product type of the guidance.
        #[serde(skip_serializing_if = "Option::is_none")]
        product: Option<String> = if let Use::Row(row) = &it.product { Some(row.slug().to_string()) } else { None },
        /// Grams used a day, where no product type fits.
        #[serde(skip_serializing_if = "Option::is_none")]
        amount: Option<Number> = if let Use::Stated { amount, .. } = &it.product { Some(amount.into()) } else { None },
        /// What of that stays, percent.
        #[serde(skip_serializing_if = "Option::is_none")]
        retained: Option<Number> = if let Use::Stated { retained_percent, .. } = &it.product { Some(retained_percent.into()) } else { None },
        /// The share absorbed through the skin, percent.
        #[serde(skip_serializing_if = "Option::is_none")]
        absorption: Option<Number> = it.absorption.as_ref().map(Number::from),
        /// The highest oral dose without adverse effect, mg a day and kg of body weight.
        #[serde(skip_serializing_if = "Option::is_none")]
        oral_dose: Option<Number> = if let Some(Dose::Oral { dose, .. }) = &it.dose { Some(dose.into()) } else { None },
        /// The share of it absorbed from the gut, percent.
        #[serde(skip_serializing_if = "Option::is_none")]
        oral_absorption: Option<Number> =
            if let Some(Dose::Oral { absorption: Some(share), .. }) = &it.dose { Some(share.into()) } else { None },
        /// A systemic point of departure, mg a day and kg of body weight.
        #[serde(skip_serializing_if = "Option::is_none")]
        systemic_dose: Option<Number> = if let Some(Dose::Systemic(dose)) = &it.dose { Some(dose.into()) } else { None },
        /// Body weight, kg.
        #[serde(skip_serializing_if = "Option::is_none")]
        body_weight: Option<Number> = it.body_weight.as_ref().map(Number::from),
    }
}

fn read_request(view: &TableView<'_>) -> Option<ExposureRequest> {
    let product = view.text("product");
    let (amount, retained) = (view.exact("amount", None), view.exact("retained", Some(Quantity::Percent)));
    let absorption = view.exact("absorption", Some(Quantity::Percent));
    let (oral, absorbed, systemic) =
        (view.exact("oral_dose", None), view.exact("oral_absorption", None), view.exact("systemic_dose", None));
    let weight = view.exact("body_weight", None);
    let mut request = match (product, amount, retained) {
        (Some(product), None, None) => view.accept("product", ExposureRequest::of_product(product))?,
        (None, Some(amount), Some(retained)) => view.accept("amount", ExposureRequest::of_amount(amount, retained))?,
        _ => {
            let fault = crate::error::Fault::new(
                crate::error::FaultKind::Missing,
                "how the product is used must be stated exactly once",
            );
            view.fault("", fault.allowed("product, or amount with retained"));
            return None;
        }
    };
    if let Some(absorption) = absorption {
        request = view.accept("absorption", request.with_absorption(absorption))?;
    }
    if let Some(oral) = oral {
        let with_dose = match absorbed {
            Some(absorbed) => request.with_oral_dose_absorbed(oral, absorbed),
            None => request.with_oral_dose(oral),
        };
        request = view.accept("oral_dose", with_dose)?;
    }
    if let Some(systemic) = systemic {
        request = view.accept("systemic_dose", request.with_systemic_dose(systemic))?;
    }
    match weight {
        Some(weight) => view.accept("body_weight", request.with_body_weight(weight)),
        None => Some(request),
    }
}

form! {
    /// The exposure to one substance of a formula. A qualified safety assessor decides.
    ExposureDocument of Exposure as "exposure/1", |it, materials| {
        /// The formula.
        formula: FormulaDocument = FormulaDocument::of(&it.formula, materials),
        /// The substance.
        substance: String,
        /// How the product is used and what is known of the substance.
        request: ExposureRequestDocument = (&it.request).into(),
        /// The basis of the product as used.
        basis: BasisDocument = (&it.basis).into(),
        /// Whether the formula rests on values of the starter catalogue.
        is_draft: bool = it.rests_on_starter,
        /// Its share of the product, percent.
        percent: IntervalDocument,
        /// The product that stays, mg a day and kg of body weight.
        product_exposure: Number,
        /// What the skin is taken to let through, percent.
        absorption: Number,
        /// The systemic exposure dose, mg a day and kg of body weight.
        dose: IntervalDocument,
        /// The systemic dose without adverse effect that was stated, mg a day and kg of body weight.
        reference_dose: Option<Number> = it.reference_dose().map(Number::from),
        /// The margin of safety; its low end is what counts.
        margin: Option<IntervalDocument> = it.margin().map(IntervalDocument::from),
        /// The margin that the guidance usually compares with.
        usual_margin: Number,
        /// What to know about these numbers.
        notes: Vec<String>,
    }
}

impl Exposure {
    /// Reads an exposure back. It is believed where working it out again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of formula and request with line and column; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["formula", "substance", "request", "basis"], |view| {
            let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
            let substance = view.needed("substance", |view| view.text("substance"));
            let request = view.needed("request", |view| view.table("request", read_request));
            let basis = view.table("basis", |view| Some(read_basis(view))).unwrap_or_default();
            view.accept("substance", formula?.exposure(substance?, &request?, &basis))
        })
    }
}
