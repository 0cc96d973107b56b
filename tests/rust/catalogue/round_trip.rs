//! What is written reads back the same.

use tenside::catalogue::{Catalogue, CsvOptions};
use tenside::document::{Delimiter, Notation};
use tenside::error::FaultKind;

use super::{premix, read, simple};

#[test]
fn the_starter_catalogue_reads_back_the_same_from_toml_and_json() {
    let starter = Catalogue::starter();
    let toml = starter.write(Notation::Toml).unwrap();
    let json = starter.write(Notation::Json).unwrap();
    let (from_toml, from_json) =
        (Catalogue::read(&toml, Notation::Toml).unwrap(), Catalogue::read(&json, Notation::Json).unwrap());
    assert_eq!(starter, from_toml);
    assert_eq!(from_toml, from_json);
    assert_eq!(from_toml.write(Notation::Toml).unwrap(), toml);
    assert_eq!(from_json.write(Notation::Json).unwrap(), json);
    assert_eq!(from_json.write(Notation::Toml).unwrap(), toml);
}

#[test]
fn line_ends_and_byte_order_mark_do_not_matter() {
    let toml = Catalogue::starter().write(Notation::Toml).unwrap();
    let windows = format!("\u{FEFF}{}", toml.replace('\n', "\r\n"));
    assert_eq!(Catalogue::starter(), Catalogue::read(&windows, Notation::Toml).unwrap());
}

#[test]
fn the_starter_catalogue_reads_back_from_csv() {
    let starter = Catalogue::starter();
    let (materials, constituents, names) = starter.write_csv().unwrap();
    assert!(materials.starts_with("id,name,form,") && materials.contains("\r\n"));
    let read = Catalogue::read_csv(&materials, &constituents, Some(&names), CsvOptions::default()).unwrap();
    assert_eq!(read, starter);
    assert!(read.material("SCS").unwrap_err().is_ambiguous_name());
    assert_eq!(read.write_csv().unwrap(), (materials, constituents, names));
}

/// The same sheet as a spreadsheet with decimal commas exports it.
fn with_commas(sheet: &str) -> String {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(sheet.as_bytes());
    let mut writer = csv::WriterBuilder::new()
        .delimiter(b';')
        .terminator(csv::Terminator::CRLF)
        .from_writer("\u{FEFF}".as_bytes().to_vec());
    let numeric = |cell: &str| cell.chars().all(|character| character.is_ascii_digit() || "-.|".contains(character));
    for row in reader.records() {
        let row = row.unwrap();
        writer
            .write_record(row.iter().map(|cell| if numeric(cell) { cell.replace('.', ",") } else { cell.to_string() }))
            .unwrap();
    }
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

#[test]
fn semicolons_and_decimal_commas_carry_the_same() {
    let starter = Catalogue::starter();
    let (materials, constituents, names) = starter.write_csv().unwrap();
    let (materials, constituents, names) = (with_commas(&materials), with_commas(&constituents), with_commas(&names));
    for options in [CsvOptions::default(), CsvOptions::default().with_delimiter(Delimiter::Semicolon)] {
        let read =
            Catalogue::read_csv(&materials, &constituents, Some(&names), options.with_decimal_comma(true)).unwrap();
        assert_eq!(read, starter);
    }
    assert!(Catalogue::read_csv(&materials, &constituents, None, CsvOptions::default()).unwrap_err().is_not_a_number());
}

#[test]
fn bounds_read_back_as_the_same_bounds() {
    let constituents = "[{ inci = \"WATER\" }, { inci = \"GLYCERIN\" }, { inci = \"SODIUM CHLORIDE\", high = 5 }]";
    let catalogue = read(&format!(
        "[[material]]\nid = \"b\"\nname = \"B\"\nform = \"liquid\"\ndescending = true\nconstituents = {constituents}\n"
    ));
    let ends = |catalogue: &Catalogue| -> Vec<_> {
        catalogue
            .material("b")
            .unwrap()
            .composition()
            .constituents()
            .iter()
            .map(|row| (row.low().unwrap(), row.high().unwrap()))
            .collect()
    };
    let (materials, constituents, _) = catalogue.write_csv().unwrap();
    let from_csv = Catalogue::read_csv(&materials, &constituents, None, CsvOptions::default()).unwrap();
    let from_toml = Catalogue::read(&catalogue.write(Notation::Toml).unwrap(), Notation::Toml).unwrap();
    assert_eq!(ends(&catalogue)[1].1.to_string(), "50");
    assert_eq!(ends(&from_csv), ends(&catalogue));
    assert_eq!(ends(&from_toml), ends(&catalogue));
    assert!(!from_csv.material("b").unwrap().has_typical());
}

#[test]
fn what_sheets_cannot_carry_is_refused() {
    let lot = "[[lot]]\nid = \"L1\"\nmaterial = \"k\"\nph = 6\n";
    let own = "[[substance]]\ninci = \"HOUSE ESTER\"\nclass = \"ester\"\n[[substance]]\ninci = \"Glycerin\"\nclass = \
               \"anionic-surfactant\"\n";
    let level = simple("l", "TALC") + "use_levels = [{ use = \"bar\", low = 1, high = 2, source = \"a | b\" }]\n";
    let named = simple("n", "TALC").replace("form =", "aliases = [\"a|b\"]\nform =");
    let error = read(&[&simple("k", "KAOLIN"), &premix("p", &[("k", "100")]), &named, &level, lot, own].concat())
        .write_csv()
        .unwrap_err();
    let places: Vec<&str> = error.faults().iter().map(|fault| fault.place.as_str()).collect();
    assert!(error.faults().iter().all(|fault| fault.kind == FaultKind::Unsupported && fault.remedy.is_some()));
    assert_eq!(
        places,
        [
            "substance \"Glycerin\"",
            "substance \"HOUSE ESTER\"",
            "lot \"L1\"",
            "material \"p\"",
            "material \"n\"",
            "material \"l\""
        ]
    );
}
