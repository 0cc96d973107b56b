//! Pages.

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::render;

use crate::convert::failure::Outcome;
use crate::convert::output::{from_json, to_json};

/// Columns of a terminal.
pub(crate) const WIDTH: usize = 80;

/// A page for a notebook (escaped HTML), a terminal or a document.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> clay.page(td.as_charged, td.finished(moisture=1)).markdown().splitlines()[0]
/// '# Clay'
#[pyclass(frozen, eq, from_py_object, module = "tenside.document")]
#[derive(Clone, PartialEq)]
pub(crate) struct Page(pub(crate) render::Page);

value!(Page, |it| &it.title);
shown!(Page, |it| it.0);

#[pymethods]
impl Page {
    /// As plain text of at most that many columns.
    /// `width` is how many.
    #[pyo3(signature = (width=80))]
    fn text(&self, width: u16) -> String {
        self.0.text(usize::from(width))
    }

    /// As Markdown, markup in names escaped.
    fn markdown(&self) -> String {
        self.0.markdown()
    }

    /// As an HTML element, everything escaped.
    fn html(&self) -> String {
        self.0.html()
    }

    /// As a whole HTML document that prints on its own.
    fn html_document(&self) -> String {
        self.0.html_document()
    }

    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, json: &str) -> Outcome<Self> {
        Ok(Page(from_json(json)?))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("_of")?, (to_json(&slf.get().0)?,)))
    }

    fn __repr__(&self) -> String {
        self.0.text(WIDTH)
    }
}
