//! A formula compared with rules.

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::PyDict;
use tenside::measure::Basis;
use tenside::rule::{Market, Placing, Storage, Value};

use crate::catalogue::Catalogue;
use crate::failure::Outcome;
use crate::formula::Formula;
use crate::input::{Day, Names, Number, Several, Word};
use crate::interval::Interval;
use crate::output::{Fraction, Keywords, Page, WIDTH};
use crate::reading::Reading;
use crate::rule::{RuleList, Stated};

record! {
    /// One finding of a review.
    Finding {
        /// Its stable name: that of the rule.
        slug: String,
        /// "error", "warning", "question" or "information".
        severity: String,
        /// "certain", "typical-only" or "possible".
        certainty: String,
        /// What it is about, in words.
        title: String,
        /// The lines it is about; empty where it is about the whole.
        lines: Vec<String>,
        /// The number that was compared or is shown, with its interval; None where it is none or not known.
        value: Option<Interval>,
        /// "at_most", "below", "at_least" or "above" the limit.
        bound: Option<String>,
        /// The limit that is not kept.
        limit: Option<Fraction>,
        /// On which basis a measure was judged: "as charged", "finished at 5 % residual moisture".
        basis: Option<String>,
        /// Value and limit in words.
        numbers: Option<String>,
        /// Who says so.
        source: String,
        /// How that is known.
        mark: String,
        /// The finding in sentences.
        sentence: String,
    }
}

record! {
    /// Something a review could not check.
    Unchecked {
        /// The rule's stable name.
        slug: String,
        /// The lines it could not be asked of; empty where it is the rule as a whole.
        lines: Vec<String>,
        /// What and why.
        sentence: String,
    }
}

record! {
    /// What one rule says of one formula: a column over many formulas.
    Flag {
        /// "certain", "typical-only" or "possible"; None where nothing was found.
        certainty: Option<String>,
        /// The value it was found with, where it is a number.
        value: Option<Interval>,
        /// False where the rule could not be asked.
        checked: bool,
    }
}

/// A formula compared with the rules of published sources and of the trade. It never approves: with no finding it says how many checks
/// found none, what was not checked and what is not covered.
///
/// >>> bar = td.Formula("Soothing", {"sodium-benzoate": 3.5, "glycerin-99-5": 96.5}, td.Catalogue.starter())
/// >>> review = bar.review(market="EU", use=["shampoo-bar"], on="2026-11-24")
/// >>> [finding.slug for finding in review.findings if finding.severity == "error"]
/// ['annex-v-1-rinse-off']
/// >>> "findings among" in review.summary
/// True
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Review {
    review: tenside::review::Review,
    formula: Formula,
    stated: Stated,
}

#[pymethods]
impl Review {
    /// The title of the formula.
    #[getter]
    fn title(&self) -> String {
        self.review.title().to_string()
    }

    /// True where the formula rests on values of the starter catalogue.
    #[getter]
    fn is_draft(&self) -> bool {
        self.review.is_draft()
    }

    /// The findings, gravest first.
    #[getter]
    fn findings(&self) -> Vec<Finding> {
        self.review.findings().iter().map(finding).collect()
    }

    /// What could not be checked.
    #[getter]
    fn unchecked(&self) -> Vec<Unchecked> {
        let one = |each: &tenside::review::Unchecked| Unchecked { slug: each.slug().to_string(), lines: each.lines().to_vec(), sentence: each.sentence() };
        self.review.unchecked().iter().map(one).collect()
    }

    /// The lists used.
    #[getter]
    fn lists(&self) -> Vec<RuleList> {
        self.review.lists().iter().cloned().map(RuleList).collect()
    }

    /// The number of checks made.
    #[getter]
    fn checks(&self) -> usize {
        self.review.checks()
    }

    /// Checks that found nothing for typical compositions although a range end that could change that is not stated.
    #[getter]
    fn open_checks(&self) -> usize {
        self.review.open_checks()
    }

    /// What the lists do not cover.
    #[getter]
    fn not_covered(&self) -> Vec<String> {
        self.review.not_covered().map(str::to_string).collect()
    }

    /// The gravest severity found; None where there is no finding.
    #[getter]
    fn gravest(&self) -> Option<String> {
        self.review.gravest().map(|severity| severity.to_string())
    }

    /// How many checks were made and what they found.
    #[getter]
    fn summary(&self) -> String {
        self.review.summary()
    }

    /// The review as a page.
    fn page(&self) -> Page {
        Page(self.review.page())
    }

    fn __copy__(slf: Py<Self>) -> Py<Self> {
        slf
    }

    #[pyo3(signature = (memo, /))]
    fn __deepcopy__(slf: Py<Self>, memo: &Bound<'_, PyAny>) -> Py<Self> {
        let _ = memo;
        slf
    }

    fn __hash__(&self) -> u64 {
        crate::output::hash(&(self.review.title(), self.review.checks(), self.review.findings().len()))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, ())> {
        let again = self.formula.clone().into_pyobject(py)?.getattr("review")?;
        let keywords = PyDict::new(py);
        for (name, value) in keywords_of(py, &self.stated)? {
            keywords.set_item(name, value)?;
        }
        Ok((py.import("functools")?.getattr("partial")?.call((again,), Some(&keywords))?, ()))
    }

    fn _repr_html_(&self) -> String {
        self.review.page().html()
    }

    fn __str__(&self) -> String {
        self.review.page().text(WIDTH)
    }

