//! Systemic exposure to one substance of a formula, and the margin to a dose without adverse effect.
//!
//! ```text
//! SED = E * C/100 * A/100        MoS = POD / SED
//! ```
//!
//! with `E` the product that stays, mg a day and kg of body weight; `C` the substance in the product, percent; `A` what
//! the skin lets through, percent; POD the systemic dose without adverse effect, mg a day and kg of body weight.
//! Source: the SCCS Notes of Guidance, see `data/exposure/sccs.toml`. `E` is the printed value of the table, which is
//! not calculated from its other columns.
//!
//! It is an aid to a qualified safety assessor, who decides; no value here says that a product may be used.
//!
//! # Why
//! - Printed exposures are not calculated anew: the guidance prints 1.51 where its other columns give 1.5049. A
//!   product without a row is stated in grams per day and the share that stays. Known limits: absorption in
//!   percent, not per area of skin, and one product at a time.

mod document;
mod page;
mod request;
mod table;

pub use document::ExposureDocument;
pub use request::ExposureRequest;
pub use table::ProductType;

use request::{Dose, Use};
use table::guidance;

use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::measure::{Basis, Measure, Measured};
use crate::number::{Exact, Interval};

/// The exposure to one substance. Values are immutable.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// use tenside::exposure::ExposureRequest;
/// use tenside::formula::{Formula, Line};
/// use tenside::measure::Basis;
/// use tenside::number::{Exact, Ppm};
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Bar", vec![line("kaolin", "99")?, line("panthenol", "1")?])?;
/// let asked = ExposureRequest::of_product("shampoo")?.with_systemic_dose(Exact::from(100))?;
/// let exposure = formula.exposure("PANTHENOL", &asked, &Basis::AsCharged)?;
/// // 1.51 mg of product a day and kg, 0.993 % of it panthenol, half of that through the skin.
/// assert_eq!(exposure.dose().typical.as_ref().unwrap().rounded_text(5), "0.00750");
/// assert!(exposure.notes().last().unwrap().ends_with("a qualified safety assessor decides"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Exposure {
    substance: String,
    formula: Formula,
    basis: Basis,
    rests_on_starter: bool,
    request: ExposureRequest,
    share: Measured,
    percent: Interval,
    dose: Interval,
    margin: Option<Interval>,
}

impl Formula {
    /// The exposure to a substance, as an ingredient and as contained in others; `basis` is that of the product as
    /// used.
    ///
    /// # Errors
    /// A substance that neither the formula nor the starter catalogue knows, and a share of which not even an end is
    /// known.
    pub fn exposure(&self, substance: &str, request: &ExposureRequest, basis: &Basis) -> Result<Exposure, Error> {
        let share = self.measure(&Measure::substance(substance)?, basis)?;
        let Some(percent) = share.value.clone() else {
            return Err(Error::from_faults(share.why_not)
                .unwrap_or_else(|| Fault::new(FaultKind::NotKnown, "the share is not known").value(substance).into()));
        };
        let factor = request.product_exposure() * request.used_absorption() / Exact::from(10_000);
        let dose = percent.map(|percent| percent * &factor);
        let margin = request.systemic_dose().and_then(|reference| margin(&reference, &dose));
        Ok(Exposure {
            substance: substance.trim().to_string(),
            formula: self.clone(),
            basis: basis.clone(),
            rests_on_starter: self.is_draft(),
            request: request.clone(),
            share,
            percent,
            dose,
            margin,
        })
    }
}

/// The quotient; its low end goes with the highest dose. `None` without a dose that is known to be above 0.
fn margin(reference: &Exact, dose: &Interval) -> Option<Interval> {
    let over = |end: &Option<Exact>| end.as_ref().and_then(|end| reference.checked_div(end));
    let margin = Interval { low: over(&dose.high), typical: over(&dose.typical), high: over(&dose.low) };
    (margin.typical.is_some() || margin.low.is_some()).then_some(margin)
}

getters!(Exposure {
    /// The substance asked for.
    substance: &str,
    /// Its share of the product, percent.
    percent: &Interval,
    /// The systemic exposure dose, mg a day and kg of body weight.
    dose: &Interval,
    /// The margin of safety, where a dose to compare with was stated; its low end is what counts.
    margin: Option<&Interval>,
});

impl Exposure {
    /// The product that stays, mg a day and kg of body weight.
    #[must_use]
    pub fn product_exposure(&self) -> Exact {
        self.request.product_exposure()
    }

    /// What the skin is taken to let through, percent.
    #[must_use]
    pub fn absorption(&self) -> &Exact {
        self.request.used_absorption()
    }

    /// The systemic dose without adverse effect that was stated, mg a day and kg of body weight.
    #[must_use]
    pub fn reference_dose(&self) -> Option<Exact> {
        self.request.systemic_dose()
    }

    /// The margin that the guidance usually compares with.
    #[must_use]
    pub fn usual_margin(&self) -> &'static Exact {
        &guidance().usual_margin
    }

    /// What to know about these numbers, the assessor's part last.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        match &self.request.product {
            Use::Row(row) => {
                notes.push(format!("E is printed for {} ({}; {})", row.name(), guidance().document, row.mark()));
                notes.push(
                    "a solid product has no row of its own: rows are of liquid and cream products as they are used, \
                     and less of a bar goes a longer way"
                        .to_string(),
                );
            }
            Use::Stated { amount, retained_percent } => {
                notes.push(format!(
                    "E is calculated from {amount} g a day, of which {retained_percent} % stay, both stated by the \
                     user, and {} kg of body weight",
                    self.request.used_body_weight()
                ));
            }
        }
        if self.request.absorption.is_none() {
            notes.push(format!(
                "{} % through the skin is the guidance's default where no study is at hand (from memory)",
                self.request.used_absorption()
            ));
        }
        if let Some(Dose::Oral { absorption, .. }) = &self.request.dose {
            match absorption {
                Some(percent) => notes.push(format!("of the oral dose {percent} % is taken to be absorbed, as stated")),
                None => notes.push(format!(
                    "of the oral dose {} % is taken to be absorbed, the guidance's default (from memory)",
                    guidance().oral_absorption
                )),
            }
        }
        if !self.percent.is_stated() {
            notes.push("not every range of the composition is stated: the highest exposure is not known".to_string());
        }
        notes.extend(self.share.notes.iter().cloned());
        notes.push(format!(
            "only {} itself is counted; its acid, salts and esters are other substances",
            self.substance()
        ));
        notes.push("one product alone: other products with the same substance add to the exposure".to_string());
        notes.push(format!(
            "a margin is usually compared with {} (from memory); whether it is enough, whether dose and route fit, \
             and whether the product may be used, a qualified safety assessor decides",
            guidance().usual_margin
        ));
        notes
    }
}
