//! Lists of rules, and what is stated of a product for a review.

use std::borrow::Cow;
use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::bounds::Quantity;
use tenside::document::Notation;
use tenside::error::{Fault, FaultKind};
use tenside::rule::{Market, Placing, Product, RuleBook, Storage, Use};

use crate::failure::Outcome;
use crate::input::{Day, Names, Number, Several, Word};
use crate::reading::Reading;
use crate::running::reading;

record! {
    /// A rule of a list.
    Rule {
        /// Its stable name, which its findings carry.
        slug: String,
        /// "error", "warning", "question" or "information".
        severity: String,
        /// What its findings say, without numbers.
        title: String,
        /// Who says so, with the entry.
        source: String,
        /// How its value is known: "seen", "secondary", "computed", "from-memory", "common-practice", "stated".
        mark: String,
        /// The first day it holds, if stated.
        valid_from: Option<String>,
        /// The last day it holds, if stated.
        valid_until: Option<String>,
        /// What to do about a finding, if it says so.
        advice: Option<String>,
    }
}

/// Rules of one source, written in TOML or JSON. A rule without a source says "house rule".
///
/// >>> ours = td.RuleList.from_toml('''
/// ... tenside = "rules/1"
/// ... id = "ours"
/// ... title = "What we ask of our bars"
/// ... source = "house rule"
/// ... [[rule]]
/// ... slug = "too-much-salt"
/// ... severity = "warning"
/// ... title = "salt makes the bar crumble"
/// ... measure = "constituent"
/// ... of = "SODIUM CHLORIDE"
/// ... at_most = 3
/// ... ''')
/// >>> ours.rules[0].slug
/// 'too-much-salt'
/// >>> bar = td.Formula("Salty", {"sodium-chloride": 5, "kaolin": 95}, td.Catalogue.starter())
/// >>> review = bar.review(market="EU", use="shampoo-bar", on="2026-11-24", rules=[ours])
/// >>> "too-much-salt" in [finding.slug for finding in review.findings]
/// True
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct RuleList(pub(crate) Arc<tenside::rule::RuleList>);

value!(RuleList, |it| it.id());

getters!(RuleList {
    /// Its identifier.
    id: String = |it| it.id().to_string();
    /// What it is called.
    title: String = |it| it.title().to_string();
    /// The document it was taken from.
    source: String = |it| it.source().to_string();
    /// The date of the consolidated text, if stated: amendments after it are not in the list.
    consolidated: Option<String> = |it| it.consolidated().map(|date| date.to_string());
    /// How its values are known.
    mark: String = |it| it.mark().to_string();
    /// What to know about the list.
    note: Option<String> = |it| it.note().map(str::to_string);
    /// The markets it is for; all where it is empty.
    markets: Vec<String> = |it| it.markets().iter().map(ToString::to_string).collect();
    /// What it does not cover.
    not_covered: Vec<String> = |it| it.not_covered().to_vec();
    /// Its rules.
    rules: Vec<Rule> = |it| it.rules().iter().map(|rule| self::rule(rule)).collect();
    /// Title, source, date and mark in one line.
    heading: String = |it| it.heading();
});

#[pymethods]
impl RuleList {
    /// The embedded lists that every review uses.
    ///
    /// >>> [each.consolidated for each in td.RuleList.starter() if each.id == "eu-annex-v"]
    /// ['2017-07-27']
    #[classmethod]
    fn starter(_class: &Bound<'_, PyType>) -> Vec<Self> {
        RuleBook::starter().lists().iter().cloned().map(RuleList).collect()
    }

    /// Reads a list in TOML.
    #[classmethod]
    fn from_toml(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(RuleList(Arc::new(reading(py, [text], |[text]| tenside::rule::RuleList::read(text, Notation::Toml))?)))
    }

    /// Reads a list in JSON.
    #[classmethod]
    fn from_json(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(RuleList(Arc::new(reading(py, [text], |[text]| tenside::rule::RuleList::read(text, Notation::Json))?)))
    }

    /// As a TOML document.
    ///
    /// >>> first = td.RuleList.starter()[0]
    /// >>> td.RuleList.from_toml(first.to_toml()) == first == td.RuleList.from_json(first.to_json())
    /// True
    fn to_toml(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Toml)?)
    }

    /// As a JSON document.
    fn to_json(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Json)?)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("from_json")?, (slf.get().to_json()?,)))
    }

    fn __len__(&self) -> usize {
        self.0.rules().len()
    }

    fn __repr__(&self) -> String {
        format!("<RuleList {:?} of {} rules>", self.0.id(), self.0.rules().len())
    }
}

/// What a call says of a product.
#[derive(Clone, PartialEq)]
pub(crate) struct Stated {
    pub(crate) product: Product,
    pub(crate) rules: Vec<RuleList>,
}

impl Stated {
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    pub(crate) fn new(
        market: Word<Market>,
        uses: Names,
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
        let Some(on) = on else {
            let fault = Fault::new(FaultKind::Missing, "a review without a date: lists change").remedy("give on=\"2026-11-24\" or the day you mean");
            return Err(fault.into());
        };
        let uses = uses.0.iter().map(|used| used.parse::<Use>()).collect::<Result<Vec<_>, _>>()?;
        let mut product = Product::new(market.0, &uses, on.0)?;
        if let Some(placing) = placing {
            product = product.with_placing(placing.0);
        }
        if let Some(reading) = ph {
            product = product.with_reading(reading.0.clone());
        }
        if let Some(moisture) = moisture {
            product = product.with_moisture(moisture.0)?;
        }
        if let Some(kept) = kept {
            product = product.kept(kept.0);
        }
        if let Some(activity) = water_activity {
            product = product.with_water_activity(activity.decimal(Quantity::WaterActivity)?)?;
        }
        product = match (scent_limit, scent_category) {
            (Some(limit), category) => product.with_scent_limit(limit.0, category.unwrap_or_default())?,
            (None, Some(category)) => {
                let fault = Fault::new(FaultKind::Missing, "a scent category without its limit").value(format!("{category:?}"));
                return Err(fault.remedy("give scent_limit= as well").into());
            }
            (None, None) => product,
        };
        Ok(Stated { product, rules: rules.map_or_else(Vec::new, |rules| rules.0) })
    }

    /// The embedded lists and those given.
    pub(crate) fn book(&self) -> Outcome<Cow<'static, RuleBook>> {
        let starter = Cow::Borrowed(RuleBook::starter());
        self.rules.iter().try_fold(starter, |book, list| Ok(Cow::Owned(book.into_owned().with(Arc::clone(&list.0))?)))
    }
}

fn rule(rule: &tenside::rule::Rule) -> Rule {
    Rule {
        slug: rule.slug().to_string(),
        severity: rule.severity().to_string(),
        title: rule.title().to_string(),
        source: rule.source().to_string(),
        mark: rule.mark().to_string(),
        valid_from: rule.from().map(|date| date.to_string()),
        valid_until: rule.until().map(|date| date.to_string()),
        advice: rule.advice().map(str::to_string),
    }
}
