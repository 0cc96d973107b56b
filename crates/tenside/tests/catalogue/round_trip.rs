//! What is written reads back the same.

use tenside::catalogue::{Catalogue, CsvOptions};
use tenside::document::{Delimiter, Named, Notation};
use tenside::error::FaultKind;
use tenside::material::Material;
use tenside::substance::Attribute;

use crate::{premix, read, simple};

fn assert_same(left: &Catalogue, right: &Catalogue) {
    assert_eq!(left.materials().count(), right.materials().count());
    for (left, right) in left.materials().zip(right.materials()) {
        assert_eq!(left, right);
    }
    assert!(left.lots().eq(right.lots()));
    assert!(left.aliases().iter().eq(right.aliases().iter()));
}

#[test]
fn the_starter_catalogue_reads_back_the_same_from_toml_and_json() {
    let starter = Catalogue::starter();
    let toml = starter.write(Notation::Toml).unwrap();
    let json = starter.write(Notation::Json).unwrap();
    let (from_toml, from_json) = (Catalogue::read(&toml, Notation::Toml).unwrap(), Catalogue::read(&json, Notation::Json).unwrap());
    assert_same(&starter, &from_toml);
    assert_same(&from_toml, &from_json);
    assert_eq!(from_toml.write(Notation::Toml).unwrap(), toml);
    assert_eq!(from_json.write(Notation::Json).unwrap(), json);
    assert_eq!(from_json.write(Notation::Toml).unwrap(), toml);
}

#[test]
fn line_ends_and_byte_order_mark_do_not_matter() {
    let toml = Catalogue::starter().write(Notation::Toml).unwrap();
    let windows = format!("\u{FEFF}{}", toml.replace('\n', "\r\n"));
    assert_same(&Catalogue::starter(), &Catalogue::read(&windows, Notation::Toml).unwrap());
}

/// All that the sheets carry of a material, as text.
fn carried(material: &Material) -> String {
    let rows: Vec<String> = material
        .composition()
        .constituents()
        .iter()
        .map(|row| {
            let stated = (row.share(), row.stated_low(), row.stated_high(), row.low(), row.high());
            format!("{} {stated:?} {}", row.substance().inci(), row.declaration())
        })
        .collect();
    let contained: Vec<String> = material
        .contained()
        .iter()
        .map(|part| format!("{} {} {:?} {:?} {:?} {}", part.of(), part.substance().inci(), part.share(), part.low(), part.high(), part.source()))
        .collect();
    let uses: Vec<String> = material.use_levels().iter().map(|level| format!("{} {} {}", level.product_use, level.low, level.high)).collect();
    let attributes: Vec<Option<bool>> = Attribute::ALL.iter().map(|one| material.attributes().get(*one).map(|statement| statement.value)).collect();
    let names = (material.id(), material.name(), material.form(), material.phase(), material.difference_to(), material.aliases(), material.source());
    let numbers = (material.density(), material.melting_point(), material.highest_process_temperature(), material.bound_water());
    let natural_origin = material.attributes().natural_origin().map(|(share, _)| share);
    let rest = (material.active_convention(), material.ph_range().map(|range| (range.low, range.high)), material.cautions(), material.is_starter());
    format!("{names:?} {numbers:?} {natural_origin:?} {rest:?} {attributes:?} {rows:?} {contained:?} {uses:?}")
}

fn assert_carried(left: &Catalogue, right: &Catalogue) {
    assert_eq!(left.materials().count(), right.materials().count());
    for (left, right) in left.materials().zip(right.materials()) {
        assert_eq!(carried(left), carried(right));
    }
}

#[test]
fn the_starter_catalogue_reads_back_from_csv() {
    let starter = Catalogue::starter();
    let (materials, constituents) = starter.write_csv().unwrap();
    assert!(materials.starts_with("id,name,form,") && materials.contains("\r\n"));
    let read = Catalogue::read_csv(&materials, &constituents, CsvOptions::default()).unwrap();
    assert_carried(&read, &starter);
    assert_eq!(read.write_csv().unwrap(), (materials, constituents));
}

/// The same sheet as a spreadsheet with decimal commas exports it.
fn with_commas(sheet: &str) -> String {
    let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(sheet.as_bytes());
    let mut writer = csv::WriterBuilder::new().delimiter(b';').terminator(csv::Terminator::CRLF).from_writer("\u{FEFF}".as_bytes().to_vec());
    let numeric = |cell: &str| cell.chars().all(|character| character.is_ascii_digit() || "-.|".contains(character));
    for row in reader.records() {
        let row = row.unwrap();
        writer.write_record(row.iter().map(|cell| if numeric(cell) { cell.replace('.', ",") } else { cell.to_string() })).unwrap();
    }
    String::from_utf8(writer.into_inner().unwrap()).unwrap()
}

#[test]
fn semicolons_and_decimal_commas_carry_the_same() {
    let starter = Catalogue::starter();
    let (materials, constituents) = starter.write_csv().unwrap();
    let (materials, constituents) = (with_commas(&materials), with_commas(&constituents));
    for options in [CsvOptions::default(), CsvOptions::default().with_delimiter(Delimiter::Semicolon)] {
        let read = Catalogue::read_csv(&materials, &constituents, options.with_decimal_comma(true)).unwrap();
        assert_carried(&read, &starter);
    }
    assert!(Catalogue::read_csv(&materials, &constituents, CsvOptions::default()).unwrap_err().is_not_a_number());
}

#[test]
fn bounds_read_back_as_the_same_bounds() {
    let constituents = "[{ inci = \"WATER\" }, { inci = \"GLYCERIN\" }, { inci = \"SODIUM CHLORIDE\", high = 5 }]";
    let catalogue = read(&format!("[[material]]\nid = \"b\"\nname = \"B\"\nform = \"liquid\"\ndescending = true\nconstituents = {constituents}\n"));
    let ends = |catalogue: &Catalogue| -> Vec<_> {
        catalogue.material("b").unwrap().composition().constituents().iter().map(|row| (row.low().unwrap(), row.high().unwrap())).collect()
    };
    let (materials, constituents) = catalogue.write_csv().unwrap();
    let from_csv = Catalogue::read_csv(&materials, &constituents, CsvOptions::default()).unwrap();
    let from_toml = Catalogue::read(&catalogue.write(Notation::Toml).unwrap(), Notation::Toml).unwrap();
    assert_eq!(ends(&catalogue)[1].1.to_string(), "50");
    assert_eq!(ends(&from_csv), ends(&catalogue));
    assert_eq!(ends(&from_toml), ends(&catalogue));
    assert!(!from_csv.material("b").unwrap().has_typical());
}

#[test]
fn what_sheets_cannot_carry_is_refused() {
    let lot = "[[lot]]\nid = \"L1\"\nmaterial = \"k\"\nph = 6\n";
    let named = simple("n", "TALC").replace("form =", "aliases = [\"a|b\"]\nform =");
    let error = read(&[&simple("k", "KAOLIN"), &premix("p", &[("k", "100")]), &named, lot].concat()).write_csv().unwrap_err();
    let places: Vec<&str> = error.faults().iter().map(|fault| fault.place.as_str()).collect();
    assert!(error.faults().iter().all(|fault| fault.kind == FaultKind::Unsupported && fault.remedy.is_some()));
    assert_eq!(places, ["lot \"L1\"", "material \"p\"", "material \"n\""]);
}
