//! What formulas cost, what is bought for them and what the stock is good for. All offers and formulas are invented for
//! the tests.

mod costing;
mod purchase;
mod refused;
mod stock;

use std::sync::Arc;

use rust_decimal::Decimal;
use tenside::catalogue::{Catalogue, PriceList};
use tenside::cost::{Offers, Pack, PlannedBatch, Stock, StockLot, Supplier};
use tenside::formula::{Formula, Line};
use tenside::number::{Date, Mass};

use crate::support::percent;

fn mass(text: &str) -> Mass {
    text.parse().unwrap()
}

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

/// Of raw materials of the starter catalogue, by id and percent.
fn formula(title: &str, lines: &[(&str, &str)]) -> Formula {
    let shelf = Catalogue::starter();
    let line =
        |(id, share): &(&str, &str)| Line::new(id, Arc::clone(shelf.material(id).unwrap()), percent(share)).unwrap();
    Formula::new(title, lines.iter().map(line).collect()).unwrap()
}

fn bar() -> Formula {
    formula("Bar", &[("sci-powder", "60"), ("cetyl-alcohol", "5"), ("kaolin", "35")])
}

fn prices(prices: &[(&str, &str)]) -> PriceList {
    PriceList::new("EUR", prices.iter().map(|(id, price)| ((*id).to_string(), price.parse::<Decimal>().unwrap())))
        .unwrap()
}

fn priced(formula: Formula) -> Formula {
    formula.with_prices(Some(Arc::new(prices(&[("sci-powder", "9"), ("cetyl-alcohol", "6.50"), ("kaolin", "2.20")]))))
}

fn pack(material: &str, size: &str, price: &str) -> Pack {
    Pack::new(material, mass(size), price).unwrap()
}

fn supplier(name: &str, packs: Vec<Pack>) -> Supplier {
    let plain = Supplier::new(name, "EUR").unwrap();
    packs.into_iter().fold(plain, |supplier, pack| supplier.with_pack(pack).unwrap())
}

fn offers(suppliers: Vec<Supplier>) -> Offers {
    suppliers.into_iter().fold(Offers::new("EUR").unwrap(), |offers, supplier| offers.with_supplier(supplier).unwrap())
}

fn lot(material: &str, left: &str) -> StockLot {
    StockLot::new(material, mass(left)).unwrap()
}

fn stock(lots: Vec<StockLot>) -> Stock {
    lots.into_iter().fold(Stock::new("EUR").unwrap(), |stock, lot| stock.with_lot(lot).unwrap())
}

fn planned(formula: Formula, size: &str) -> PlannedBatch {
    PlannedBatch::new(formula, mass(size)).unwrap()
}
