//! What is stated of a raw material or substance, yes or no.

use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::{type_hint_identifier, type_hint_subscript};
use tenside::bounds::Quantity;
use tenside::substance::Attribute;

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{items, one_by_one};
use crate::convert::word::Word;

/// Yes or no by attribute.
pub(crate) struct Attributes(pub(crate) Vec<(Attribute, bool)>);

impl<'a, 'py> FromPyObject<'a, 'py> for Attributes {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_subscript!(
        type_hint_identifier!("collections.abc", "Mapping"),
        Word::<Attribute>::INPUT_TYPE,
        type_hint_identifier!("builtins", "bool")
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let entry = |entry: Bound<'py, PyAny>| {
            let (name, value): (Bound<'py, PyAny>, bool) = entry.extract()?;
            Ok((Word::extract(name.as_borrowed())?.0, value))
        };
        one_by_one(&items(&object)?, Quantity::Entries, entry).map(Attributes)
    }
}
