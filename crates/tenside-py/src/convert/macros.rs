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

/// A record of plain fields, which is its own copy and is pickled field by field.
macro_rules! record {
    ($(#[doc = $doc:literal])* $class:ident { $($(#[doc = $field_doc:literal])* $field:ident: $type:ty,)* }) => {
        $(#[doc = $doc])*
        #[pyo3::pyclass(frozen, get_all, eq, from_py_object, module = "tenside")]
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