    fn __repr__(&self) -> String {
        format!("<Review of {:?}: {}>", self.review.title(), self.review.summary())
    }
}

impl Review {
    pub(crate) fn new(py: Python<'_>, formula: &Formula, stated: Stated) -> Outcome<Self> {
        let book = stated.book()?;
        let review = py.detach(|| formula.0.review(&book, &stated.product))?;
        Ok(Review { review, formula: formula.clone(), stated })
    }
}

/// Rules compiled once for the raw materials of a catalogue, to review many formulas.
///
/// >>> cat = td.Catalogue.starter()
/// >>> reviewer = td.Reviewer(cat, market="EU", use="shampoo-bar", on="2026-11-24")
/// >>> bars = [td.Formula("Bar", {"sodium-benzoate": share, "kaolin": 100 - share}, cat) for share in (1, 3, 5)]
/// >>> [reviewer.flag("annex-v-1-rinse-off", bar).certainty for bar in bars]
/// [None, 'certain', 'certain']
#[pyclass(frozen, module = "tenside")]
pub(crate) struct Reviewer {
    reviewer: tenside::review::Reviewer,
    catalogue: Catalogue,
    stated: Stated,
}

#[pymethods]
impl Reviewer {
    #[new]
    #[pyo3(signature = (catalogue, *, market, r#use, on=None, placing=None, ph=None, moisture=None, kept=None, water_activity=None, scent_limit=None, scent_category=None, rules=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        py: Python<'_>,
        catalogue: &Catalogue,
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
        let stated = Stated::new(market, r#use, on, placing, ph, moisture, kept, water_activity, scent_limit, scent_category, rules)?;
        let book = stated.book()?;
        let reviewer = py.detach(|| tenside::review::Reviewer::new(&book, stated.product.clone(), catalogue.0.materials()))?;
        Ok(Reviewer { reviewer, catalogue: catalogue.clone(), stated })
    }

    /// Reviews a formula.
    fn review(&self, py: Python<'_>, formula: &Formula) -> Outcome<Review> {
        let review = py.detach(|| self.reviewer.review(&formula.0))?;
        Ok(Review { review, formula: formula.clone(), stated: self.stated.clone() })
    }

    /// One rule on one formula.
    fn flag(&self, slug: &str, formula: &Formula) -> Outcome<Flag> {
        let flag = self.reviewer.flag(slug, &formula.0)?;
        Ok(Flag { certainty: flag.certainty.map(|certainty| certainty.to_string()), value: flag.value.map(Interval), checked: flag.checked })
    }

    /// The names of the rules that concern the product.
    #[getter]
    fn slugs(&self) -> Vec<String> {
        self.reviewer.slugs().map(str::to_string).collect()
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((Catalogue,), Keywords<'py>)> {
        Ok(((self.catalogue.clone(),), keywords_of(py, &self.stated)?))
    }

    fn __repr__(&self) -> String {
        format!("<Reviewer of {} rules>", self.reviewer.slugs().count())
    }
}

/// The keywords that state the same again.
pub(crate) fn keywords_of<'py>(py: Python<'py>, stated: &Stated) -> PyResult<Keywords<'py>> {
    let product = &stated.product;
    let mut keywords: Keywords<'py> = IndexMap::new();
    keywords.insert("market", product.market().to_string().into_pyobject(py)?.into_any());
    keywords.insert("use", product.uses().iter().map(ToString::to_string).collect::<Vec<_>>().into_pyobject(py)?.into_any());
    keywords.insert("on", product.on().to_string().into_pyobject(py)?.into_any());
    if let Some(placing) = product.placing() {
        keywords.insert("placing", placing.to_string().into_pyobject(py)?.into_any());
    }
    if let Some(reading) = product.reading() {
        keywords.insert("ph", Reading(reading.clone()).into_pyobject(py)?.into_any());
    }
    if let Some(moisture) = product.moisture() {
        keywords.insert("moisture", Fraction(moisture.clone()).into_pyobject(py)?);
    }
    if let Some(kept) = product.storage() {
        keywords.insert("kept", kept.to_string().into_pyobject(py)?.into_any());
    }
    if let Some(activity) = product.water_activity() {
        keywords.insert("water_activity", activity.into_pyobject(py)?.into_any());
    }
    if let Some(limit) = product.scent_limit() {
        keywords.insert("scent_limit", Fraction(limit.percent.clone()).into_pyobject(py)?);
        keywords.insert("scent_category", limit.category.clone().into_pyobject(py)?.into_any());
    }
    keywords.insert("rules", stated.rules.clone().into_pyobject(py)?.into_any());
    Ok(keywords)
}

fn finding(finding: &tenside::review::Finding) -> Finding {
    let value = match finding.value() {
        Some(Value::Interval(value, _)) => Some(Interval(value.clone())),
        Some(Value::Number(value, _)) => Some(Interval(tenside::number::Interval::point(value.clone()))),
        _ => None,
    };
    Finding {
        slug: finding.slug().to_string(),
        severity: finding.severity().to_string(),
        certainty: finding.certainty().to_string(),
        title: finding.rule().title().to_string(),
        lines: finding.lines().to_vec(),
        value,
        bound: finding.limit().map(|(bound, _)| bound.to_string()),
        limit: finding.limit().map(|(_, limit)| Fraction(limit.clone())),
        basis: finding.basis().map(Basis::to_string),
        numbers: finding.numbers(),
        source: finding.source().to_string(),
        mark: finding.rule().mark().to_string(),
        sentence: finding.sentence(),
    }
}
