//! What suppliers offer.

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::PyType;

use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, ByName, Number, Several};
use crate::convert::output::{Fraction, Keywords, repr};
use crate::convert::pickled::Reduced;
use crate::convert::table::Rows;
use crate::material::catalogue::Catalogue;
use crate::material::prices::PriceList;

/// A pack of a raw material as it is offered: its `size` with unit, its `price` before tax, and as `breaks` what each
/// costs from so many packs on.
///
/// >>> td.cost.Pack("sci-powder", "1 kg", 9, breaks={5: "8.10"}).price_of(5)
/// Fraction(81, 2)
#[pyclass(frozen, eq, from_py_object, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct Pack(pub(crate) tenside::cost::Pack);

value!(Pack, |it| (it.material(), it.size()));

getters!(Pack {
    /// The raw material.
    material: String = |it| it.material().to_string();
    /// Grams in the pack.
    grams: Fraction = |it| Fraction(it.size().grams().clone());
    /// What one pack costs, before tax.
    price: Fraction = |it| Fraction(it.steps()[0].1.clone());
    /// What each costs from so many packs on.
    breaks: IndexMap<u32, Fraction> = |it| it.steps()[1..].iter().map(|(from, price)| (*from, Fraction(price.clone()))).collect();
});

#[pymethods]
impl Pack {
    #[new]
    #[pyo3(signature = (material, size, price, *, breaks=None))]
    fn new(material: &str, size: AMass, price: Number, breaks: Option<IndexMap<u32, Number>>) -> Outcome<Self> {
        let mut pack = tenside::cost::Pack::new(material, size.0, price.0)?;
        for (from, price) in breaks.unwrap_or_default() {
            pack = pack.with_break(from, price.0)?;
        }
        Ok(Pack(pack))
    }

    /// What so many `packs` cost together, before tax.
    fn price_of(&self, packs: u32) -> Outcome<Fraction> {
        Ok(Fraction(self.0.price_of(packs)?))
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((String, String, Fraction), Keywords<'py>)> {
        let keywords = IndexMap::from([("breaks", self.breaks().into_pyobject(py)?.into_any())]);
        Ok(((self.material(), self.0.size().to_string(), self.price()), keywords))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        repr(slf, &["material", "grams", "price", "breaks"])
    }
}

/// A supplier by name, with packs and terms: the currency of the invoice, the freight of an order, the value of goods
/// before tax from which on there is none, the tax on goods and freight in percent. Freight and tax that are not stated
/// count as none, and purchases say so.
///
/// >>> td.cost.Supplier("Depot North", [td.cost.Pack("kaolin", "1 kg", 4)], currency="EUR", freight="8.90", free_from=150, tax=19).freight_of(149)
/// Fraction(89, 10)
#[pyclass(frozen, eq, from_py_object, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct Supplier(pub(crate) tenside::cost::Supplier);

value!(Supplier, |it| it.name());

const TERMS: [&str; 4] = ["currency", "freight", "free_from", "tax"];

getters!(Supplier {
    /// The name.
    name: String = |it| it.name().to_string();
    /// The packs.
    packs: Vec<Pack> = |it| it.packs().iter().cloned().map(Pack).collect();
    /// The currency of the invoice.
    currency: String = |it| it.currency().to_string();
    /// The freight of an order before tax, if stated.
    freight: Option<Fraction> = |it| it.freight().cloned().map(Fraction);
    /// The value of goods before tax from which on there is no freight, if stated.
    free_from: Option<Fraction> = |it| it.free_of_freight_from().cloned().map(Fraction);
    /// The tax on goods and freight in percent, if stated.
    tax: Option<Fraction> = |it| it.tax().cloned().map(Fraction);
});

#[pymethods]
impl Supplier {
    #[new]
    #[pyo3(signature = (name, packs, *, currency="currency", freight=None, free_from=None, tax=None))]
    fn new(
        name: &str,
        packs: Several<Pack>,
        currency: &str,
        freight: Option<Number>,
        free_from: Option<Number>,
        tax: Option<Number>,
    ) -> Outcome<Self> {
        let mut supplier = tenside::cost::Supplier::new(name, currency)?;
        if let Some(freight) = freight {
            supplier = supplier.with_freight(freight.0)?;
        }
        if let Some(goods) = free_from {
            supplier = supplier.free_from(goods.0)?;
        }
        if let Some(percent) = tax {
            supplier = supplier.with_tax(percent.0)?;
        }
        for pack in packs.0 {
            supplier = supplier.with_pack(pack.0)?;
        }
        Ok(Supplier(supplier))
    }

    /// The freight, before tax, of an order of `goods` of this value before tax.
    fn freight_of(&self, goods: Number) -> Outcome<Fraction> {
        Ok(Fraction(self.0.freight_of(goods.0)?))
    }

