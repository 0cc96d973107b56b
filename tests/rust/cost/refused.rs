//! What cannot be meant is refused with its kind, its place and the way out.

use tenside::Error;
use tenside::catalogue::Catalogue;
use tenside::cost::{
    CostRequest, Offers, Pack, PlannedBatch, PlannedProduct, PurchaseRequest, Stock, StockLot, Supplier, price_effects,
};
use tenside::document::Notation;
use tenside::error::FaultKind;

use super::{bar, formula, lot, mass, offers, pack, planned, priced, prices, stock, supplier};

#[track_caller]
fn refused<T: std::fmt::Debug>(result: Result<T, Error>, kind: FaultKind, said: &[&str]) {
    let error = result.unwrap_err();
    assert!(error.has(kind), "{kind:?} was expected: {error}");
    for piece in said {
        assert!(error.to_string().contains(piece), "{piece}: {error}");
    }
}

#[test]
fn packs_and_suppliers() {
    refused(Pack::new("kaolin", mass("0 g"), 5), FaultKind::OutOfRange, &["kaolin", "state what is in the pack"]);
    refused(
        Pack::new("kaolin", mass("1 kg"), -5),
        FaultKind::OutOfRange,
        &["pack of \"kaolin\"", "-5", "0 to 1000000000"],
    );
    refused(Pack::new("kaolin", mass("1 kg"), "five"), FaultKind::NotANumber, &["five"]);
    refused(Pack::new("kaolin", mass("1 kg"), f64::NAN), FaultKind::NotANumber, &[]);
    refused(pack("kaolin", "1 kg", "5").with_break(0, 4), FaultKind::OutOfRange, &["1 to 1000000 packs"]);
    refused(pack("kaolin", "1 kg", "5").with_break(1, 4), FaultKind::Duplicate, &["two packs or more"]);
    refused(
        pack("kaolin", "1 kg", "5").with_break(3, 5),
        FaultKind::Contradiction,
        &["no cheaper", "price of one pack"],
    );
    refused(
        pack("kaolin", "1 kg", "5").with_break(9, 3).and_then(|pack| pack.with_break(4, 2)),
        FaultKind::Contradiction,
        &["2 from 4, 3 from 9"],
    );
    let twice = supplier("Near", vec![pack("kaolin", "1 kg", "5")]);
    refused(twice.clone().with_pack(pack("kaolin", "1000 g", "4")), FaultKind::Duplicate, &["price break"]);
    refused(twice.clone().with_tax(101), FaultKind::OutOfRange, &["Near", "0 to 100 %"]);
    refused(twice.clone().with_freight(-1), FaultKind::OutOfRange, &["Near", "freight"]);
    refused(twice.clone().free_from(-1), FaultKind::OutOfRange, &["free of freight"]);
    refused(offers(vec![twice.clone()]).with_supplier(twice), FaultKind::Duplicate, &["Near"]);
    let abroad = Supplier::new("Abroad", "USD").unwrap();
    refused(
        Offers::new("EUR").unwrap().with_supplier(abroad),
        FaultKind::Contradiction,
        &["two currencies are mixed", "USD", "EUR", "state what one USD is in EUR"],
    );
    refused(Offers::new("EUR").unwrap().with_rate("USD", 0), FaultKind::OutOfRange, &["rate of USD", "above 0"]);
    refused(Offers::new("EUR").unwrap().with_rate("USD", -1), FaultKind::OutOfRange, &[]);
    refused(Offers::new("EUR").unwrap().with_rate("EUR", 1), FaultKind::Duplicate, &[]);
    let misspelt = offers(vec![supplier("Near", vec![pack("kaoline", "1 kg", "5"), pack("unobtainium", "1 kg", "5")])]);
    refused(
        misspelt.with_ids_of(&Catalogue::starter()),
        FaultKind::UnknownName,
        &["did you mean \"kaolin\"?", "unobtainium", "Near"],
    );
    let both = offers(vec![supplier("Near", vec![pack("sci-powder", "1 kg", "5"), pack("SCI powder", "1 kg", "6")])]);
    refused(both.with_ids_of(&Catalogue::starter()), FaultKind::Duplicate, &["sci-powder"]);
}

