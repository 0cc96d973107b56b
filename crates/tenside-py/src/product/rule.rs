//! Lists of rules.

use std::sync::Arc;

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::document::Notation;
use tenside::formula::Purpose;
use tenside::rule::{Mark, Market, RuleBook, Severity, StatusKind};
use tenside::substance::SubstanceTable;

use crate::convert::failure::Outcome;
use crate::convert::page::Page;
use crate::convert::running::reading;
use crate::convert::table::Rows;
use crate::convert::word::{Word, words};

record! {
    "tenside.review",
    /// A rule of a list.
    Rule of &tenside::rule::Rule, |rule| {
        /// Its stable name, which its findings carry.
        slug: String = rule.slug().to_string(),
        /// "error", "warning", "question" or "information".
        severity: Word<Severity> = Word(rule.severity()),
        /// What its findings say, without numbers.
        title: String = rule.title().to_string(),
        /// Who says so, with the entry.
        source: String = rule.source().to_string(),
        /// How its value is known: "seen", "secondary", "computed", "from-memory", "common-practice", "stated".
        mark: Word<Mark> = Word(rule.mark()),
        /// The first day it holds, if stated.
        valid_from: Option<String> = rule.from().map(|date| date.to_string()),
        /// The first day on which what was placed on the market before may not be made available any more, if it is a
        /// later one.
        available_from: Option<String> = rule.available_from().map(|date| date.to_string()),
        /// The last day it holds, if stated.
        valid_until: Option<String> = rule.until().map(|date| date.to_string()),
        /// The purpose of the lines that it is about, if it is about one.
        purpose: Option<Word<Purpose>> = rule.purpose().map(Word),
        /// What it does with the substances that it names, if it is an entry of law: "prohibited", "limit", "condition"
        /// and others.
        status: Option<Word<StatusKind>> = rule.status().map(Word),
        /// The act that made it what it is, or changed it last, if stated.
        act: Option<String> = rule.act().map(|act| act.title.clone()),
        /// What to do about a finding, if it says so.
        advice: Option<String> = rule.advice().map(str::to_string),
    }
}

/// Rules of one source, written in TOML or JSON. A rule without a source says "house rule".
///
/// >>> ours = td.review.RuleList.from_toml('''
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
#[pyclass(frozen, eq, from_py_object, module = "tenside.review")]
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
    mark: Word<Mark> = |it| Word(it.mark());
    /// What to know about the list.
    note: Option<String> = |it| it.note().map(str::to_string);
    /// The markets it is for; all where it is empty.
    markets: Vec<Word<Market>> = |it| words(it.markets());
    /// What it does not cover.
    not_covered: Vec<String> = |it| it.not_covered().to_vec();
    /// Its rules.
    rules: Rows<Rule> = |it| it.rules().iter().map(|rule| Rule::from(&**rule)).collect();
    /// Title, source, date and mark in one line.
    heading: String = |it| it.heading();
});

#[pymethods]
impl RuleList {
    /// The embedded lists that every review uses.
    ///
    /// >>> [each.consolidated for each in td.review.RuleList.starter() if each.id == "eu-annex-v"]
    /// ['2026-05-18']
    #[classmethod]
    fn starter(_class: &Bound<'_, PyType>) -> Vec<Self> {
        RuleBook::starter().lists().iter().cloned().map(RuleList).collect()
    }

    /// What the embedded lists carry, list by list and act by act, what they say of the substances of the table in each
    /// market and how that is known, and what they do not cover.
    ///
    /// >>> "Regulation (EU) 2026/909" in td.review.RuleList.coverage().text(120)
    /// True
    #[classmethod]
    fn coverage(_class: &Bound<'_, PyType>) -> Page {
        Page(RuleBook::starter().coverage(&SubstanceTable::starter()))
    }

    /// Reads a list in TOML.
    /// `text` is the document.
    #[classmethod]
    fn from_toml(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(RuleList(Arc::new(reading(py, [text], |[text]| tenside::rule::RuleList::read(text, Notation::Toml))?)))
    }

    /// Reads a list in JSON.
    /// `text` is the document.
    #[classmethod]
    fn from_json(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(RuleList(Arc::new(reading(py, [text], |[text]| tenside::rule::RuleList::read(text, Notation::Json))?)))
    }

    /// As a TOML document.
    ///
    /// >>> first = td.review.RuleList.starter()[0]
    /// >>> td.review.RuleList.from_toml(first.to_toml()) == first == td.review.RuleList.from_json(first.to_json())
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
