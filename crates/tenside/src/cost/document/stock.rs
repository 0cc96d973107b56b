//! The stock as a document, and back.

use super::super::stock::{Stock, StockLot};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::{Notation, Number, Reader, TableView, form, forms};
use crate::error::Error;

form! {
    /// What is left of a lot.
    StockLotDocument of StockLot, |it| {
        /// The raw material.
        material: String = it.material().to_string(),
        /// Grams left.
        grams: Number = it.left().into(),
        /// The name of the lot.
        #[serde(skip_serializing_if = "Option::is_none")]
        lot: Option<String> = it.name().map(str::to_string),
        /// What a kilogram of it cost.
        #[serde(skip_serializing_if = "Option::is_none")]
        price: Option<Number> = it.price().map(Number::from),
        /// The last day on which it is used.
        #[serde(skip_serializing_if = "Option::is_none")]
        use_by: Option<String> = it.use_by().map(|day| day.to_string()),
    }
}

form! {
    /// What is in stock.
    StockDocument of Stock as "stock/1", |it, _materials| {
        /// The currency that it is valued in.
        currency: String,
        /// The lots.
        lots: Vec<StockLotDocument> = forms(it.lots()),
    }
}

fn read_lot(view: &TableView<'_>) -> Option<StockLot> {
    let (material, left) = (view.needed_name("material"), view.needed("grams", |view| view.grams("grams")));
    let (name, price, use_by) = (view.name("lot"), view.exact("price", Some(Quantity::Price)), view.date("use_by"));
    let mut lot = view.accept("material", StockLot::new(&material?, left?))?;
    if let Some(name) = name {
        lot = view.accept("lot", lot.named(&name))?;
    }
    if let Some(price) = price {
        lot = view.accept("price", lot.at_cost(price))?;
    }
    Some(match use_by {
        Some(day) => lot.to_be_used_by(day),
        None => lot,
    })
}

pub(super) fn read_stock(view: &TableView<'_>) -> Option<Stock> {
    let currency = view.needed_name("currency");
    let lots = view.tables("lots", read_lot);
    let stock = view.accept("currency", Stock::new(&currency?))?;
    lots.into_iter().try_fold(stock, |stock, lot| view.accept("lots", stock.with_lot(lot)))
}

impl Stock {
    /// Reads a stock, raw materials by the ids and names of a catalogue.
    ///
    /// # Errors
    /// Every fault with line and column; else every unknown raw material.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        let stock = Reader::read(text, notation, |view| {
            view.version("stock/1");
            read_stock(view)
        })?;
        stock.with_ids_of(catalogue)
    }
}
