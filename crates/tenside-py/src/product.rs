//! What is stated of a product besides its formula.

use pyo3::prelude::*;
use tenside::rule::{Market, Placing, Storage};

use crate::failure::Outcome;
use crate::input::{Day, Names, Number, Several, Word};
use crate::output::Keywords;
use crate::reading::Reading;
use crate::review::keywords_of;
use crate::rule::{RuleList, Stated};

/// What a review is about besides the formula: where, for what, on which day, and what was read; and the user's own lists of rules. The
/// keywords are those of `Formula.review`. A sweep reviews its rows by one.
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
pub(crate) struct Product(pub(crate) Stated);

value!(Product, |it| it.product.on().to_string());

getters!(Product {
    /// The market.
    market: String = |it| it.product.market().to_string();
    /// The uses; it is judged for each.
    uses: Vec<String> = |it| it.product.uses().iter().map(ToString::to_string).collect();
    /// The day.
    on: String = |it| it.product.on().to_string();
    /// The user's own lists of rules.
    rules: Vec<RuleList> = |it| it.rules.clone();
});

#[pymethods]
impl Product {
    #[new]
    #[pyo3(signature = (*, market, r#use, on=None, placing=None, ph=None, moisture=None, kept=None, water_activity=None, scent_limit=None, scent_category=None, rules=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        market: Word<Market>,
        r#use: Names,
        on: Option<Day>,
        placing: Option<Word<Placing>>,
        ph: Option<&Reading>,
        moisture: Option<Number>,
        kept: Option<Word<Storage>>,
        water_activity: Option<Number>,
        scent_limit: Option<Number>,
        scent_category: Option<&str>,
        rules: Option<Several<RuleList>>,
    ) -> Outcome<Self> {
        Ok(Product(Stated::new(market, r#use, on, placing, ph, moisture, kept, water_activity, scent_limit, scent_category, rules)?))
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((), Keywords<'py>)> {
        Ok(((), keywords_of(py, &self.0)?))
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let mut shown = Vec::new();
        for (name, value) in keywords_of(py, &self.0)? {
            if !(name == "rules" && self.0.rules.is_empty()) {
                shown.push(format!("{name}={}", value.repr()?));
            }
        }
        Ok(format!("Product({})", shown.join(", ")))
    }
}
