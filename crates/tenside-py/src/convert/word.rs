//! Words of the closed lists: plain text in Python, of a type of `tenside.words` in the stub.

use std::sync::Arc;

use arrow_array::StringArray;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::PyString;
use pyo3::{type_hint_identifier, type_hint_subscript, type_hint_union};
use tenside::bounds::Quantity;
use tenside::document::Named;

use crate::convert::column::{Cell, Columns};
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::one_by_one;

/// A word of a closed list.
#[derive(Clone, Copy, PartialEq, Eq, Hash)]
pub(crate) struct Word<T>(pub(crate) T);

impl<T: Named> Word<T> {
    const TYPE: PyStaticExpr = type_hint_identifier!("tenside.words", T::NAME);
}

impl<'a, 'py, T: Named> FromPyObject<'a, 'py> for Word<T> {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = Self::TYPE;

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let text = object.extract::<String>().or_else(|error| {
            // A row of the list itself is its word.
            object.getattr("word").and_then(|word| word.extract::<String>()).map_err(|_| error)
        })?;
        Ok(Word(T::parse(&text)?))
    }
}

impl<'py, T: Named> IntoPyObject<'py> for Word<T> {
    type Target = PyString;
    type Output = Bound<'py, PyString>;
    type Error = std::convert::Infallible;
    const OUTPUT_TYPE: PyStaticExpr = Self::TYPE;

    fn into_pyobject(self, py: Python<'py>) -> Result<Self::Output, Self::Error> {
        self.0.slug().into_pyobject(py)
    }
}

impl<'py, T: Named> IntoPyObject<'py> for &Word<T> {
    type Target = PyString;
    type Output = Bound<'py, PyString>;
    type Error = std::convert::Infallible;
    const OUTPUT_TYPE: PyStaticExpr = Word::<T>::TYPE;

    fn into_pyobject(self, py: Python<'py>) -> Result<Self::Output, Self::Error> {
        (*self).into_pyobject(py)
    }
}

impl<T: Named> Cell for Word<T> {
    fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns) {
        let array: StringArray = cells.iter().map(|cell| cell.map(|word| word.0.slug())).collect();
        into.push((name.to_string(), Arc::new(array)));
    }
}

/// One word of a closed list or several.
pub(crate) struct Words<T>(pub(crate) Vec<T>);

impl<'a, 'py, T: Named> FromPyObject<'a, 'py> for Words<T> {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        Word::<T>::TYPE,
        type_hint_subscript!(type_hint_identifier!("collections.abc", "Iterable"), Word::<T>::TYPE)
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.is_instance_of::<PyString>() || object.hasattr("word")? {
            return Ok(Words(vec![Word::extract(object)?.0]));
        }
        one_by_one(&object, Quantity::Entries, |word| Ok(word.extract::<Word<T>>()?.0)).map(Words)
    }
}

/// Each as a word.
pub(crate) fn words<T: Named>(words: &[T]) -> Vec<Word<T>> {
    words.iter().copied().map(Word).collect()
}
