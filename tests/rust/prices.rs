//! Price lists of their own: documents, sheets and rows say the same, and every fault is told at its place.

use proptest::prelude::*;
use rust_decimal::Decimal;
use tenside::Error;
use tenside::catalogue::{Catalogue, CsvOptions, PriceList, PriceRow};
use tenside::document::{Delimiter, Notation};

fn read(sheet: &str, currency: Option<&str>, options: &CsvOptions) -> Result<PriceList, Error> {
    PriceList::read_csv(sheet, currency, options, &Catalogue::starter())
}

fn told(error: &Error) -> Vec<(Option<(u32, u32)>, String)> {
    error.faults().iter().map(|fault| (fault.position, fault.message.clone())).collect()
}

#[test]
fn documents_sheets_and_rows_say_the_same() {
    let shelf = Catalogue::starter();
    let toml = "tenside = \"prices/1\"\ncurrency = \"EUR\"\nper_kg = { kaolin = 1.90, \"SCI powder\" = \"6.4\" }\n";
    let json =
        "{\"tenside\": \"prices/1\", \"currency\": \"EUR\", \"per_kg\": {\"kaolin\": 1.90, \"sci-powder\": 6.4}}";
    let list = PriceList::read(toml, Notation::Toml, &shelf).unwrap();
    assert_eq!(PriceList::read(json, Notation::Json, &shelf).unwrap(), list);
    let plain = CsvOptions::default();
    assert_eq!(
        read("price_per_kg,material,currency\n1.90,kaolin,EUR\n6.4,SCI powder,EUR\n", None, &plain).unwrap(),
        list
    );
    assert_eq!(read("Material\tPrice_per_kg\nkaolin\t1.90\nsci-powder\t6.4\n", Some("EUR"), &plain).unwrap(), list);
    let comma = plain.clone().with_decimal_comma(true);
    let half = "material;price_per_kg;currency\nkaolin;1,90;EUR\nsci-powder;6,4;\n";
    assert_eq!(read(half, Some("EUR"), &comma).unwrap(), list);
    let error = read(half, None, &comma).unwrap_err();
    assert_eq!(error.faults()[0].message, "a price without a currency, beside prices that have one");
    assert_eq!(
        read(
            "material;price_per_kg\nkaolin;1,90\nsci-powder;6,4\n",
            Some("EUR"),
            &comma.with_delimiter(Delimiter::Semicolon)
        )
        .unwrap(),
        list
    );
    let row = |material: &str, price: &str| PriceRow {
        material: material.to_string(),
        price: price.to_string(),
        currency: String::new(),
    };
    assert_eq!(
        PriceList::of_rows(&[row("kaolin", "1.90"), row("SCI powder", "6.4")], Some("EUR"), &shelf).unwrap(),
        list
    );
}

#[test]
fn every_fault_of_a_sheet_is_told_at_its_cell() {
    let sheet = "material,price_per_kg,currency\nkaoline,1.9,EUR\nkaolin,-1,EUR\nsci-powder,6.4,USD\nSCI \
                 powder,6,EUR\ncorn-starch,,EUR\nSCS,1,EUR\nwater,\"1,5\",EUR\n";
    let error = read(sheet, None, &CsvOptions::default()).unwrap_err();
    let messages = told(&error);
    let at = |line, column| {
        messages.iter().find(|(position, _)| *position == Some((line, column))).map(|(_, message)| message.as_str())
    };
    assert_eq!(at(2, 1), Some("unknown raw material"));
    assert_eq!(error.faults()[0].remedy.as_deref(), Some("did you mean \"kaolin\"?"));
    assert_eq!(at(3, 2), Some("price out of range"));
    assert_eq!(at(4, 3), Some("prices in two currencies"));
    assert_eq!(at(5, 1), Some("a material is priced twice"));
    assert_eq!(at(6, 2), Some("required but missing"));
    assert_eq!(at(7, 1), Some("the name could mean several raw materials"));
    assert!(at(8, 2).is_some(), "{error}");
    assert_eq!(messages.len(), 7, "{error}");
    assert!(error.faults().iter().all(|fault| fault.file == Some("prices")));
}

#[test]
fn every_fault_of_a_document_is_told_at_its_key() {
    let toml = "tenside = \"prices/1\"\ncurency = \"EUR\"\n[per_kg]\nkaoline = 1.9\nkaolin = -1\nsci-powder = \
                6.4\n\"SCI powder\" = 6\n";
    let error = PriceList::read(toml, Notation::Toml, &Catalogue::starter()).unwrap_err();
    let places: Vec<_> = error.faults().iter().filter_map(|fault| fault.position).collect();
    assert_eq!(places, [(1, 1), (2, 1), (4, 1), (5, 10), (7, 1)], "{error}");
}

#[test]
fn what_is_no_list_is_refused() {
    let plain = CsvOptions::default();
    for (sheet, currency, message) in [
        ("", Some("EUR"), "the sheet is empty"),
        ("material\nkaolin\n", Some("EUR"), "a required column is missing"),
        ("material,price\nkaolin,1\n", Some("EUR"), "unknown column"),
        ("material,price_per_kg\nkaolin,1\n", None, "prices without a currency"),
        ("material,price_per_kg,currency\nkaolin,1,USD\n", Some("EUR"), "prices in two currencies"),
        ("material,price_per_kg\nkaolin,nan\n", Some("EUR"), "not a number"),
        ("material,price_per_kg\nkaolin,1e400\n", Some("EUR"), "not a number"),
    ] {
        let error = read(sheet, currency, &plain).unwrap_err();
        assert!(error.to_string().contains(message), "{sheet:?}: {error}");
    }
    assert!(read("material,price_per_kg\nkaolin,1\n", Some("EU\nR"), &plain).is_err());
    let other = "tenside = \"formula/1\"\ncurrency = \"EUR\"\nper_kg = {}\n";
    assert!(
        PriceList::read(other, Notation::Toml, &Catalogue::starter())
            .unwrap_err()
            .to_string()
            .contains("not a document of this kind")
    );
}

#[test]
fn zero_is_a_price() {
    let list = read("material,price_per_kg\nwater,0\n", Some("EUR"), &CsvOptions::default()).unwrap();
    assert_eq!(list.get("water"), Some(Decimal::ZERO));
}

proptest! {
    #[test]
    fn what_is_written_is_read_back(prices in proptest::collection::vec(0u64..1_000_000_000, 1..40)) {
        let shelf = Catalogue::starter();
        let ids: Vec<String> = shelf.materials().map(|material| material.id().to_string()).collect();
        let priced = prices.iter().zip(ids).map(|(price, id)| (id, Decimal::new(i64::try_from(*price).unwrap(), 3)));
        let list = PriceList::new("EUR", priced).unwrap();
        for notation in [Notation::Toml, Notation::Json] {
            prop_assert_eq!(&PriceList::read(&list.write(notation).unwrap(), notation, &shelf).unwrap(), &list);
        }
        prop_assert_eq!(&read(&list.write_csv().unwrap(), None, &CsvOptions::default()).unwrap(), &list);
    }
}
