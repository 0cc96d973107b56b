//! What a supplier declares of scent constituents.

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use pyo3::types::PyTuple;
use rust_decimal::Decimal;

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::Number;
use crate::convert::output::{Keywords, repr};

const FIELDS: [&str; 4] = ["material", "source", "shares", "reporting"];

/// One share, or its lowest and highest value.
pub(crate) enum Share {
    Range((Number, Number)),
    Point(Number),
}

impl<'a, 'py> FromPyObject<'a, 'py> for Share {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(<(Number, Number)>::INPUT_TYPE, Number::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.is_instance_of::<PyTuple>() {
            Ok(Share::Range(object.extract()?))
        } else {
            Ok(Share::Point(object.extract()?))
        }
    }
}

/// A supplier's allergen declaration for one raw material, percent of the material. What it does not name is declared
/// to be absent, or at most the `reporting` limit. `source` says who declared it and when; `shares` are percent by
/// name, one number or lowest and highest.
///
/// >>> declared = td.label.ScentDeclaration("lavender-oil", "supplier, 2026-03-02", {"LINALOOL": (30, 36), "d-limonene": 0.5}, reporting=0.01)
/// >>> bar = td.Formula("Bar", {"kaolin": 99.4, "lavender-oil": 0.6}, td.Catalogue.starter())
/// >>> label = bar.label(market="EU", on="2026-11-24", declarations=[declared])
/// >>> label.scent("linalool").answer, label.scent("limonene").answer, label.scent("geraniol").answer
/// ('certain', 'below', 'below')
#[pyclass(frozen, eq, from_py_object, module = "tenside.label")]
#[derive(Clone, PartialEq)]
pub(crate) struct ScentDeclaration(pub(crate) tenside::label::ScentDeclaration);

value!(ScentDeclaration, |it| (it.material(), it.source()));

getters!(ScentDeclaration {
    /// The id of the raw material.
    material: String = |it| it.material().to_string();
    /// Who declared it, and when.
    source: String = |it| it.source().to_string();
    /// Lowest and highest percent by name.
    shares: IndexMap<String, (Decimal, Decimal)> = |it| {
        let shares = it.shares().map(|(name, low, high)| (name.to_string(), (low.decimal_percent(), high.decimal_percent())));
        shares.chain(it.prohibited().map(|(name, high)| (name.to_string(), (Decimal::ZERO, high.decimal_percent())))).collect()
    };
    /// The most there can be of what it does not name, percent.
    reporting: Decimal = |it| it.reporting().decimal_percent();
});

#[pymethods]
impl ScentDeclaration {
    #[new]
    #[pyo3(signature = (material, source, shares=None, *, reporting=None))]
    fn new(
        material: &str,
        source: &str,
        shares: Option<IndexMap<String, Share>>,
        reporting: Option<Number>,
    ) -> Outcome<Self> {
        let mut declared = tenside::label::ScentDeclaration::new(material, source)?;
        for (name, share) in shares.unwrap_or_default() {
            let (low, high) = match share {
                Share::Range((low, high)) => (low.ppm()?, high.ppm()?),
                Share::Point(share) => (share.ppm()?, share.ppm()?),
            };
            declared = declared.holding(&name, low, high)?;
        }
        Ok(ScentDeclaration(match reporting {
            Some(limit) => declared.reporting_from(&limit.0)?,
            None => declared,
        }))
    }

    fn __getnewargs_ex__<'py>(slf: &Bound<'py, Self>) -> PyResult<((String, String), Keywords<'py>)> {
        let keywords = FIELDS[2..].iter().map(|name| Ok((*name, slf.getattr(*name)?))).collect::<PyResult<_>>()?;
        Ok(((slf.get().material(), slf.get().source()), keywords))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        repr(slf, &FIELDS)
    }
}