#[test]
fn costings() {
    let asked = || CostRequest::new(mass("1 kg")).unwrap();
    refused(bar().costing(&asked()), FaultKind::Missing, &["no prices", "Bar"]);
    let partly = bar().with_prices(Some(prices(&[("sci-powder", "9"), ("kaoline", "2")]).into()));
    refused(
        partly.costing(&asked()),
        FaultKind::NotKnown,
        &["cetyl-alcohol", "line \"kaolin\"", "\"kaoline\" has one"],
    );
    refused(
        priced(bar()).costing(&asked().per_bar("wrapper", 1).unwrap()),
        FaultKind::Missing,
        &["wrapper", "how many bars"],
    );
    refused(
        priced(bar()).costing(&asked().with_washes(50).unwrap()),
        FaultKind::Missing,
        &["washes", "a cost of each wash needs the number of bars", "state how many bars"],
    );
    refused(CostRequest::new(mass("0 g")), FaultKind::OutOfRange, &[]);
    refused(asked().with_bars(0), FaultKind::OutOfRange, &[]);
    refused(asked().with_washes(0), FaultKind::OutOfRange, &[]);
    refused(asked().with_process_loss(100), FaultKind::OutOfRange, &["process loss"]);
    refused(asked().per_batch("labour", -1), FaultKind::OutOfRange, &["labour"]);
    refused(asked().percent_of_direct_costs("overhead", -1), FaultKind::OutOfRange, &["overhead"]);
    refused(asked().per_batch("x", 1).and_then(|asked| asked.per_bar("x", 1)), FaultKind::Duplicate, &["\"x\""]);
}

#[test]
fn purchases() {
    let near = || offers(vec![supplier("Near", vec![pack("sci-powder", "1 kg", "9"), pack("kaoline", "1 kg", "2")])]);
    refused(PurchaseRequest::new(near()).cheapest(), FaultKind::Missing, &["nothing is planned"]);
    let asked = PurchaseRequest::new(near()).with_batch(planned(bar(), "2 kg")).unwrap();
    refused(
        asked.cheapest(),
        FaultKind::NotKnown,
        &["nobody offers it", "cetyl-alcohol", "\"kaoline\" is offered", "700.00 g"],
    );
    refused(asked.up_to_steps(0), FaultKind::OutOfRange, &["at least 1"]);
    refused(PlannedBatch::new(bar(), mass("0 g")), FaultKind::OutOfRange, &["Bar"]);
    let tiny = offers(vec![supplier("Near", vec![pack("kaolin", "1 mg", "0.01")])]);
    let asked = PurchaseRequest::new(tiny).with_batch(planned(formula("Clay", &[("kaolin", "100")]), "2 kg")).unwrap();
    refused(asked.cheapest(), FaultKind::OutOfRange, &["1 to 1000000 packs", "kaolin"]);
    let many =
        offers((0..64).map(|index| supplier(&format!("Shop {index}"), vec![pack("kaolin", "1 kg", "5")])).collect());
    refused(
        many.with_supplier(supplier("One more", Vec::new())),
        FaultKind::OutOfRange,
        &["number of suppliers", "65", "0 to 64", "never the cheapest"],
    );
}