    fn __getnewargs_ex__<'py>(slf: &Bound<'py, Self>) -> PyResult<((String, Vec<Pack>), Keywords<'py>)> {
        let keywords = TERMS.iter().map(|name| Ok((*name, slf.getattr(*name)?))).collect::<PyResult<_>>()?;
        Ok(((slf.get().name(), slf.get().packs()), keywords))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        repr(slf, &["name", "packs", "currency", "freight", "free_from", "tax"])
    }
}

record! {
    "tenside.cost",
    /// One price of a pack, in the currency of the offers.
    PackPrice of tenside::cost::PackPrice, |pack| {
        /// The supplier.
        supplier: String = pack.supplier,
        /// The raw material.
        material: String = pack.material,
        /// Grams in the pack.
        grams: Fraction = Fraction(pack.size.grams().clone()),
        /// From how many packs on it holds.
        from_packs: u32 = pack.from,
        /// What one pack costs, before tax.
        price: Fraction = Fraction(pack.price),
        /// What a kilogram costs, with the supplier's tax.
        per_kilogram: Fraction = Fraction(pack.per_kilogram),
    }
}

/// What suppliers offer, counted in one currency. Raw materials are looked up by id or name in the catalogue, by
/// default the starter catalogue. A supplier in another currency needs one of the `rates`: what one unit of it is in
/// this one.
///
/// >>> north = td.cost.Supplier("Depot North", [td.cost.Pack("SCI powder", "1 kg", 9), td.cost.Pack("kaolin", "500 g", "2.20")], currency="EUR")
/// >>> offers = td.cost.Offers([north], currency="EUR")
/// >>> prices = offers.price_list()
/// >>> prices["sci-powder"], prices["kaolin"], prices.currency
/// (Decimal('9'), Decimal('4.4'), 'EUR')
#[pyclass(frozen, eq, from_py_object, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct Offers(pub(crate) tenside::cost::Offers);

value!(Offers, |it| (it.currency(), it.suppliers().len()));

document!(Offers, |it| &it.0, back by tenside::cost::Offers, pickled otherwise);

getters!(Offers {
    /// The currency that offers are compared in.
    currency: String = |it| it.currency().to_string();
    /// What one unit of another currency is in this one.
    rates: IndexMap<String, Fraction> = |it| it.rates().iter().map(|(currency, rate)| (currency.clone(), Fraction(rate.clone()))).collect();
    /// The suppliers.
    suppliers: Vec<Supplier> = |it| it.suppliers().iter().cloned().map(Supplier).collect();
    /// Every price of every pack, in the currency of the offers.
    packs: Rows<PackPrice> = |it| it.packs().into_iter().map(PackPrice::from).collect();
});

fn offers(suppliers: Vec<Supplier>, currency: &str, rates: Vec<(String, Number)>) -> Outcome<tenside::cost::Offers> {
    let mut offers = tenside::cost::Offers::new(currency)?;
    for (currency, rate) in rates {
        offers = offers.with_rate(&currency, rate.0)?;
    }
    for supplier in suppliers {
        offers = offers.with_supplier(supplier.0)?;
    }
    Ok(offers)
}

#[pymethods]
impl Offers {
    #[new]
    #[pyo3(signature = (suppliers, catalogue=None, *, currency="currency", rates=None))]
    fn new(
        suppliers: Several<Supplier>,
        catalogue: Option<&Catalogue>,
        currency: &str,
        rates: Option<ByName>,
    ) -> Outcome<Self> {
        let offers = offers(suppliers.0, currency, rates.map_or_else(Vec::new, |rates| rates.0))?;
        Ok(Offers(offers.with_ids_of(&Catalogue::or_starter(catalogue).0)?))
    }

    /// Of each raw material the lowest price per kilogram at which a single pack is to be had, with the supplier's tax,
    /// without freight, as `prices=` of briefs and formulas takes it. Rounded to the sixth decimal place; `packs` has
    /// the prices exact.
    fn price_list(&self) -> Outcome<PriceList> {
        Ok(PriceList(Arc::new(self.0.price_list()?)))
    }

    /// The ids are those of some catalogue already, and are not looked up again.
    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, suppliers: Vec<Supplier>, currency: &str, rates: ByName) -> Outcome<Self> {
        Ok(Offers(offers(suppliers, currency, rates.0)?))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Outcome<Reduced<'py>> {
        Ok((
            py.get_type::<Offers>().getattr("_of")?,
            (self.suppliers(), self.currency(), self.rates()).into_pyobject(py)?,
        ))
    }

    fn __repr__(&self) -> String {
        format!("<Offers of {} suppliers in {}>", self.0.suppliers().len(), self.0.currency())
    }
}
