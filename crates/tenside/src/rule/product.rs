//! What is stated of a product besides its formula: where, for what, on which day, and what was read.

use std::fmt;

use rust_decimal::Decimal;

use super::{Certainty, Fact, Market, Placing, ProductForm, Storage, Use};
use crate::bounds::Quantity;
use crate::document::{check_name, check_slug};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Phase};
use crate::number::{Date, Exact, ToExact};
use crate::reading::Reading;

/// The most scent that a product category allows. Without its category the number says nothing: from one category to
/// the next it changes threefold.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ScentLimit {
    /// The product category of whoever states it.
    pub category: String,
    /// How much.
    pub most: MostScent,
}

/// How much scent a product category allows, percent of the product.
#[derive(Clone, Debug, PartialEq)]
pub enum MostScent {
    /// Of all scent together.
    Together(Exact),
    /// Of each of these raw materials, as its certificate says.
    Each(Vec<OneScent>),
}

/// The most of one scent that its certificate allows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct OneScent {
    /// The id of its raw material.
    pub scent: String,
    /// Percent of the product, as supplied.
    pub percent: Exact,
}

impl ScentLimit {
    /// The limit of all scent together, if it is one.
    #[must_use]
    pub fn together(&self) -> Option<&Exact> {
        if let MostScent::Together(percent) = &self.most { Some(percent) } else { None }
    }

    /// The limits of single raw materials.
    #[must_use]
    pub fn each(&self) -> &[OneScent] {
        if let MostScent::Each(limits) = &self.most { limits } else { &[] }
    }
}

impl fmt::Display for ScentLimit {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.most {
            MostScent::Together(percent) => write!(formatter, "{percent} %")?,
            MostScent::Each(limits) => {
                let said: Vec<String> =
                    limits.iter().map(|one| format!("{} % of {}", one.percent, one.scent)).collect();
                formatter.write_str(&said.join(", "))?;
            }
        }
        write!(formatter, " for category {}", self.category)
    }
}

/// A product to be judged: what rules may ask besides the formula. What is not stated stays unknown.
///
/// ```
/// use tenside::rule::{Market, Product, Use};
/// let product = Product::new(Market::Eu, &[Use::ShampooBar, Use::Body], "2026-11-24".parse()?)?.with_moisture(5)?;
/// assert_eq!(product.uses().len(), 2);
/// assert!(Product::new(Market::Eu, &[], "2026-11-24".parse()?).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Product {
    market: Market,
    uses: Vec<Use>,
    on: Date,
    placing: Option<Placing>,
    form: Option<ProductForm>,
    reading: Option<Reading>,
    moisture: Option<Exact>,
    storage: Option<Storage>,
    water_activity: Option<Decimal>,
    scent_limit: Option<ScentLimit>,
}

getters!(Product {
    /// The market.
    market: Market,
    /// The uses.
    uses: &[Use],
    /// The day.
    on: Date,
    /// Placed or made available, if stated.
    placing: Option<Placing>,
    /// The pH reading, if there is one.
    reading: Option<&Reading>,
    /// The residual moisture, if stated.
    moisture: Option<&Exact>,
    /// How it is kept, if stated.
    storage: Option<Storage>,
    /// The water activity, if stated.
    water_activity: Option<Decimal>,
    /// The scent limit, if stated.
    scent_limit: Option<&ScentLimit>,
});

impl Product {
    /// A product for a market and some uses, judged on a day; it is judged for each of the uses.
    ///
    /// # Errors
    /// No use, and one that stands twice.
    pub fn new(market: Market, uses: &[Use], on: Date) -> Result<Self, Error> {
        if uses.is_empty() {
            let fault = Fault::new(FaultKind::Missing, "a review without a use")
                .remedy("say what the product is used for, such as \"shampoo-bar\"");
            return Err(fault.into());
        }
        if let Some(twice) = uses.iter().enumerate().find(|(index, wanted)| uses[..*index].contains(wanted)) {
            return Err(Fault::new(FaultKind::Duplicate, "a use occurs twice").value(twice.1).into());
        }
        let nothing = Product {
            market,
            uses: uses.to_vec(),
            on,
            placing: None,
            form: None,
            reading: None,
            moisture: None,
            storage: None,
            water_activity: None,
            scent_limit: None,
        };
        Ok(nothing)
    }

    /// Placed on the market, or made available.
    #[must_use]
    pub fn with_placing(mut self, placing: Placing) -> Self {
        self.placing = Some(placing);
        self
    }

    /// Solid or liquid.
    #[must_use]
    pub fn with_form(mut self, form: ProductForm) -> Self {
        self.form = Some(form);
        self
    }

    /// With the pH read in a dispersion of it.
    #[must_use]
    pub fn with_reading(mut self, reading: Reading) -> Self {
        self.reading = Some(reading);
        self
    }

    /// With its residual moisture, percent of the finished product.
    ///
    /// # Errors
    /// A moisture out of range.
    pub fn with_moisture(mut self, moisture: impl ToExact) -> Result<Self, Error> {
        let moisture = Quantity::Moisture.exact(moisture)?;
        self.moisture = Some(moisture);
        Ok(self)
    }

    /// Kept so between uses.
    #[must_use]
    pub fn kept(mut self, storage: Storage) -> Self {
        self.storage = Some(storage);
        self
    }

    /// With the water activity of the unused bar.
    ///
    /// # Errors
    /// A value out of range.
    pub fn with_water_activity(mut self, activity: impl ToExact) -> Result<Self, Error> {
        self.water_activity = Some(Quantity::WaterActivity.decimal(activity)?);
        Ok(self)
    }

