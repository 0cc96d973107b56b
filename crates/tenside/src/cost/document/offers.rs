//! Offers as documents, and back.

use super::super::offer::{Offers, Pack, Supplier};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::{Notation, Number, Reader, TableView, form, forms, written};
use crate::error::Error;

written! {
    /// A price from so many packs on.
    struct BreakDocument {
        /// How many packs at least.
        from: u32,
        /// What each of them costs, before tax.
        price: Number,
    }
}

written! {
    /// What one unit of another currency is.
    struct RateDocument {
        /// The other currency.
        currency: String,
        /// What one unit of it is in the currency of the offers.
        rate: Number,
    }
}

form! {
    /// A pack of a raw material.
    PackDocument of Pack, |it| {
        /// The raw material.
        material: String = it.material().to_string(),
        /// Grams in the pack.
        grams: Number = it.size().into(),
        /// What one pack costs, before tax.
        price: Number = (&it.steps()[0].1).into(),
        /// What each costs from so many on.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        breaks: Vec<BreakDocument> = it.steps()[1..].iter().map(|(from, price)| BreakDocument { from: *from, price: price.into() }).collect(),
    }
}

form! {
    /// A supplier with packs and terms.
    SupplierDocument of Supplier, |it| {
        /// Its name.
        name: String = it.name().to_string(),
        /// The currency of its invoices.
        currency: String = it.currency().to_string(),
        /// The freight of an order, before tax.
        #[serde(skip_serializing_if = "Option::is_none")]
        freight: Option<Number> = it.freight().map(Number::from),
        /// The value of goods, before tax, from which on there is no freight.
        #[serde(skip_serializing_if = "Option::is_none")]
        free_from: Option<Number> = it.free_of_freight_from().map(Number::from),
        /// Tax on goods and freight, percent.
        #[serde(skip_serializing_if = "Option::is_none")]
        tax: Option<Number> = it.tax().map(Number::from),
        /// What it offers.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        packs: Vec<PackDocument> = forms(it.packs()),
    }
}

form! {
    /// What suppliers offer.
    OffersDocument of Offers as "offers/1", |it, _materials| {
        /// The currency that offers are compared in.
        currency: String,
        /// What one unit of another currency is in this one.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        rates: Vec<RateDocument> = it.rates().iter().map(|(currency, rate)| RateDocument { currency: currency.clone(), rate: rate.into() }).collect(),
        /// The suppliers.
        suppliers: Vec<SupplierDocument> = forms(it.suppliers()),
    }
}

fn read_pack(view: &TableView<'_>) -> Option<Pack> {
    let material = view.needed_name("material");
    let (size, price) = (
        view.needed("grams", |view| view.grams("grams")),
        view.needed("price", |view| view.exact("price", Some(Quantity::Amount))),
    );
    let breaks = view.tables("breaks", |view| {
        let from = view.needed("from", |view| view.whole("from"));
        Some((from?, view.needed("price", |view| view.exact("price", Some(Quantity::Amount)))?))
    });
    let pack = view.accept("grams", Pack::new(&material?, size?, price?))?;
    breaks.into_iter().try_fold(pack, |pack, (from, price)| view.accept("breaks", pack.with_break(from, price)))
}

fn read_supplier(view: &TableView<'_>) -> Option<Supplier> {
    let (name, currency) = (view.needed_name("name"), view.needed_name("currency"));
    let amount = |key: &'static str| view.exact(key, Some(Quantity::Amount));
    let (freight, free_from, tax) = (amount("freight"), amount("free_from"), view.exact("tax", Some(Quantity::Tax)));
    let packs = view.tables("packs", read_pack);
    let mut supplier = view.accept("name", Supplier::new(&name?, &currency?))?;
    if let Some(freight) = freight {
        supplier = view.accept("freight", supplier.with_freight(freight))?;
    }
    if let Some(goods) = free_from {
        supplier = view.accept("free_from", supplier.free_from(goods))?;
    }
    if let Some(percent) = tax {
        supplier = view.accept("tax", supplier.with_tax(percent))?;
    }
    packs.into_iter().try_fold(supplier, |supplier, pack| view.accept("packs", supplier.with_pack(pack)))
}

pub(in crate::cost) fn read_offers(view: &TableView<'_>) -> Option<Offers> {
    let currency = view.needed_name("currency");
    let rates = view.tables("rates", |view| {
        let currency = view.needed_name("currency");
        Some((currency?, view.needed("rate", |view| view.exact("rate", Some(Quantity::ExchangeRate)))?))
    });
    let suppliers = view.tables("suppliers", read_supplier);
    let mut offers = view.accept("currency", Offers::new(&currency?))?;
    for (currency, rate) in rates {
        offers = view.accept("rates", offers.with_rate(&currency, rate))?;
    }
    suppliers.into_iter().try_fold(offers, |offers, supplier| view.accept("suppliers", offers.with_supplier(supplier)))
}

impl Offers {
    /// Reads offers, raw materials by the ids and names of a catalogue.
    ///
    /// # Errors
    /// Every fault with line and column; else every unknown raw material.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        let offers = Reader::read(text, notation, |view| {
            view.version("offers/1");
            read_offers(view)
        })?;
        offers.with_ids_of(catalogue)
    }
}
