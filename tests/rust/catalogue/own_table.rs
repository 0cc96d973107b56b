//! Tables under headings of their own.

use tenside::catalogue::{Catalogue, PriceList, TableOptions, TableText};
use tenside::error::{Error, FaultKind};
use tenside::substance::SubstanceTable;

fn options() -> TableOptions {
    TableOptions::new().with_source("our shelf (invented)")
}

fn read(sheet: &str, options: &TableOptions) -> Result<Catalogue, Error> {
    Catalogue::read_table(TableText::Sheet(sheet), options, &SubstanceTable::starter())
}

#[test]
fn several_rows_make_one_material_and_a_list_stands_in_one_cell() {
    let sheet = "id;name;form;constituent;typical;low;high;inci_list\nmix;Mix;liquid;GLYCERIN;60;55,5;65;\nmix;;;\
                 WATER;40;;;\nlist;List;liquid;;;;;aqua, GLYCERIN|1,2-HEXANEDIOL\n";
    let catalogue = read(sheet, &options()).unwrap();
    let mix = catalogue.material("mix").unwrap();
    assert_eq!(mix.composition().constituents()[0].low().unwrap().to_string(), "55.5");
    assert_eq!(mix.source(), "our shelf (invented)");
}

#[test]
fn a_supplier_s_list_is_read_in_its_order() {
    let sheet = "name;form;inci_list\nGel;liquid;WATER, GLYCERIN|1,2-HEXANEDIOL\n";
    let error = read(&sheet.replace("GLYCERIN", "GLYCERINE"), &options()).unwrap_err();
    assert!(error.to_string().contains("did you mean \"GLYCERIN\"?"), "{error}");
    let gel = read(sheet, &options()).unwrap();
    let rows = gel.material("gel").unwrap().composition().constituents().to_vec();
    assert!(gel.material("gel").unwrap().composition().is_descending());
    assert_eq!((rows.len(), rows[0].low().unwrap().to_string()), (3, "33.3333".to_string()));
}

#[test]
fn a_number_that_could_be_two_is_refused_and_told_which_way_out() {
    let sheet = "name;form;constituent;typical;density\nClay;powder;KAOLIN;100;1,234\n";
    let error = read(sheet, &options()).unwrap_err();
    assert_eq!((error.faults()[0].kind, error.faults()[0].position), (FaultKind::NotANumber, Some((2, 5))));
    assert!(error.faults()[0].remedy.as_deref().unwrap().contains("decimal_comma"));
    let density =
        |options: &TableOptions| read(sheet, options).unwrap().material("clay").unwrap().density().unwrap().to_string();
    assert_eq!(density(&options().with_decimal_comma(true)), "1.234");
    let pointed = sheet.replace("1,234", "1.234");
    assert_eq!(read(&pointed, &options()).unwrap().material("clay").unwrap().density().unwrap().to_string(), "1.234");
    let among = pointed.replace("100;", "100,0;");
    assert!(read(&among, &options()).unwrap_err().to_string().contains("among decimal commas"));
}

#[test]
fn what_is_wrong_with_headings_and_rows_is_said_at_once() {
    let sheet = "name;name;form;typical;colour\nA;B;powder;5;red\n;;;;\nC;;oil;;\n";
    let error = read(sheet, &options().with_column("constituent", "INCI").unwrap()).unwrap_err();
    let messages: Vec<&str> = error.faults().iter().map(|fault| fault.message.as_ref()).collect();
    for message in ["a column occurs twice", "unknown column", "no column has this heading", "a share of nothing"] {
        assert!(messages.contains(&message), "{message}: {messages:?}");
    }
    let twice = "name;form;constituent\nA;powder;KAOLIN\nA;oil;SILICA\n";
    assert!(
        read(twice, &options()).unwrap_err().to_string().contains("two rows of one raw material say different things")
    );
    assert!(read("", &options()).is_err());
}

#[test]
fn ids_are_made_of_names() {
    let sheet = "name;form;constituent\nRügener Kreide (fein)  2;powder;KAOLIN\nHuile d'émeu;oil;SILICA\n";
    let ids: Vec<String> =
        read(sheet, &options()).unwrap().materials().map(|material| material.id().to_string()).collect();
    assert_eq!(ids, ["ruegener-kreide-fein-2", "huile-d-emeu"]);
}