    /// With the most scent, all of it together, that its product category allows.
    ///
    /// # Errors
    /// A limit out of range, or without its category.
    pub fn with_scent_limit(mut self, percent: impl ToExact, category: &str) -> Result<Self, Error> {
        let percent = Quantity::Percent.exact(percent)?;
        let category = scent_category(category, &percent)?;
        self.scent_limit = Some(ScentLimit { category, most: MostScent::Together(percent) });
        Ok(self)
    }

    /// With the most of each scent that its certificate allows for the product category, by the id of the raw material.
    /// A scent without one is asked about.
    ///
    /// ```
    /// use tenside::rule::{Market, Product, Use};
    /// let product = Product::new(Market::Eu, &[Use::ShampooBar], "2026-11-24".parse()?)?;
    /// let product = product.with_scent_limits([("lavender-oil", 0.8), ("lemon-oil", 0.5)], "9")?;
    /// assert_eq!(product.scent_limit().map(|limit| limit.each().len()), Some(2));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// No limit, one out of range, a scent that stands twice, a bad id, and no category.
    pub fn with_scent_limits<N: AsRef<str>, P: ToExact>(
        mut self,
        limits: impl IntoIterator<Item = (N, P)>,
        category: &str,
    ) -> Result<Self, Error> {
        let mut each: Vec<OneScent> = Vec::new();
        for (scent, percent) in limits {
            let scent = scent.as_ref();
            let percent =
                Quantity::Percent.exact(percent).map_err(|error| error.within(&format!("scent {scent:?}")))?;
            let scent = check_slug(scent)?;
            if each.iter().any(|known| known.scent == scent) {
                return Err(Fault::new(FaultKind::Duplicate, "a scent has two limits")
                    .value(format!("{scent:?}"))
                    .remedy("give the lower one")
                    .into());
            }
            each.push(OneScent { scent, percent });
        }
        let Some(first) = each.first() else {
            let fault = Fault::new(FaultKind::Missing, "limits of scents without a scent");
            return Err(fault
                .remedy("give the id of each scent's raw material with the percent that its certificate allows")
                .into());
        };
        let category = scent_category(category, &first.percent)?;
        self.scent_limit = Some(ScentLimit { category, most: MostScent::Each(each) });
        Ok(self)
    }

    /// Solid or liquid, if that is stated.
    #[must_use]
    pub fn stated_form(&self) -> Option<ProductForm> {
        self.form
    }

    /// Solid or liquid: as it is stated, or as its uses say, a bar being solid.
    #[must_use]
    pub fn form(&self) -> Option<ProductForm> {
        self.form.or_else(|| self.uses.iter().any(|used| used.is_bar()).then_some(ProductForm::Solid))
    }

    /// How certain it is that one of these uses is meant; certain where none is named.
    pub(super) fn concerned_by(&self, uses: &[Use]) -> Option<Certainty> {
        if uses.is_empty() {
            return Some(Certainty::Certain);
        }
        self.uses.iter().flat_map(|own| uses.iter().filter_map(|named| own.concerned_by(*named))).max()
    }

    /// A fact, if it is stated; the formula states the temperature of its phases.
    pub(super) fn fact(&self, fact: Fact, formula: &Formula) -> Option<Exact> {
        match fact {
            Fact::PhaseTemperature => formula.phases().iter().filter_map(Phase::temperature).max().map(Exact::from),
            _ => self.own_fact(fact),
        }
    }

    /// A fact that is the same for every formula, if it is stated.
    pub(super) fn own_fact(&self, fact: Fact) -> Option<Exact> {
        match fact {
            Fact::Ph => self.reading.as_ref().map(|reading| reading.value().into()),
            Fact::WaterActivity => self.water_activity.map(Exact::from),
            Fact::ScentLimit => self.scent_limit.as_ref().and_then(|limit| limit.together().cloned()),
            Fact::PhaseTemperature => None,
        }
    }
}

fn scent_category(category: &str, percent: &Exact) -> Result<String, Error> {
    let missing = |_| {
        Fault::new(FaultKind::Missing, "a scent limit without its product category")
            .value(format!("{percent} %"))
            .remedy("state the category that the limit was given for: from one to the next it changes threefold")
    };
    Ok(check_name(category).map_err(missing)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scent_limit_needs_its_category() {
        let product = || Product::new(Market::Eu, &[Use::Hair], "2026-11-24".parse().unwrap()).unwrap();
        let error = product().with_scent_limit(Exact::ONE, " ").unwrap_err();
        assert!(error.is_missing() && error.to_string().contains("threefold"), "{error}");
        assert!(product().with_scent_limit(Exact::from(101), "9").unwrap_err().is_out_of_range());
        assert!(product().with_scent_limits([("lavender-oil", Exact::ONE)], "").unwrap_err().is_missing());
        assert!(product().with_scent_limits([("lavender-oil", 1); 0], "9").unwrap_err().is_missing());
        let twice = product()
            .with_scent_limits([("lavender-oil", Exact::ONE), ("lavender-oil", Exact::ZERO)], "9")
            .unwrap_err();
        assert!(twice.is_duplicate() && twice.to_string().contains("lavender-oil"), "{twice}");
        let beyond = product().with_scent_limits([("lavender-oil", Exact::from(101))], "9").unwrap_err();
        assert!(beyond.is_out_of_range() && beyond.to_string().contains("lavender-oil"), "{beyond}");
        assert!(product().with_water_activity(Decimal::new(11, 1)).unwrap_err().is_out_of_range());
        assert!(
            Product::new(Market::Eu, &[Use::Hair, Use::Hair], "2026-11-24".parse().unwrap())
                .unwrap_err()
                .is_duplicate()
        );
    }
}
