//! What many classes have in common, written once.

/// Attributes of a class around a value of the core: name, type, how it is read off the value.
macro_rules! getters {
    ($class:ident { $($(#[doc = $doc:literal])* $name:ident: $type:ty = |$value:ident| $body:expr;)* }) => {
        #[pyo3::pymethods]
        impl $class {
            $(
                $(#[doc = $doc])*
                #[getter]
                fn $name(&self) -> $type {
                    let $value = &self.0;
                    $body
                }
            )*
        }
    };
}

/// One of several types, the first that fits. What is of none of them is refused by these words; what would be of one
/// but for what it says, by that one's own.
macro_rules! one_of {
    ($(#[$attribute:meta])* $visibility:vis enum $name:ident $(<$lifetime:lifetime>)?: $words:literal {
        $($variant:ident($type:ty),)+
    }) => {
        $(#[$attribute])*
        $visibility enum $name $(<$lifetime>)? {
            $($variant($type),)+
        }

        impl<'a, 'py> pyo3::FromPyObject<'a, 'py> for $name $(<$lifetime>)? {
            type Error = pyo3::PyErr;
            const INPUT_TYPE: pyo3::inspect::PyStaticExpr = {
                use pyo3::type_hint_union;
                type_hint_union!($(<$type as pyo3::FromPyObject>::INPUT_TYPE),+)
            };

            fn extract(object: pyo3::Borrowed<'a, 'py, pyo3::PyAny>) -> pyo3::PyResult<Self> {
                use pyo3::types::PyAnyMethods as _;
                let mut refusals: Vec<pyo3::PyErr> = Vec::new();
                $(
                    match object.extract::<$type>() {
                        Ok(found) => return Ok($name::$variant(found)),
                        Err(error) => refusals.push(error.into()),
                    }
                )+
                let is_of_another_type =
                    |error: &pyo3::PyErr| error.is_instance_of::<pyo3::exceptions::PyTypeError>(object.py());
                let of_its_own = refusals.into_iter().find(|error| !is_of_another_type(error));
                Err(of_its_own.unwrap_or_else(|| {
                    let found = object.get_type().name().map_or_else(|_| String::new(), |name| name.to_string());
                    pyo3::exceptions::PyTypeError::new_err(format!("{} is expected (found {found})", $words))
                }))
            }
        }
    };
}

/// An immutable value is its own copy, and hashes by what names it.
macro_rules! value {
    ($class:ident, |$value:ident| $key:expr) => {
        #[pyo3::pymethods]
        impl $class {
            fn __hash__(&self) -> u64 {
                let $value = &self.0;
                $crate::convert::output::hash(&$key)
            }
        }
        copied!($class);
    };
}

/// A record of plain fields, which is its own copy and is pickled field by field. Before it stands the module that holds
/// it.
macro_rules! record {
    ($module:literal, $(#[doc = $doc:literal])* $class:ident { $($(#[doc = $field_doc:literal])* $field:ident: $type:ty,)* }) => {
        $(#[doc = $doc])*
        #[pyo3::pyclass(frozen, get_all, eq, from_py_object, module = $module)]
        #[derive(Clone, PartialEq)]
        pub(crate) struct $class {
            $($(#[doc = $field_doc])* pub(crate) $field: $type,)*
        }

        #[pyo3::pymethods]
        impl $class {
            #[classmethod]
            #[allow(clippy::too_many_arguments, reason = "one a field")]
            fn _of(_class: &pyo3::Bound<'_, pyo3::types::PyType>, $($field: $type),*) -> Self {
                $class { $($field),* }
            }

            fn __reduce__<'py>(slf: &pyo3::Bound<'py, Self>) -> pyo3::PyResult<$crate::convert::pickled::Reduced<'py>> {
                use pyo3::types::PyAnyMethods as _;
                let fields = [$(slf.getattr(stringify!($field))?),*];
                Ok((slf.get_type().getattr("_of")?, pyo3::types::PyTuple::new(slf.py(), fields)?))
            }

            fn __repr__(slf: &pyo3::Bound<'_, Self>) -> pyo3::PyResult<String> {
                $crate::convert::output::repr(slf, &[$(stringify!($field)),*])
            }

            fn __hash__(slf: &pyo3::Bound<'_, Self>) -> pyo3::PyResult<u64> {
                Ok($crate::convert::output::hash(&Self::__repr__(slf)?))
            }
        }

        copied!($class);

        impl $crate::convert::column::Cell for $class {
            fn columns(name: &str, cells: &[Option<&Self>], into: &mut $crate::convert::column::Columns) {
                $(
                    let fields: Vec<Option<&$type>> = cells.iter().map(|cell| cell.map(|record| &record.$field)).collect();
                    <$type as $crate::convert::column::Cell>::columns(&$crate::convert::column::inside(name, stringify!($field)), &fields, into);
                )*
            }
        }

        in_tables!($class);
    };
    // One of a value of the core, with how each field is read off it.
    (
        $module:literal, $(#[doc = $doc:literal])* $class:ident of $core:ty,
        |$it:ident| { $($(#[doc = $field_doc:literal])* $field:ident: $type:ty = $value:expr,)* }
    ) => {
        record! { $module, $(#[doc = $doc])* $class { $($(#[doc = $field_doc])* $field: $type,)* } }

        impl From<$core> for $class {
            fn from($it: $core) -> Self {
                $class { $($field: $value),* }
            }
        }
    };
}

/// A result as a document, in every notation; with `back` also read again and, unless `pickled otherwise`, pickled as
/// one.
macro_rules! document {
    ($class:ident, |$it:ident| $result:expr) => {
        #[pyo3::pymethods]
        impl $class {
            /// As a JSON document: its question and what came of it. Raw materials stand in it by name, or whole with
            /// `materials=True`.
            #[pyo3(signature = (*, materials=false))]
            fn to_json(&self, py: pyo3::Python<'_>, materials: bool) -> $crate::convert::failure::Outcome<String> {
                let $it = self;
                $crate::convert::documents::written(py, $result, tenside::document::Notation::Json, materials)
            }

            /// As a TOML document: its question and what came of it. Raw materials stand in it by name, or whole with
            /// `materials=True`.
            #[pyo3(signature = (*, materials=false))]
            fn to_toml(&self, py: pyo3::Python<'_>, materials: bool) -> $crate::convert::failure::Outcome<String> {
                let $it = self;
                $crate::convert::documents::written(py, $result, tenside::document::Notation::Toml, materials)
            }

            /// The JSON document as a dict, list and plain values; `materials` as for `to_json`.
            #[pyo3(signature = (*, materials=false) -> "dict[str, Any]")]
            fn to_dict<'py>(
                &self,
                py: pyo3::Python<'py>,
                materials: bool,
            ) -> $crate::convert::failure::Outcome<pyo3::Bound<'py, pyo3::PyAny>> {
                $crate::convert::documents::as_dict(py, &self.to_json(py, materials)?)
            }
        }
    };
    ($class:ident, |$it:ident| $result:expr, back by $core:ty $(, pickled $otherwise:ident)?) => {
        document!($class, |$it| $result, back $($otherwise)?, |text, notation, catalogue, _watch| {
            <$core>::read(text, notation, catalogue)
        });
    };
    // One that names no raw materials.
    ($class:ident, |$it:ident| $result:expr, back alone by $core:ty $(, pickled $otherwise:ident)?) => {
        document!($class, |$it| $result, back $($otherwise)?, |text, notation, _catalogue, _watch| {
            <$core>::read(text, notation)
        });
    };
    // One whose question may take long to ask again.
    ($class:ident, |$it:ident| $result:expr, back watched by $core:ty $(, pickled $otherwise:ident)?) => {
        document!($class, |$it| $result, back $($otherwise)?, |text, notation, catalogue, watch| {
            <$core>::read_watched(text, notation, catalogue, watch)
        });
    };
    (
        $class:ident, |$it:ident| $result:expr, back,
        |$text:ident, $notation:ident, $catalogue:ident, $watch:ident| $read:expr
    ) => {
        document!($class, |$it| $result, back otherwise, |$text, $notation, $catalogue, $watch| $read);

        #[pyo3::pymethods]
        impl $class {
            fn __reduce__<'py>(
                &self,
                py: pyo3::Python<'py>,
            ) -> $crate::convert::failure::Outcome<(pyo3::Bound<'py, pyo3::PyAny>, (String,))> {
                use pyo3::types::PyAnyMethods as _;
                Ok((py.get_type::<$class>().getattr("from_json")?, (self.to_json(py, true)?,)))
            }
        }
    };
    (
        $class:ident, |$it:ident| $result:expr, back otherwise,
        |$text:ident, $notation:ident, $catalogue:ident, $watch:ident| $read:expr
    ) => {
        document!($class, |$it| $result);

        #[pyo3::pymethods]
        impl $class {
            /// Reads `text`, a JSON document, back, materials that it only names from the `catalogue`, by default the
            /// starter catalogue. It is believed where asking its question again gives just what it says; else
            /// Contradiction says where it differs.
            #[classmethod]
            #[pyo3(signature = (text, catalogue=None))]
            fn from_json(
                _class: &pyo3::Bound<'_, pyo3::types::PyType>,
                py: pyo3::Python<'_>,
                text: &str,
                catalogue: Option<&$crate::material::catalogue::Catalogue>,
            ) -> $crate::convert::failure::Outcome<Self> {
                $class::read(
                    py,
                    text,
                    tenside::document::Notation::Json,
                    &$crate::material::catalogue::Catalogue::or_starter(catalogue),
                )
            }

            /// Reads `text`, a TOML document, back, with a `catalogue` as `from_json` does.
            #[classmethod]
            #[pyo3(signature = (text, catalogue=None))]
            fn from_toml(
                _class: &pyo3::Bound<'_, pyo3::types::PyType>,
                py: pyo3::Python<'_>,
                text: &str,
                catalogue: Option<&$crate::material::catalogue::Catalogue>,
            ) -> $crate::convert::failure::Outcome<Self> {
                $class::read(
                    py,
                    text,
                    tenside::document::Notation::Toml,
                    &$crate::material::catalogue::Catalogue::or_starter(catalogue),
                )
            }
        }

        impl $class {
            pub(crate) fn read(
                py: pyo3::Python<'_>,
                text: &str,
                notation: tenside::document::Notation,
                catalogue: &$crate::material::catalogue::Catalogue,
            ) -> $crate::convert::failure::Outcome<Self> {
                let catalogue = catalogue.0.clone();
                Ok($class($crate::convert::running::reading_watched(py, [text], move |[$text], $watch| {
                    let ($notation, $catalogue) = (notation, &catalogue);
                    $read
                })?))
            }
        }
    };
}

/// What a class is as a row of a table: the columns, and how each is read off it.
macro_rules! row {
    ($class:ident { $($name:ident: $type:ty = |$value:ident| $body:expr),* $(,)? }) => {
        impl $crate::convert::column::Cell for $class {
            fn columns(name: &str, cells: &[Option<&Self>], into: &mut $crate::convert::column::Columns) {
                $(
                    let values: Vec<Option<$type>> = cells.iter().map(|cell| cell.map(|$value| $body)).collect();
                    $crate::convert::column::worked_out(&$crate::convert::column::inside(name, stringify!($name)), &values, into);
                )*
            }
        }
        in_tables!($class);
    };
}

/// What a class is as a cell of a record: text.
macro_rules! text_cell {
    ($class:ident, |$it:ident| $text:expr) => {
        impl $crate::convert::column::Cell for $class {
            fn columns(name: &str, cells: &[Option<&Self>], into: &mut $crate::convert::column::Columns) {
                let texts: Vec<Option<String>> = cells.iter().map(|cell| cell.map(|$it| $text)).collect();
                $crate::convert::column::worked_out(name, &texts, into);
            }
        }
    };
}

/// What hands its columns over to any library that takes Arrow.
macro_rules! arrow {
    ($class:ident, |$it:ident, $py:ident| $batch:expr) => {
        #[pyo3::pymethods]
        impl $class {
            /// The Arrow C stream of its columns: one record batch. A schema that is asked for is not converted to.
            #[pyo3(signature = (requested_schema: "object | None"=None) -> "object")]
            fn __arrow_c_stream__<'py>(
                &self,
                py: pyo3::Python<'py>,
                requested_schema: Option<pyo3::Bound<'py, pyo3::PyAny>>,
            ) -> $crate::convert::failure::Outcome<pyo3::Bound<'py, pyo3::types::PyCapsule>> {
                let (_, $it, $py) = (requested_schema, self, py);
                $crate::convert::arrow::stream(py, &$batch)
            }

            /// The Arrow C schema of its columns.
            #[pyo3(signature = () -> "object")]
            fn __arrow_c_schema__<'py>(
                &self,
                py: pyo3::Python<'py>,
            ) -> $crate::convert::failure::Outcome<pyo3::Bound<'py, pyo3::types::PyCapsule>> {
                let ($it, $py) = (self, py);
                $crate::convert::arrow::c_schema(py, &$batch)
            }

            /// As a polars data frame.
            #[pyo3(signature = () -> "Any")]
            fn to_polars<'py>(slf: &pyo3::Bound<'py, Self>) -> pyo3::PyResult<pyo3::Bound<'py, pyo3::PyAny>> {
                $crate::convert::arrow::handed_over(slf.as_any(), "to_polars")
            }

            /// As a pyarrow table.
            #[pyo3(signature = () -> "Any")]
            fn to_pyarrow<'py>(slf: &pyo3::Bound<'py, Self>) -> pyo3::PyResult<pyo3::Bound<'py, pyo3::PyAny>> {
                $crate::convert::arrow::handed_over(slf.as_any(), "to_pyarrow")
            }

            /// As a pandas data frame through pyarrow, its columns backed by Arrow.
            #[pyo3(signature = () -> "Any")]
            fn to_pandas<'py>(slf: &pyo3::Bound<'py, Self>) -> pyo3::PyResult<pyo3::Bound<'py, pyo3::PyAny>> {
                $crate::convert::arrow::handed_over(slf.as_any(), "to_pandas")
            }
        }
    };
}

