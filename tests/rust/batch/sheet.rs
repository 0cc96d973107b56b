//! Sheets: nothing is lost, nothing breaks out, the text fits a terminal.

use tenside::batch::{Batch, Scales, SheetFormat};
use tenside::document::Named;
use tenside::formula::Formula;
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
        assert_eq!(sheet.matches("weigh it slowly under").count(), 1, "{format}");
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
        tenside::formula::Line::new(hostile, tenside::catalogue::Catalogue::starter().material("water").unwrap().clone(), super::percent("40")).unwrap(),
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
    for name in ["x".repeat(200), "石鹸".repeat(100), "e\u{301}".repeat(100), "a very long name ".repeat(11), "👩‍🔬 ".repeat(40)] {
        let water = tenside::catalogue::Catalogue::starter().material("water").unwrap().clone();
        let lines = vec![line("kaolin", "60").in_phase(&name).unwrap(), tenside::formula::Line::new(&name, water, super::percent("40")).unwrap()];
        let formula = Formula::new(&name, lines).unwrap();
        let batch = batch(&formula, "0.1 kg", on_scale("1 g")).numbered(&name).unwrap();
        fits(&batch.sheet(SheetFormat::Text));
    }
}

#[test]
fn grams_and_ounces_side_by_side() {
    let scales = Scales::new(mass("0.05 oz")).unwrap().for_phase("cool-down", mass("0.01 g")).unwrap().shown_in(MassUnit::Ounce);
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
