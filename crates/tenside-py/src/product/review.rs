//! A formula compared with rules.

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::document::Notation;
use tenside::measure::Basis;
use tenside::rule::{Bound as Limit, Certainty, Mark, Market, Placing, ProductForm, Severity, Storage, Use, Value};

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::{Day, Number, Several};
use crate::convert::interval::Interval;
use crate::convert::output::{Fraction, hash};
use crate::convert::page::Page;
use crate::convert::running::reading;
use crate::convert::table::Rows;
use crate::convert::word::{Word, Words};
use crate::formula::Formula;
use crate::formula::reading::Reading;
use crate::material::catalogue::Catalogue;
use crate::product::rule::RuleList;
use crate::product::status::SubstanceStatus;
use crate::product::{Product, ProductKeywords, ScentLimits, book};

record! {
    "tenside.review",
    /// One finding of a review.
    Finding of &tenside::review::Finding, |finding| {
        /// Its stable name: that of the rule.
        slug: String = finding.slug().to_string(),
        /// "error", "warning", "question" or "information".
        severity: Word<Severity> = Word(finding.severity()),
        /// "certain", "typical-only" or "possible".
        certainty: Word<Certainty> = Word(finding.certainty()),
        /// Why it is less grave than its rule, with the way out; None if it is as grave.
        caveat: Option<String> = finding.caveat(),
        /// The later day from which it holds; None if it holds already.
        begins: Option<String> = finding.begins().map(|day| day.to_string()),
        /// What it is about, in words.
        title: String = finding.rule().title().to_string(),
        /// The lines it is about; empty if it is about the whole.
        lines: Vec<String> = finding.lines().to_vec(),
        /// The number that was compared or is shown, with its interval; None if it is none or not known.
        value: Option<Interval> = match finding.value() {
            Some(Value::Interval(value, _)) => Some(Interval(value.clone())),
            Some(Value::Number(value, _)) => Some(Interval(tenside::number::Interval::point(value.clone()))),
            _ => None,
        },
        /// "at_most", "below", "at_least" or "above" the limit.
        bound: Option<Word<Limit>> = finding.limit().map(|(bound, _)| Word(*bound)),
        /// The limit that is not kept.
        limit: Option<Fraction> = finding.limit().map(|(_, limit)| Fraction(limit.clone())),
        /// On which basis a measure was judged: "as charged", "finished at 5 % residual moisture".
        basis: Option<String> = finding.basis().map(Basis::to_string),
        /// Value and limit in words.
        numbers: Option<String> = finding.numbers(),
        /// Words that are due on the label, or their sense.
        label: Option<String> = finding.label().map(str::to_string),
        /// Who says so.
        source: String = finding.source().to_string(),
        /// How that is known.
        mark: Word<Mark> = Word(finding.rule().mark()),
        /// The finding in sentences.
        sentence: String = finding.sentence(),
    }
}

record! {
    "tenside.review",
    /// Something a review could not check.
    Unchecked of &tenside::review::Unchecked, |each| {
        /// The rule's stable name.
        slug: String = each.slug().to_string(),
        /// The lines it could not be asked of; empty if it is the rule as a whole.
        lines: Vec<String> = each.lines().to_vec(),
        /// What and why.
        sentence: String = each.sentence(),
    }
}

record! {
    "tenside.review",
    /// What one rule says of one formula: a column over many formulas.
    Flag of tenside::review::Flag, |flag| {
        /// "certain", "typical-only" or "possible"; None if nothing was found.
        certainty: Option<Word<Certainty>> = flag.certainty.map(Word),
        /// The value it was found with, where it is a number.
        value: Option<Interval> = flag.value.map(Interval),
        /// False if the rule could not be asked.
        checked: bool = flag.checked,
    }
}

/// A formula compared with the rules of published sources and of the trade. It never approves: with no finding it says
/// how many checks found none, what was not checked and what is not covered.
///
/// >>> bar = td.Formula("Soothing", {"sodium-benzoate": 3.5, "glycerin-99-5": 96.5}, td.Catalogue.starter())
/// >>> bar = bar.with_purposes("sodium-benzoate", "preservative")
/// >>> review = bar.review(market="EU", use=["shampoo-bar"], on="2026-11-24")
/// >>> [finding.slug for finding in review.findings if finding.severity == "error"]
/// ['annex-v-1-rinse-off']
/// >>> "findings among" in review.summary
/// True
#[pyclass(frozen, eq, module = "tenside.review")]
#[derive(Clone, PartialEq)]
pub(crate) struct Review {
    review: tenside::review::Review,
    /// With the user's own rules.
    product: Product,
}

document!(Review, |it| &it.review);
shown!(Review, |it| it.review.page());
copied!(Review);

arrow!(Review, |it, _py| batch_of(it.findings())?);

