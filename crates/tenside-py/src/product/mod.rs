//! What is stated of a product besides its formula.

use std::borrow::Cow;
use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::IntoPyObjectExt;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use tenside::error::{Fault, FaultKind};
use tenside::rule::{Market, Placing, ProductForm, RuleBook, Storage, Use};

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{ByName, Day, Number, Several};
use crate::convert::output::{Fraction, Keywords};
use crate::convert::word::{Word, Words, words};
use crate::formula::reading::Reading;
use crate::product::rule::RuleList;
/// A method with the keywords that a product is stated by; after its own parameters, in Python and in Rust.
macro_rules! with_product_keywords {
    ($class:ident, $(#[$($attribute:tt)*])* $name:ident($($signature:tt)*)($($parameters:tt)*) -> $result:ty,
        |$stated:ident| $body:expr) => {
        #[pymethods]
        impl $class {
            $(#[$($attribute)*])*
            #[pyo3(signature = ($($signature)* *, market=None, r#use=None, on=None, placing=None, form=None, ph=None, moisture=None,
                kept=None, water_activity=None, scent_limit=None, scent_category=None, rules=None))]
            #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
            fn $name(
                $($parameters)*
                market: Option<Word<Market>>,
                r#use: Option<Words<Use>>,
                on: Option<Day>,
                placing: Option<Word<Placing>>,
                form: Option<Word<ProductForm>>,
                ph: Option<Reading>,
                moisture: Option<Number>,
                kept: Option<Word<Storage>>,
                water_activity: Option<Number>,
                scent_limit: Option<ScentLimits>,
                scent_category: Option<String>,
                rules: Option<Several<RuleList>>,
            ) -> $result {
                let $stated = ProductKeywords {
                    market, r#use, on, placing, form, ph, moisture, kept, water_activity, scent_limit, scent_category, rules,
                };
                $body
            }
        }
    };
}

pub(crate) mod batch;
pub(crate) mod declaration;
pub(crate) mod dough;
pub(crate) mod drying;
pub(crate) mod exposure;
pub(crate) mod label;
pub(crate) mod made;
pub(crate) mod mould;
pub(crate) mod ph;
pub(crate) mod record;
pub(crate) mod rescue;
pub(crate) mod review;
pub(crate) mod rule;
pub(crate) mod solution;
pub(crate) mod status;
pub(crate) mod titration;
pub(crate) mod use_up;
pub(crate) mod verified;
pub(crate) mod weights;

/// What a review is about besides the formula: where, for what, on which day, and what was read; and the user's own
/// lists of rules.
///
/// `use` is one use or several; the product is judged for each. `ph` is a reading in a dispersion, `moisture` the
/// residual moisture in percent of the finished bar, `kept` "wet" or "dry" between uses, `placing` "placed" or
/// "made-available", `form` "solid" or "liquid" (a bar is solid by its use), `water_activity` that of the unused bar. A
/// `scent_limit` in percent needs its `scent_category`: one number for all scent together, or what the certificate of
/// each allows, by the id of its raw material. `rules` are lists of your own beside the embedded ones.
///
/// >>> product = td.Product(market="EU", use=["shampoo-bar", "body"], on="2026-11-24", moisture=5)
/// >>> product.market, product.uses, product.on
/// ('EU', ['shampoo-bar', 'body'], '2026-11-24')
/// >>> td.Product(market="EU", use="shampoo-bar")
/// Traceback (most recent call last):
/// ...
/// tenside.errors.Missing: a review without a date: lists change; give on="2026-11-24" or the day you mean
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Product(pub(crate) tenside::rule::Product, pub(crate) Vec<RuleList>);

value!(Product, |it| it.on().to_string());

getters!(Product {
    /// The market.
    market: Word<Market> = |it| Word(it.market());
    /// The uses; it is judged for each.
    uses: Vec<Word<Use>> = |it| words(it.uses());
    /// The day.
    on: String = |it| it.on().to_string();
});