#[test]
fn stocks_and_mixes() {
    refused(StockLot::new("kaolin", mass("1 kg")).unwrap().at_cost(-1), FaultKind::OutOfRange, &["kaolin"]);
    let named = || lot("kaolin", "1 kg").named("K-7").unwrap();
    refused(stock(vec![named()]).with_lot(named()), FaultKind::Duplicate, &["K-7"]);
    refused(
        stock(vec![lot("kaoline", "1 kg")]).with_ids_of(&Catalogue::starter()),
        FaultKind::UnknownName,
        &["stock", "kaolin"],
    );
    refused(bar().bars_from_stock(&stock(Vec::new()), &mass("0 g"), None), FaultKind::OutOfRange, &["one bar"]);
    refused(PlannedProduct::new(bar(), mass("0 g"), 1), FaultKind::OutOfRange, &["Bar"]);
    refused(PlannedProduct::new(bar(), mass("60 g"), -1), FaultKind::OutOfRange, &["Bar"]);
    refused(
        PlannedProduct::new(bar(), mass("60 g"), 1).and_then(|product| product.at_most(0)),
        FaultKind::OutOfRange,
        &["Bar"],
    );
    let product = PlannedProduct::new(bar(), mass("60 g"), 1).unwrap();
    let shelf = stock(vec![lot("kaolin", "1 kg")]);
    refused(shelf.best_mix(&[], None, 10), FaultKind::Missing, &["no product"]);
    refused(shelf.best_mix(std::slice::from_ref(&product), None, 0), FaultKind::OutOfRange, &["at least 1"]);
    refused(shelf.best_mix(&[product.clone(), product], None, 10), FaultKind::Duplicate, &["another title"]);
}

#[test]
fn changed_prices() {
    refused(price_effects(&[bar()], [("kaolin", 2); 0]), FaultKind::Missing, &["no prices"]);
    refused(
        price_effects(&[priced(bar())], [("sci-powdr", 7)]),
        FaultKind::UnknownName,
        &["did you mean \"sci-powder\"?"],
    );
    refused(price_effects(&[priced(bar())], [("kaolin", 7), ("kaolin", 7)]), FaultKind::Duplicate, &["kaolin"]);
    let dollars = tenside::catalogue::PriceList::new("USD", [("kaolin", 7)]).unwrap();
    let clay = formula("Clay", &[("kaolin", "100")]).with_prices(Some(dollars.into()));
    refused(
        price_effects(&[priced(bar()), clay], [("kaolin", 2); 0]),
        FaultKind::Contradiction,
        &["two currencies are mixed", "USD", "EUR"],
    );
}

/// Every fault of a document at once, each with its line.
#[test]
fn documents() {
    let text = "tenside = \"offers/1\"\ncurrency = \"EUR\"\n[[suppliers]]\nname = \"Near\"\ncurrency = \
                \"EUR\"\nfrieght = 3\n[[suppliers.packs]]\nmaterial = \"kaolin\"\ngrams = 0\nprice = \
                5\n[[suppliers.packs]]\nmaterial = \"talc\"\ngrams = 500\nprice = -2\n";
    let error = Offers::read(text, Notation::Toml, &Catalogue::starter()).unwrap_err();
    let found: Vec<(FaultKind, u32)> =
        error.faults().iter().map(|fault| (fault.kind, fault.position.unwrap().0)).collect();
    assert_eq!(found, [(FaultKind::UnknownKey, 6), (FaultKind::OutOfRange, 9), (FaultKind::OutOfRange, 14)], "{error}");
    let mixed = text.replace("frieght", "freight").replace("grams = 0", "grams = 1").replace("-2", "2").replacen(
        "currency = \"EUR\"\nfr",
        "currency = \"USD\"\nfr",
        1,
    );
    let error = Offers::read(&mixed, Notation::Toml, &Catalogue::starter()).unwrap_err();
    assert!(error.is_contradiction() && error.to_string().contains("state what one USD is in EUR"), "{error}");
    let text = "tenside = \"stock/1\"\ncurrency = \"EUR\"\n[[lots]]\nmaterial = \"kaolin\"\ngrams = \
                -1\n[[lots]]\nmaterial = \"talc\"\ngrams = 1\nuse_by = \"soon\"\n";
    let error = Stock::read(text, Notation::Toml, &Catalogue::starter()).unwrap_err();
    assert_eq!(error.faults().iter().map(|fault| fault.position.unwrap().0).collect::<Vec<_>>(), [5, 9], "{error}");
}