#[pymethods]
impl Review {
    /// Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the starter
    /// catalogue, judged by the embedded `rules` and by these lists of your own. It is believed where reviewing again
    /// gives just what it says.
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None, *, rules=Several(Vec::new())))]
    fn from_json(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        text: &str,
        catalogue: Option<&Catalogue>,
        rules: Several<RuleList>,
    ) -> Outcome<Self> {
        Review::read(py, text, Notation::Json, &Catalogue::or_starter(catalogue), rules.0)
    }

    /// Reads `text`, a TOML document, back, with a `catalogue` and `rules` as `from_json` does.
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None, *, rules=Several(Vec::new())))]
    fn from_toml(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        text: &str,
        catalogue: Option<&Catalogue>,
        rules: Several<RuleList>,
    ) -> Outcome<Self> {
        Review::read(py, text, Notation::Toml, &Catalogue::or_starter(catalogue), rules.0)
    }

    /// The formula.
    #[getter]
    fn formula(&self) -> Formula {
        Formula(self.review.formula().clone())
    }

    /// The title of the formula.
    #[getter]
    fn title(&self) -> String {
        self.review.title().to_string()
    }

    /// True if the formula rests on values of the starter catalogue.
    #[getter]
    fn is_draft(&self) -> bool {
        self.review.is_draft()
    }

    /// The findings, gravest first.
    #[getter]
    fn findings(&self) -> Rows<Finding> {
        self.review.findings().iter().map(Finding::from).collect()
    }

    /// What could not be checked.
    #[getter]
    fn unchecked(&self) -> Rows<Unchecked> {
        self.review.unchecked().iter().map(Unchecked::from).collect()
    }

    /// What the market's law is known to say of each substance in the formula, the gravest first.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> [(each.name, each.kind) for each in clay.review(market="EU", use="shampoo-bar", on="2026-11-24").statuses][0]
    /// ('KAOLIN', 'colour')
    #[getter]
    fn statuses(&self) -> Rows<SubstanceStatus> {
        self.review.statuses().iter().map(SubstanceStatus::from).collect()
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

    /// The gravest severity found; None if there is no finding.
    #[getter]
    fn gravest(&self) -> Option<Word<Severity>> {
        self.review.gravest().map(Word)
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

    fn __hash__(&self) -> u64 {
        hash(&(self.review.title(), self.review.checks(), self.review.findings().len()))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Formula, Product))> {
        Ok((py.get_type::<Formula>().getattr("review")?, (self.formula(), self.product.clone())))
    }

    fn __repr__(&self) -> String {
        format!("<Review of {:?}: {}>", self.review.title(), self.review.summary())
    }
}

with_product_keywords!(
    Formula,
    /// This formula compared with the rules of a market for its uses on a day. The `product` is a `Product`, or stated
    /// by the same keywords: `market`, `use`, `on`, `placing`, `form`, `ph`, `moisture`, `kept`, `water_activity`,
    /// `scent_limit`, `scent_category`, `rules`.
    ///
    /// >>> bar = td.Formula("Wet", {"water": 20, "kaolin": 80}, td.Catalogue.starter())
    /// >>> review = bar.review(market="US", use="cleansing-bar", on="2026-11-24", water_activity=0.9)
    /// >>> [finding.slug for finding in review.findings if finding.severity == "warning"][:2]
    /// ['water-activity-above-mark', 'use-level-high']
    review(product=None,)(slf: &Bound<'_, Self>, product: Option<Product>,) -> Outcome<Review>,
    |stated| {
        let (formula, product) = (slf.get(), stated.or(product)?);
        let book = product.book()?;
        let review = slf.py().detach(|| formula.0.review(&book, &product.0))?;
        Ok(Review { review, product })
    }
);

impl Review {
    pub(crate) fn read(
        py: Python<'_>,
        text: &str,
        notation: Notation,
        catalogue: &Catalogue,
        rules: Vec<RuleList>,
    ) -> Outcome<Self> {
        let book = book(&rules)?;
        let catalogue = catalogue.0.clone();
        let review =
            reading(py, [text], move |[text]| tenside::review::Review::read(text, notation, &catalogue, &book))?;
        let product = Product(review.product().clone(), rules);
        Ok(Review { review, product })
    }
}

/// Rules compiled once for the raw materials of a catalogue, to review many formulas. The `product` is a `Product`, or
/// stated by the same keywords: `market`, `use`, `on`, `placing`, `form`, `ph`, `moisture`, `kept`, `water_activity`,
/// `scent_limit`, `scent_category`, `rules`.
///
/// >>> cat = td.Catalogue.starter()
/// >>> reviewer = td.review.Reviewer(cat, market="EU", use="shampoo-bar", on="2026-11-24")
/// >>> bars = [td.Formula("Bar", {"sodium-benzoate": share, "kaolin": 100 - share}, cat) for share in (1, 3, 5)]
/// >>> [reviewer.flag("annex-v-1-rinse-off", bar).certainty for bar in bars]
/// [None, 'certain', 'certain']
#[pyclass(frozen, module = "tenside.review")]
pub(crate) struct Reviewer {
    reviewer: tenside::review::Reviewer,
    catalogue: Catalogue,
    product: Product,
}

#[pymethods]
impl Reviewer {
    /// Reviews a formula.
    fn review(&self, py: Python<'_>, formula: &Formula) -> Outcome<Review> {
        let review = py.detach(|| self.reviewer.review(&formula.0))?;
        Ok(Review { review, product: self.product.clone() })
    }

    /// One rule on one formula.
    /// `slug` is the rule's name.
    fn flag(&self, slug: &str, formula: &Formula) -> Outcome<Flag> {
        Ok(Flag::from(self.reviewer.flag(slug, &formula.0)?))
    }

    /// The names of the rules that concern the product.
    #[getter]
    fn slugs(&self) -> Vec<String> {
        self.reviewer.slugs().map(str::to_string).collect()
    }

    fn __getnewargs__(&self) -> (Catalogue, Product) {
        (self.catalogue.clone(), self.product.clone())
    }

    fn __repr__(&self) -> String {
        format!("<Reviewer of {} rules>", self.reviewer.slugs().count())
    }
}

with_product_keywords!(
    Reviewer,
    #[new] new(catalogue, product=None,)(py: Python<'_>, catalogue: &Catalogue, product: Option<Product>,) -> Outcome<Self>,
    |stated| {
        let product = stated.or(product)?;
        let book = product.book()?;
        let reviewer = py.detach(|| tenside::review::Reviewer::new(&book, product.0.clone(), catalogue.0.materials()))?;
        Ok(Reviewer { reviewer, catalogue: catalogue.clone(), product })
    }
);
