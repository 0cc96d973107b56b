//! A lot of a raw material.

use std::sync::Arc;

use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::bounds::Quantity;
use tenside::error::{Fault, FaultKind};
use tenside::material::{Certificate, StatedActive};
use tenside::number::Ppm;

use crate::convert::failure::Outcome;
use crate::convert::input::{Day, Number};
use crate::convert::output::{Keywords, repr};
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::material::catalogue::Catalogue;

const FIELDS: [&str; 11] = [
    "id",
    "material",
    "active",
    "method",
    "molar_mass",
    "solids",
    "loss_on_drying",
    "salt",
    "free_fatty_acid",
    "ph",
    "retest",
];

/// A lot with what its certificate of analysis states, percentages of the lot. `id` is the lot's; `molar_mass` is in
/// g/mol, `loss_on_drying` and `free_fatty_acid` are percent of the lot, `ph` is as certified.
///
/// What is stated replaces the typical values of the material; the difference goes to the constituent named for it.
///
/// >>> lot = td.Lot("W-27", "capb-30", active=29.1, method="solids less salt", salt=5.2, retest="2027-03-31")
/// >>> lot.active, lot.retest
/// (Decimal('29.1'), '2027-03-31')
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Lot(pub(crate) Arc<tenside::material::Lot>);

value!(Lot, |it| (it.id(), it.material()));

getters!(Lot {
    /// What the lot is called.
    id: String = |it| it.id().to_string();
    /// Id of its raw material.
    material: String = |it| it.material().to_string();
    /// Active matter.
    active: Option<Decimal> = |it| it.certificate().active.as_ref().map(|active| active.percent.decimal_percent());
    /// How the active matter was found.
    method: Option<String> = |it| it.certificate().active.as_ref().map(|active| active.method.clone());
    /// Molar mass in g/mol that the active matter was calculated with.
    molar_mass: Option<Decimal> = |it| it.certificate().active.as_ref().and_then(|active| active.molar_mass);
    /// Solids.
    solids: Option<Decimal> = |it| it.certificate().solids.map(Ppm::decimal_percent);
    /// Loss on drying.
    loss_on_drying: Option<Decimal> = |it| it.certificate().loss_on_drying.map(Ppm::decimal_percent);
    /// Salt.
    salt: Option<Decimal> = |it| it.certificate().salt.map(Ppm::decimal_percent);
    /// Free fatty acid.
    free_fatty_acid: Option<Decimal> = |it| it.certificate().free_fatty_acid.map(Ppm::decimal_percent);
    /// pH as measured by the supplier.
    ph: Option<Decimal> = |it| it.certificate().ph;
    /// Date by which it is to be tested again.
    retest: Option<String> = |it| it.certificate().retest.map(|date| date.to_string());
});

row!(Lot {
    id: String = |it| it.id(),
    material: String = |it| it.material(),
    active: Option<Decimal> = |it| it.active(),
    method: Option<String> = |it| it.method(),
    molar_mass: Option<Decimal> = |it| it.molar_mass(),
    solids: Option<Decimal> = |it| it.solids(),
    loss_on_drying: Option<Decimal> = |it| it.loss_on_drying(),
    salt: Option<Decimal> = |it| it.salt(),
    free_fatty_acid: Option<Decimal> = |it| it.free_fatty_acid(),
    ph: Option<Decimal> = |it| it.ph(),
    retest: Option<String> = |it| it.retest(),
});

shown!(Lot, |it| it.0.page());

#[pymethods]
impl Lot {
    /// Its page: what its certificate states.
    #[getter]
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    #[new]
    #[pyo3(signature = (id, material, *, active=None, method=None, molar_mass=None, solids=None, loss_on_drying=None, salt=None, free_fatty_acid=None, ph=None, retest=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        id: &str,
        material: &str,
        active: Option<Number>,
        method: Option<String>,
        molar_mass: Option<Number>,
        solids: Option<Number>,
        loss_on_drying: Option<Number>,
        salt: Option<Number>,
        free_fatty_acid: Option<Number>,
        ph: Option<Number>,
        retest: Option<Day>,
    ) -> Outcome<Self> {
        let ppm = |stated: Option<Number>| stated.map(|stated| stated.ppm()).transpose();
        let molar_mass = molar_mass.map(|mass| mass.decimal(Quantity::MolarMass)).transpose()?;
        let active = match (ppm(active)?, method) {
            (Some(percent), Some(method)) => Some(StatedActive { percent, method, molar_mass }),
            (None, None) if molar_mass.is_none() => None,
            _ => {
                return Err(Fault::new(FaultKind::Missing, "active matter and its method go together")
                    .allowed("active= and method=, or neither")
                    .into());
            }
        };
        let certificate = Certificate {
            active,
            solids: ppm(solids)?,
            loss_on_drying: ppm(loss_on_drying)?,
            salt: ppm(salt)?,
            free_fatty_acid: ppm(free_fatty_acid)?,
            ph: ph.map(|ph| ph.decimal(Quantity::Ph)).transpose()?,
            retest: retest.map(|day| day.0),
        };
        Ok(Lot(Arc::new(tenside::material::Lot::new(id, material, certificate)?)))
    }

    fn __getnewargs_ex__<'py>(slf: &Bound<'py, Self>) -> PyResult<((String, String), Keywords<'py>)> {
        let keywords = FIELDS[2..].iter().map(|name| Ok((*name, slf.getattr(*name)?))).collect::<PyResult<_>>()?;
        Ok(((slf.get().id(), slf.get().material()), keywords))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        repr(slf, &FIELDS)
    }
}

#[pymethods]
impl Catalogue {
    /// The lots, in the order added.
    fn lots(&self) -> Rows<Lot> {
        self.0.lots().map(|lot| Lot(Arc::clone(lot))).collect()
    }

    /// The lot of that name.
    fn lot(&self, name: &str) -> Outcome<Lot> {
        Ok(Lot(Arc::clone(self.0.lot(name)?)))
    }

    /// With one more lot.
    ///
    /// >>> cat = td.Catalogue.starter().with_lot(td.Lot("W-27", "capb-30", active=29.1, method="titrated"))
    /// >>> cat.lot("W-27").material
    /// 'capb-30'
    fn with_lot(&self, lot: &Lot) -> Outcome<Self> {
        Ok(self.0.with_lot(Arc::clone(&lot.0))?.into())
    }
}

one_of! {
    /// A lot, or what it is called in the catalogue.
    pub(crate) enum ALot: "a name or a Lot" {
        Name(String),
        Lot(Lot),
    }
}

impl ALot {
    pub(crate) fn find(self, catalogue: &tenside::catalogue::Catalogue) -> Outcome<Arc<tenside::material::Lot>> {
        match self {
            ALot::Name(name) => Ok(Arc::clone(catalogue.lot(&name)?)),
            ALot::Lot(lot) => Ok(lot.0),
        }
    }
}
