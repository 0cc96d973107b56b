//! Sheets: nothing is lost, nothing breaks out, the text fits a terminal.

use std::sync::Arc;

use tenside::batch::{Batch, Scales, SheetFormat};
use tenside::catalogue::Catalogue;
use tenside::document::{Named, Notation};
use tenside::formula::{Formula, Line};
use tenside::material::Caution;
use tenside::number::MassUnit;
use tenside::render::display_width;

use super::{batch, line, mass, on_scale, salt_marsh, two_dozen};

fn two_dozen_on_two_scales() -> Batch {
    let scales = Scales::new(mass("0.1 g")).unwrap().for_phase("cool-down", mass("0.01 g")).unwrap();
    salt_marsh().batch(two_dozen(), scales).unwrap().numbered("17").unwrap().dated("2026-11-24".parse().unwrap())
}

fn fits(text: &str) {
    for line in text.lines() {
        assert!(display_width(line) <= 80, "{} columns: {line}", display_width(line));
    }
}

#[test]
fn the_text_sheet_as_it_stands() {
    let sheet = two_dozen_on_two_scales().sheet(SheetFormat::Text);
    fits(&sheet);
    let expected = include_str!("sheet.txt");
    assert!(sheet == expected, "the sheet changed; if that is meant, put this into sheet.txt:\n{sheet}");
}

#[test]
fn cautions_stand_before_anything_is_weighed_and_each_advice_once() {
    let batch = two_dozen_on_two_scales();
    for &format in SheetFormat::ALL {
        let sheet = batch.sheet(format);
        let at = |words: &str| sheet.find(words).unwrap_or_else(|| panic!("{words:?} is not in the {format} sheet"));
        assert!(at("respirator") < at("Phase 1 of 4"), "{format}");
        assert!(at("safety data sheet") < at("Phase 1 of 4"), "{format}");
        assert!(sheet.contains("DRAFT"), "{format}");
        assert_eq!(sheet.matches("a suitable respirator").count(), 1, "{format}");
        assert_eq!(sheet.matches("B-2291").count(), 1, "{format}");
        assert!(!sheet.contains("{{"), "{format}");
    }
}

#[test]
fn a_sheet_is_the_same_every_time_and_knows_no_clock() {
    let batch = batch(&salt_marsh(), "1 kg", on_scale("0.1 g"));
    for &format in SheetFormat::ALL {
        assert_eq!(batch.sheet(format), batch.sheet(format));
    }
    assert!(!batch.sheet(SheetFormat::Text).contains("Date"));
}

#[test]
fn hostile_names_are_shown_and_not_obeyed() {
    let hostile = "<script>alert(\"1\")</script> | 'q' & [x](y)";
    let lines = vec![
        line("kaolin", "60").in_phase(hostile).unwrap(),
        tenside::formula::Line::new(
            hostile,
            tenside::catalogue::Catalogue::starter().material("water").unwrap().clone(),
            super::percent("40"),
        )
        .unwrap(),
    ];
    let formula = Formula::new(hostile, lines).unwrap();
    let batch = batch(&formula, "100 g", on_scale("0.1 g")).numbered(hostile).unwrap();
    let html = batch.sheet(SheetFormat::Html);
    assert!(!html.contains("<script") && !html.contains("\"1\"") && html.contains("&#60;script&#62;"), "{html}");
    assert!(!html.contains("http") && !html.contains("src=") && !html.contains("url("));
    let markdown = batch.sheet(SheetFormat::Markdown);
    assert!(!markdown.contains("<script") && !markdown.contains("[x](y)"), "{markdown}");
    for row in markdown.lines().filter(|row| row.starts_with('|')) {
        assert_eq!(row.replace("\\|", "").matches('|').count(), 8, "{row}");
    }
    let text = batch.sheet(SheetFormat::Text);
    assert!(text.contains("<script>"));
    fits(&text);
    assert!(batch.clone().numbered("1\u{202E}7").unwrap_err().is_out_of_range());
    assert!(batch.numbered("1\n7").is_err());
}

#[test]
fn the_text_fits_with_long_and_wide_names() {
    for name in
        ["x".repeat(200), "石鹸".repeat(100), "e\u{301}".repeat(100), "a very long name ".repeat(11), "👩‍🔬 ".repeat(40)]
    {
        let water = tenside::catalogue::Catalogue::starter().material("water").unwrap().clone();
        let lines = vec![
            line("kaolin", "60").in_phase(&name).unwrap(),
            tenside::formula::Line::new(&name, water, super::percent("40")).unwrap(),
        ];
        let formula = Formula::new(&name, lines).unwrap();
        let batch = batch(&formula, "0.1 kg", on_scale("1 g")).numbered(&name).unwrap();
        fits(&batch.sheet(SheetFormat::Text));
    }
}