/// How rows of a class come back from a pickle.
macro_rules! in_tables {
    ($class:ident) => {
        #[pyo3::pymethods]
        impl $class {
            #[classmethod]
            fn _table(
                _class: &pyo3::Bound<'_, pyo3::types::PyType>,
                py: pyo3::Python<'_>,
                rows: Vec<pyo3::Py<Self>>,
                page: Option<$crate::convert::page::Page>,
            ) -> $crate::convert::table::Table {
                $crate::convert::table::Table::of_rows(py, rows, page)
            }
        }
    };
}

/// An immutable value is its own copy.
macro_rules! copied {
    ($class:ident) => {
        #[pyo3::pymethods]
        impl $class {
            fn __copy__(slf: pyo3::Py<Self>) -> pyo3::Py<Self> {
                slf
            }

            #[pyo3(signature = (memo, /))]
            fn __deepcopy__(slf: pyo3::Py<Self>, memo: &pyo3::Bound<'_, pyo3::PyAny>) -> pyo3::Py<Self> {
                let _ = memo;
                slf
            }
        }
    };
}

/// How a value that has a page is shown in a notebook and printed.
macro_rules! shown {
    ($class:ident, |$value:ident| $page:expr) => {
        #[pyo3::pymethods]
        impl $class {
            fn _repr_html_(&self) -> String {
                let $value = self;
                $page.html()
            }

            fn __str__(&self) -> String {
                let $value = self;
                $page.text($crate::convert::page::WIDTH)
            }
        }
    };
    // A page that can fail, as where a price is missing.
    ($class:ident, |$value:ident| $page:expr, fallible) => {
        #[pyo3::pymethods]
        impl $class {
            fn _repr_html_(&self) -> $crate::convert::failure::Outcome<String> {
                let $value = self;
                Ok($page?.html())
            }

            fn __str__(&self) -> $crate::convert::failure::Outcome<String> {
                let $value = self;
                Ok($page?.text($crate::convert::page::WIDTH))
            }
        }
    };
}
