//! The Python face of `tenside`. It converts, forwards and documents; arithmetic and chemistry live in the core.

mod exact;

/// The compiled half of the package `tenside`.
#[pyo3::pymodule]
mod _native {
    #[pymodule_export]
    use crate::exact::Exact;

    /// The version of the library.
    #[pymodule_export]
    #[allow(non_upper_case_globals, reason = "Python spells it so")]
    const __version__: &str = env!("CARGO_PKG_VERSION");
}