with_product_keywords!(Product, #[new] new()() -> Outcome<Self>, |stated| stated.product());

/// The most scent, all together, or of each raw material by its id.
pub(crate) enum ScentLimits {
    Together(Number),
    Each(ByName),
}

impl<'a, 'py> FromPyObject<'a, 'py> for ScentLimits {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(Number::INPUT_TYPE, ByName::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.hasattr("items")? {
            Ok(ScentLimits::Each(object.extract()?))
        } else {
            Ok(ScentLimits::Together(object.extract()?))
        }
    }
}

/// The keywords as they are given; nothing is stated by one that is not.
pub(crate) struct ProductKeywords {
    market: Option<Word<Market>>,
    r#use: Option<Words<Use>>,
    on: Option<Day>,
    placing: Option<Word<Placing>>,
    form: Option<Word<ProductForm>>,
    ph: Option<Reading>,
    moisture: Option<Number>,
    kept: Option<Word<Storage>>,
    water_activity: Option<Number>,
    scent_limit: Option<ScentLimits>,
    scent_category: Option<String>,
    rules: Option<Several<RuleList>>,
}

impl ProductKeywords {
    fn is_empty(&self) -> bool {
        let stated = [
            self.market.is_some(),
            self.r#use.is_some(),
            self.on.is_some(),
            self.placing.is_some(),
            self.form.is_some(),
            self.ph.is_some(),
            self.moisture.is_some(),
            self.kept.is_some(),
            self.water_activity.is_some(),
            self.scent_limit.is_some(),
            self.scent_category.is_some(),
            self.rules.is_some(),
        ];
        !stated.contains(&true)
    }

    fn product(self) -> Outcome<Product> {
        let Some(market) = self.market else {
            let fault = Fault::new(FaultKind::Missing, "a review without a market: rules differ");
            return Err(fault.remedy("give market=\"EU\" or market=\"US\"").into());
        };
        let Some(on) = self.on else {
            let fault = Fault::new(FaultKind::Missing, "a review without a date: lists change");
            return Err(fault.remedy("give on=\"2026-11-24\" or the day you mean").into());
        };
        let uses = self.r#use.map_or_else(Vec::new, |uses| uses.0);
        let mut product = tenside::rule::Product::new(market.0, &uses, on.0)?;
        if let Some(placing) = self.placing {
            product = product.with_placing(placing.0);
        }
        if let Some(form) = self.form {
            product = product.with_form(form.0);
        }
        if let Some(reading) = self.ph {
            product = product.with_reading(reading.0);
        }
        if let Some(moisture) = self.moisture {
            product = product.with_moisture(moisture.0)?;
        }
        if let Some(kept) = self.kept {
            product = product.kept(kept.0);
        }
        if let Some(activity) = self.water_activity {
            product = product.with_water_activity(activity.0)?;
        }
        product = match (self.scent_limit, self.scent_category) {
            (Some(ScentLimits::Together(limit)), category) => {
                product.with_scent_limit(limit.0, &category.unwrap_or_default())?
            }
            (Some(ScentLimits::Each(limits)), category) => {
                let limits = limits.0.iter().map(|(scent, percent)| (scent.as_str(), percent.0.clone()));
                product.with_scent_limits(limits, &category.unwrap_or_default())?
            }
            (None, Some(category)) => {
                let fault = Fault::new(FaultKind::Missing, "a scent category without its limit");
                return Err(fault.value(format!("{category:?}")).remedy("give scent_limit= as well").into());
            }
            (None, None) => product,
        };
        Ok(Product(product, self.rules.map_or_else(Vec::new, |rules| rules.0)))
    }

    /// The product given, or the one that the keywords state.
    pub(crate) fn or(self, product: Option<Product>) -> Outcome<Product> {
        match product {
            None => self.product(),
            Some(product) if self.is_empty() => Ok(product),
            Some(_) => {
                let fault = Fault::new(FaultKind::Contradiction, "a product is given, and stated by keywords as well");
                Err(fault.remedy("give one td.Product(...), or keywords alone").into())
            }
        }
    }
}

/// The embedded lists and the user's own.
pub(crate) fn book(own: &[RuleList]) -> Outcome<Cow<'static, RuleBook>> {
    let starter = Cow::Borrowed(RuleBook::starter());
    own.iter().try_fold(starter, |book, list| Ok(Cow::Owned(book.into_owned().with(Arc::clone(&list.0))?)))
}

impl Product {
    /// The embedded lists and the user's own.
    pub(crate) fn book(&self) -> Outcome<Cow<'static, RuleBook>> {
        book(&self.1)
    }

    /// The keywords that state the same.
    fn keywords<'py>(&self, py: Python<'py>) -> PyResult<Keywords<'py>> {
        let Product(product, rules) = self;
        let mut keywords: Keywords<'py> = IndexMap::new();
        keywords.insert("market", self.market().into_bound_py_any(py)?);
        keywords.insert("use", self.uses().into_bound_py_any(py)?);
        keywords.insert("on", self.on().into_bound_py_any(py)?);
        if let Some(placing) = product.placing() {
            keywords.insert("placing", placing.to_string().into_bound_py_any(py)?);
        }
        if let Some(form) = product.stated_form() {
            keywords.insert("form", form.to_string().into_bound_py_any(py)?);
        }
        if let Some(reading) = product.reading() {
            keywords.insert("ph", Reading(reading.clone()).into_bound_py_any(py)?);
        }
        if let Some(moisture) = product.moisture() {
            keywords.insert("moisture", Fraction(moisture.clone()).into_bound_py_any(py)?);
        }
        if let Some(kept) = product.storage() {
            keywords.insert("kept", kept.to_string().into_bound_py_any(py)?);
        }
        if let Some(activity) = product.water_activity() {
            keywords.insert("water_activity", activity.into_bound_py_any(py)?);
        }
        if let Some(limit) = product.scent_limit() {
            let each = limit
                .each()
                .iter()
                .map(|one| (one.scent.clone(), Fraction(one.percent.clone())))
                .collect::<IndexMap<_, _>>();
            let stated = match limit.together() {
                Some(percent) => Fraction(percent.clone()).into_bound_py_any(py)?,
                None => each.into_bound_py_any(py)?,
            };
            keywords.insert("scent_limit", stated);
            keywords.insert("scent_category", limit.category.clone().into_bound_py_any(py)?);
        }
        if !rules.is_empty() {
            keywords.insert("rules", rules.clone().into_bound_py_any(py)?);
        }
        Ok(keywords)
    }
}

#[pymethods]
impl Product {
    /// The user's own lists of rules.
    #[getter]
    fn rules(&self) -> Vec<RuleList> {
        self.1.clone()
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((), Keywords<'py>)> {
        Ok(((), self.keywords(py)?))
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let keywords = self.keywords(py)?;
        let shown = keywords.iter().map(|(name, value)| Ok(format!("{name}={}", value.repr()?)));
        Ok(format!("Product({})", shown.collect::<PyResult<Vec<_>>>()?.join(", ")))
    }
}
