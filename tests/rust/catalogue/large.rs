//! Large catalogues.

use std::fmt::Write as _;

use tenside::catalogue::{Catalogue, CsvOptions};
use tenside::document::Notation;

use super::toml;

fn large(count: usize) -> String {
    let mut text = toml("");
    for number in 0..count {
        let active = 20 + number % 60;
        let (low, high, water) = (active - 2, active + 2, 99 - active);
        write!(
            text,
            "[[material]]\nid = \"grade-{number}\"\nname = \"Grade {number}\"\nform = \"paste\"\ndensity = \
             1.05\ncautions = [\"eye-damage\"]\nconstituents = [\n  {{ inci = \"SODIUM LAURETH SULFATE\", typical = \
             {active}, low = {low}, high = {high} }},\n  {{ inci = \"SODIUM CHLORIDE\", typical = 0.5, declared = \
             \"not-declared\" }},\n  {{ inci = \"WATER\", typical = {water}.5 }},\n]\n",
        )
        .unwrap();
    }
    text
}

#[test]
fn ten_thousand_materials_are_read_in_every_notation() {
    let catalogue = Catalogue::read(&large(10_000), Notation::Toml).unwrap();
    assert_eq!(catalogue.materials().count(), 10_000);
    let json = Catalogue::read(&catalogue.write(Notation::Json).unwrap(), Notation::Json).unwrap();
    let (materials, constituents, _) = catalogue.write_csv().unwrap();
    let sheets = Catalogue::read_csv(&materials, &constituents, None, CsvOptions::default()).unwrap();
    assert!(catalogue.materials().eq(json.materials()));
    assert!(catalogue.materials().eq(sheets.materials()));
}

#[test]
fn a_million_lines_of_toml_are_read() {
    let text = large(100_000);
    assert!(text.lines().count() >= 1_000_000, "{}", text.lines().count());
    assert_eq!(Catalogue::read(&text, Notation::Toml).unwrap().materials().count(), 100_000);
}

const MILLION: usize = 1_000_000;

/// One material whose constituents are a million times the same line.
fn million_rows(row: &str) -> String {
    toml(&format!(
        "[[material]]\nid = \"m\"\nname = \"m\"\nform = \"powder\"\nconstituents = [\n{}]\n",
        row.repeat(MILLION)
    ))
}

#[test]
fn a_million_faulty_lines_are_refused_and_counted() {
    for (text, kind) in [
        (million_rows("{inci=\"KAOLLIN\",typical=1},\n"), "did you mean \"KAOLIN\"?"),
        (toml(&(0..MILLION).map(|number| format!("key-{number} = 1\n")).collect::<String>()), "unknown key"),
        (toml(&"[[material]]\n".repeat(MILLION)), "required but missing"),
    ] {
        let error = Catalogue::read(&text, Notation::Toml).unwrap_err();
        assert!(error.faults().len() == 1001 && error.to_string().contains(kind), "{}", error.faults()[0]);
        assert!(error.faults()[1000].message.contains("more faults not listed"), "{}", error.faults()[1000]);
    }
}

#[test]
fn a_million_rows_of_one_constituent_are_one_fault() {
    let error = Catalogue::read(&million_rows("{inci=\"KAOLIN\",typical=1},\n"), Notation::Toml).unwrap_err();
    assert!(error.is_duplicate() && error.faults().len() == 1, "{}", error.faults()[0]);
}

#[test]
fn tens_of_thousands_of_rows_of_unknown_materials_are_refused() {
    let (materials, constituents, _) = Catalogue::read(&large(20_000), Notation::Toml).unwrap().write_csv().unwrap();
    let error =
        Catalogue::read_csv(&materials, &constituents.replace("grade-", "gradde-"), None, CsvOptions::default())
            .unwrap_err();
    assert!(
        error.faults().iter().any(|fault| fault.remedy.as_deref() == Some("did you mean \"grade-0\"?")),
        "{}",
        error.faults()[0]
    );
}