#[test]
fn prices_by_the_pack_become_prices_per_kg() {
    let prices = |sheet: &str| {
        PriceList::read_table(TableText::Sheet(sheet), Some("EUR"), &TableOptions::new(), &Catalogue::starter())
    };
    let list = prices("id;price;pack;pack_kg\nkaolin;10;;3\nsci-powder;3,2;0,5 kg;\nwater;;;\n").unwrap();
    assert_eq!(
        list.iter().map(|(id, price)| format!("{id} {price}")).collect::<Vec<_>>(),
        ["kaolin 3.3333333333", "sci-powder 6.4"]
    );
    for (sheet, message) in [
        ("id;price\nkaolin;10\n", "the price of a pack without its size"),
        ("id;price;pack\nkaolin;10;25\n", "a mass needs a unit"),
        ("id;price;pack_kg\nkaolin;10;0\n", "a pack of nothing"),
        ("id;price;pack;price_per_kg\nkaolin;10;1 kg;9\n", "a price per kg beside a price of a pack"),
        ("id;price;pack;pack_kg\nkaolin;10;1 kg;1\n", "the size of a pack in two columns"),
        ("id;name\nkaolin;Kaolin\n", "no row has a price"),
        ("id;price_per_kg\nkaoline;9\n", "unknown raw material"),
        ("id;price_per_kg\nkaolin;1,900\n", "a comma before three digits is ambiguous"),
    ] {
        let error = prices(sheet).unwrap_err();
        assert!(error.to_string().contains(message), "{message}: {error}");
    }
}

#[test]
fn a_hundred_thousand_rows_are_read_or_refused_soon() {
    let rows: String = (0..100_000).map(|row| format!("m{row};powder;KAOLLIN;1,234\n")).collect();
    let error = read(&format!("name;form;constituent;typical\n{rows}"), &options()).unwrap_err();
    assert!(error.faults().len() <= 1001);
    let columns: Vec<String> = (0..100_000).map(|column| format!("c{column}")).collect();
    let table = TableText::Cells { headings: &columns, rows: &[] };
    assert!(Catalogue::read_table(table, &options(), &SubstanceTable::starter()).is_err());
}

/// Substances, lots and premixes are added from tables, every fault at once with line and cell.
#[test]
fn what_is_added_from_tables() {
    use tenside::catalogue::TableOf;
    let shelf = Catalogue::starter();
    let add = |shelf: &Catalogue, of: TableOf, sheet: &str| {
        shelf.with_table(TableText::Sheet(sheet), of, &TableOptions::new().with_source("invented"))
    };
    let own = "inci;class;cas;molar_mass;molar_mass_low;molar_mass_high;chain;pka;palm\n\
               HOUSE ESTER;ester;;412,5;400;425;C16 to C18;;no\nHOUSE ACID;other;64-19-7;60;;;;4,76|6;\n";
    let with_own = add(&shelf, TableOf::Substances, own).unwrap();
    let ester = with_own.substances().get("house ester").unwrap();
    assert_eq!(ester.molar_mass().unwrap().high().unwrap().to_string(), "425");
    assert_eq!(with_own.substances().get("HOUSE ACID").unwrap().pka().len(), 2);

    let lots = "id,material,active,method,ph,retest\nW-27,CAPB 30,29.1,titrated,5.5,2027-01-31\nW-28,kaolin,,,,\n";
    let with_lots = add(&shelf, TableOf::Lots, lots).unwrap();
    assert_eq!(with_lots.lot("W-27").unwrap().material(), "capb-30");
    let bad = "id,material,active,method,ph\nW-1,capb-30,29.1,,5\nW-2,unobtainium,,,5\nW-3,kaolin,,,17\nW-3,kaolin,,,7\nW-3,kaolin,,,7\n";
    let error = add(&shelf, TableOf::Lots, bad).unwrap_err();
    let lines: Vec<u32> = error.faults().iter().map(|fault| fault.position.unwrap().0).collect();
    assert_eq!(lines, [2, 3, 4, 5, 6], "{error}");
    assert!(add(&with_lots, TableOf::Lots, lots).unwrap_err().is_duplicate());

    let premixes = "name,form,part,percent,lot\nTwo powders,powder,kaolin,75,W-28\nTwo powders,powder,corn-starch,25,\n\
                    Three,powder,two-powders,50,\nThree,powder,SCI powder,50,\n";
    let mixed = add(&with_lots, TableOf::Premixes, premixes).unwrap();
    let three = mixed.material("three").unwrap();
    assert_eq!(three.leaves().len(), 3);
    let prices = PriceList::new("EUR", [("kaolin", 2), ("corn-starch", 4), ("sci-powder", 6)]).unwrap();
    assert_eq!(prices.price_of(three).unwrap().to_string(), "4.25");
    let some = PriceList::new("EUR", [("kaolin", 2), ("sci-powder", 6)]).unwrap();
    assert!(some.price_of(three).unwrap_err().to_string().contains("corn-starch"));
    let error = add(
        &shelf,
        TableOf::Premixes,
        "name,form,part,percent\nKaolin,powder,sci-powder,100\nShort,powder,kaolin,60\nOdd,powder,kaolinn,100\n",
    )
    .unwrap_err();
    for word in ["exists already", "60", "did you mean \"kaolin\"?"] {
        assert!(error.to_string().contains(word), "{word}: {error}");
    }
    let loop_ = "name,form,part,percent\nA,powder,b,100\nB,powder,a,100\n";
    assert!(add(&shelf, TableOf::Premixes, loop_).unwrap_err().to_string().contains("contains itself"));
}
