//! Offers and stocks.

use tenside::cost::{Offers, Stock};
use tenside::document::{Materials, ResultDocument, kind_of};

use crate::reading::{accepted, document, shelf, survives};

/// Reads `bytes` as offers, or as a stock where they say so, in TOML or JSON: it survives writing, and is priced
/// without a panic.
pub fn offers(bytes: &[u8]) {
    let Some((text, notation)) = document(bytes) else { return };
    if kind_of(text).is_ok_and(|(kind, _)| kind == "stock/1") {
        let Some(stock) = accepted(Stock::read(text, notation, shelf())) else { return };
        survives(
            &stock,
            |stock, notation| stock.write(notation, Materials::Named),
            |text, notation| Stock::read(text, notation, shelf()),
        );
        accepted(stock.price_list());
        assert!(!stock.value().is_negative() && !stock.page().html().is_empty());
        return;
    }
    let Some(offers) = accepted(Offers::read(text, notation, shelf())) else { return };
    survives(
        &offers,
        |offers, notation| offers.write(notation, Materials::Named),
        |text, notation| Offers::read(text, notation, shelf()),
    );
    assert!(offers.packs().iter().all(|pack| !pack.per_kilogram.is_negative()));
    if let Some(prices) = accepted(offers.price_list()) {
        assert!(prices.iter().all(|(id, _)| shelf().material(id).is_ok()));
    }
}
