//! Which formula came from which.

use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use tenside::formula::{Relation, Traceable};

use crate::brief::Brief;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::Several;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;

/// A document that formulas come from, or that came from one.
pub(crate) enum Ancestor {
    Brief(Box<Brief>),
    Formula(Formula),
}

impl<'py> FromPyObject<'_, 'py> for Ancestor {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(Brief::INPUT_TYPE, Formula::INPUT_TYPE);

    fn extract(object: Borrowed<'_, 'py, PyAny>) -> Outcome<Self> {
        if let Ok(brief) = object.extract() {
            return Ok(Ancestor::Brief(Box::new(brief)));
        }
        Ok(Ancestor::Formula(object.extract().map_err(|error| Failure::Python(PyErr::from(error)))?))
    }
}

impl Ancestor {
    fn document(&self) -> &dyn Traceable {
        match self {
            Ancestor::Brief(brief) => &brief.0,
            Ancestor::Formula(formula) => &formula.0,
        }
    }
}

record! {
    "tenside.formula",
    /// What a formula came from.
    Parent of &tenside::formula::Parent, |parent| {
        /// How it came from it.
        relation: Word<Relation> = Word(parent.relation()),
        /// SHA-256 of the parent's document as JSON, raw materials embedded, keys sorted, without white space.
        sha256: String = parent.sha256().to_string(),
    }
}

record! {
    "tenside.formula",
    /// One document of a history.
    HistoryEntry of tenside::formula::HistoryEntry, |entry| {
        /// Its title.
        title: String = entry.title,
        /// SHA-256 of its document.
        sha256: String = entry.sha256,
        /// How it came from its parent; None if it names none.
        relation: Option<Word<Relation>> = entry.parent.as_ref().map(|parent| Word(parent.relation())),
        /// The hash of its parent; None if it names none.
        parent: Option<String> = entry.parent.map(|parent| parent.sha256().to_string()),
        /// The title of its parent; None if that is not among the documents.
        parent_title: Option<String> = entry.parent_title,
        /// How many of its ancestors are among the documents, in one line.
        generation: usize = entry.generation,
    }
}

/// Which of these `documents`, formulas and briefs, came from which: each once, every parent before its children, else
/// in the order given.
///
/// >>> cat = td.Catalogue.starter()
/// >>> brief = td.Brief("Plain bar", cat).fix("sci-powder", 60).qs("kaolin")
/// >>> planned = brief.solve().formula.with_parent(brief, "answer")
/// >>> made = td.Formula("Plain bar, batch 7", {"sci-powder": 61, "kaolin": 39}, cat).with_parent(planned, "as-made")
/// >>> [(entry.generation, entry.title, entry.relation) for entry in td.formula.history([made, planned, brief])]
/// [(0, 'Plain bar', None), (1, 'Plain bar', 'answer'), (2, 'Plain bar, batch 7', 'as-made')]
#[pyfunction]
pub(crate) fn history(py: Python<'_>, documents: Several<Ancestor>) -> Outcome<Rows<HistoryEntry>> {
    let entries = py.detach(|| tenside::formula::history(documents.0.iter().map(Ancestor::document)))?;
    Ok(entries.into_iter().map(HistoryEntry::from).collect())
}

#[pymethods]
impl Formula {
    /// With what it came from: the `parent`, a formula or a brief, and its `relation` to it, `answer` of a brief,
    /// `variant` of a formula or what was really weighed of one, `as-made`. The parent is named by what it holds, so
    /// that a parent changed later is no longer it.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
    /// >>> bar.with_title("Bar 2").with_parent(bar, "variant").parent.sha256 == bar.sha256
    /// True
    fn with_parent(&self, parent: Ancestor, relation: Word<Relation>) -> Outcome<Self> {
        let parent = tenside::formula::Parent::of(parent.document(), relation.0)?;
        Ok(Formula(self.0.clone().with_parent(Some(parent))))
    }

    /// What it came from; None if it does not say so.
    #[getter]
    fn parent(&self) -> Option<Parent> {
        self.0.parent().map(Parent::from)
    }

    /// SHA-256 of its document as JSON, raw materials embedded, keys sorted, without white space; its parent counts
    /// too.
    #[getter]
    fn sha256(&self) -> Outcome<String> {
        Ok(self.0.sha256()?)
    }
}

#[pymethods]
impl Brief {
    /// SHA-256 of its document as JSON, raw materials embedded, keys sorted, without white space.
    #[getter]
    fn sha256(&self) -> Outcome<String> {
        Ok(self.0.sha256()?)
    }
}