#[test]
fn a_unit_that_no_scale_can_be_written_in_is_refused() {
    for unit in [MassUnit::Ounce, MassUnit::Pound] {
        let error = salt_marsh().batch(two_dozen(), on_scale("0.1 g").shown_in(unit)).unwrap_err();
        assert!(error.is_unsupported() && error.to_string().contains(unit.symbol()), "{error}");
    }
    let kilograms = salt_marsh().batch(two_dozen(), on_scale("0.1 g").shown_in(MassUnit::Kilogram)).unwrap();
    assert!(kilograms.sheet(SheetFormat::Text).contains("1.6304 kg in all"));
}

#[test]
fn grams_and_ounces_side_by_side() {
    let scales =
        Scales::new(mass("0.05 oz")).unwrap().for_phase("cool-down", mass("0.01 g")).unwrap().shown_in(MassUnit::Ounce);
    let batch = salt_marsh().batch(two_dozen(), scales).unwrap();
    let sheet = batch.sheet(SheetFormat::Text);
    fits(&sheet);
    assert!(sheet.contains("scale of 0.05 oz") && sheet.contains("scale of 0.01 g"), "{sheet}");
}

#[test]
fn a_tonne_still_fits() {
    let batch = batch(&salt_marsh(), "99999 kg", on_scale("0.001 g"));
    fits(&batch.sheet(SheetFormat::Text));
}

#[test]
fn every_caution_has_its_advice_on_the_sheet_and_none_is_said_for_water() {
    let all: Vec<String> = Caution::ALL.iter().map(|caution| format!("{:?}", caution.to_string())).collect();
    assert_eq!(all.len(), 13);
    let text = format!(
        "tenside = \"catalogue/1\"\nsource = \"invented\"\n[[material]]\nid = \"bad\"\nname = \"Bad powder\"\nform = \
         \"powder\"\ncautions = [{}]\nconstituents = [{{ inci = \"KAOLIN\", typical = 100 }}]\n",
        all.join(", ")
    );
    let bad = Catalogue::read(&text, Notation::Toml).unwrap();
    let bad = Line::new("bad", Arc::clone(bad.material("bad").unwrap()), super::percent("40")).unwrap();
    let formula = Formula::new("All of them", vec![bad, line("kaolin", "50"), line("water", "10")]).unwrap();
    let sheet = batch(&formula, "1 kg", on_scale("1 g")).sheet(SheetFormat::Markdown);
    for caution in Caution::ALL {
        assert_eq!(sheet.matches(caution.advice()).count(), 1, "{caution}");
    }
    let headings = [
        "Irritant dust",
        "Dust",
        "Toxic",
        "Toxic when breathed in",
        "May harm fertility or the unborn child",
        "Corrosive",
        "Damages eyes",
        "Irritates eyes",
        "Can sensitise",
        "Dangerous when swallowed: gets into the lungs",
        "Flammable",
        "Toxic to life in water",
        "Sensitive to heat",
    ];
    let places: Vec<usize> = headings
        .iter()
        .map(|heading| sheet.find(&format!("**{heading}:**")).unwrap_or_else(|| panic!("{heading}")))
        .collect();
    assert!(places.is_sorted(), "{places:?}");
    assert!(!sheet.contains("No caution stated"), "{sheet}");
}

/// A hydrosol is mostly water, and what else is in it nobody said; water itself calls for nothing.
#[test]
fn a_hydrosol_without_a_caution_is_not_passed_over_as_water() {
    let starter = Catalogue::starter();
    let hydrosol = Arc::new(starter.material("rose-hydrosol").unwrap().as_ref().clone().with_cautions(&[]));
    let water = starter.material("water").unwrap().clone();
    let lines = [("hydrosol", hydrosol, "60"), ("plain", water, "40")];
    let lines = lines.map(|(name, material, percent)| Line::new(name, material, percent).unwrap());
    let formula = Formula::new("Mist", lines.to_vec()).unwrap();
    let batch = formula.batch(two_dozen(), Scales::new(mass("0.1 g")).unwrap()).unwrap();
    let sheet = batch.sheet(SheetFormat::Markdown);
    let open = sheet.lines().find(|line| line.contains("No caution stated")).unwrap_or_else(|| panic!("{sheet}"));
    assert!(open.contains("hydrosol") && !open.contains("plain"), "{open}");
}
