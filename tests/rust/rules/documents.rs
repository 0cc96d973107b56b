//! Lists of rules as documents: what is written is read back, and the published lists say where they come from.

use tenside::document::Notation;
use tenside::rule::{Mark, Market, RuleBook, RuleList};

#[test]
fn every_embedded_list_is_read_back_from_what_is_written() {
    for list in RuleBook::starter().lists() {
        for notation in [Notation::Toml, Notation::Json] {
            let text = list.write(notation).unwrap();
            let again =
                RuleList::read(&text, notation).unwrap_or_else(|error| panic!("{}: {error}\n{text}", list.id()));
            assert!(again == **list, "{}: {text}", list.id());
        }
    }
}

#[test]
fn lists_name_their_source_and_the_date_of_their_text() {
    for list in RuleBook::starter().lists() {
        assert!(!list.source().is_empty());
        if list.markets().contains(&Market::Eu) {
            assert!(
                list.edition().is_some() || list.consolidated().is_some() || list.id() == "raw-materials",
                "{}",
                list.id()
            );
            assert!(matches!(list.mark(), Mark::Seen | Mark::Secondary), "{}", list.id());
        }
        if ["eu-annex-ii", "eu-annex-iii", "eu-annex-v"].contains(&list.id()) {
            assert!(
                list.heading().contains("as of 2026-05-18") && list.note().unwrap().contains("corrigendum"),
                "{}",
                list.id()
            );
        }
    }
}

#[test]
fn a_rule_may_name_a_source_of_its_own() {
    let text = r#"
tenside = "rules/1"
id = "own"
title = "Own"
[[group]]
name = "salts"
title = "salts"
members = [{ inci = "SODIUM CHLORIDE" }, { class = "salt", factor = "1/2" }]
[[rule]]
slug = "a"
severity = "information"
title = "a"
group = "salts"
at_most = "10/3"
source = "a handbook, table 3"
mark = "from-memory"
when = [{ measure = "water", above = 1 }, { fact = "phase-temperature", at_most = 60 }, { stated = "ph" }]
"#;
    let list = RuleList::read(text, Notation::Toml).unwrap();
    assert_eq!((list.rules()[0].source(), list.rules()[0].mark()), ("a handbook, table 3", Mark::FromMemory));
    let json = list.write(Notation::Json).unwrap();
    assert_eq!(RuleList::read(&json, Notation::Json).unwrap().rules(), list.rules());
}
