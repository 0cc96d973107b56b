//! Two catalogues into one.

use tenside::catalogue::{Catalogue, Winner};
use tenside::document::Notation;

use super::{premix, read, simple};

const SUBSTANCE: &str = "[[substance]]\ninci = \"INVENTED\"\nclass = \"other\"\nvolatility = ";

fn ours() -> Catalogue {
    let lot = "[[lot]]\nid = \"1\"\nmaterial = \"both\"\nph = 6\n";
    let alias = "[[alias]]\nname = \"x\"\ncandidates = [\"both\"]\n";
    let mix = premix("mix", &[("both", "50"), ("ours", "50")]);
    read(&[SUBSTANCE, "\"none\"\n", &simple("both", "KAOLIN"), &simple("ours", "INVENTED"), &mix, lot, alias].concat())
}

fn theirs() -> Catalogue {
    let alias = "[[alias]]\nname = \"X\"\ncandidates = [\"theirs\"]\n";
    read(&[SUBSTANCE, "\"volatile\"\n", &simple("both", "TALC"), &simple("theirs", "INVENTED"), alias].concat())
}

fn first_inci(catalogue: &Catalogue, id: &str) -> String {
    catalogue.material(id).unwrap().leaves()[0].0.composition().constituents()[0].substance().inci().to_string()
}

fn solids(catalogue: &Catalogue, id: &str) -> String {
    catalogue.material(id).unwrap().solids().unwrap().percent().to_string()
}

/// What is written names each substance and each material once, so it can only be the same if the catalogue is of one
/// piece.
fn assert_of_one_piece(catalogue: &Catalogue) {
    for notation in [Notation::Toml, Notation::Json] {
        let text = catalogue.write(notation).unwrap();
        let again = Catalogue::read(&text, notation).unwrap();
        assert_eq!(catalogue.materials().count(), again.materials().count());
        assert!(catalogue.materials().all(|material| again.find(material.id()) == Some(material)));
        assert!(catalogue.lots().eq(again.lots()));
    }
}

#[test]
fn ours_wins() {
    let merged = ours().merge(&theirs(), Winner::Ours).unwrap();
    assert_eq!(merged.materials().map(|material| material.id()).collect::<Vec<_>>(), ["both", "ours", "mix", "theirs"]);
    assert_eq!(first_inci(&merged, "both"), "KAOLIN");
    // Their material comes with our understanding of the substance.
    assert_eq!((solids(&theirs(), "theirs"), solids(&merged, "theirs")), ("0".to_string(), "100".to_string()));
    assert_of_one_piece(&merged);
}

#[test]
fn theirs_wins_inside_premixes_and_substances_too() {
    let merged = ours().merge(&theirs(), Winner::Theirs).unwrap();
    assert_eq!(first_inci(&merged, "both"), "TALC");
    assert_eq!(first_inci(&merged, "mix"), "TALC");
    assert_eq!((solids(&ours(), "ours"), solids(&merged, "ours")), ("100".to_string(), "0".to_string()));
    assert_of_one_piece(&merged);
}

#[test]
fn a_lot_of_the_material_that_lost_is_checked_again() {
    let salted = "[[material]]\nid = \"m\"\nname = \"m\"\nform = \"liquid\"\nconstituents = [{ inci = \"SODIUM \
                  CHLORIDE\", typical = 5 }, { inci = \"WATER\", typical = 95 }]\n";
    let ours = read(&format!("{salted}[[lot]]\nid = \"1\"\nmaterial = \"m\"\nsalt = 1\n"));
    let error = ours.merge(&read(&simple("m", "KAOLIN")), Winner::Theirs).unwrap_err();
    assert!(error.to_string().contains("lot \"1\""), "{error}");
    assert!(ours.merge(&read(&simple("m", "KAOLIN")), Winner::Ours).is_ok());
}

#[test]
fn neither_wins_and_every_clash_is_named() {
    let error = ours().merge(&theirs(), Winner::Neither).unwrap_err();
    assert!(error.is_duplicate());
    assert_eq!(
        error.faults().iter().filter_map(|fault| fault.value.as_deref()).collect::<Vec<_>>(),
        ["\"INVENTED\"", "\"both\""]
    );
    assert_eq!(ours().merge(&ours(), Winner::Neither).unwrap().materials().count(), 3);
}

#[test]
fn an_alias_of_both_is_ambiguous() {
    let merged = ours().merge(&theirs(), Winner::Ours).unwrap();
    assert!(merged.material("x").unwrap_err().is_ambiguous_name());
}

#[test]
fn a_replaced_material_is_replaced_in_premixes() {
    let catalogue = ours();
    let talc = theirs().find("both").unwrap().clone();
    let changed = catalogue.with_material(talc).unwrap();
    assert_eq!(first_inci(&changed, "mix"), "TALC");
    // The old catalogue is as it was.
    assert_eq!(first_inci(&catalogue, "mix"), "KAOLIN");
    let around = read(&(premix("both", &[("mix", "100")]) + &premix("mix", &[("k", "100")]) + &simple("k", "KAOLIN")))
        .find("both")
        .unwrap()
        .clone();
    assert!(catalogue.with_material(around).unwrap_err().is_loop());
}
