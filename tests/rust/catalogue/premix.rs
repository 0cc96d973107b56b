//! Premixes of any depth, without loops.

use tenside::catalogue::Catalogue;
use tenside::document::Notation;

use super::{premix, read, simple, toml};

#[test]
fn a_premix_fifty_deep_is_read_written_and_expanded() {
    let mut materials = simple("kaolin-here", "KAOLIN");
    for level in 0..50 {
        let part = if level == 0 { "kaolin-here".to_string() } else { format!("level-{}", level - 1) };
        // The premix before its part every other time.
        let row = premix(&format!("level-{level}"), &[(&part, "50"), ("talc-here", "50")]);
        materials = if level % 2 == 0 { format!("{row}{materials}") } else { format!("{materials}{row}") };
    }
    let catalogue = read(&format!("{materials}{}", simple("talc-here", "TALC")));
    let top = catalogue.material("level-49").unwrap();
    let leaves = top.leaves();
    assert_eq!(leaves.len(), 2);
    let kaolin = leaves.iter().find(|(leaf, _)| leaf.id() == "kaolin-here").unwrap();
    assert_eq!(kaolin.1.reciprocal().unwrap().to_string(), (1u64 << 50).to_string());
    let sum: tenside::number::Exact = leaves.iter().map(|(_, share)| share.clone()).sum();
    assert_eq!(sum, tenside::number::Exact::ONE);

    let again = Catalogue::read(&catalogue.write(Notation::Json).unwrap(), Notation::Json).unwrap();
    assert!(catalogue.materials().all(|material| again.find(material.id()) == Some(material)));
}

#[test]
fn loops_are_refused_once_each_with_the_way_round() {
    let materials = [
        premix("a", &[("b", "100")]),
        premix("b", &[("k", "40"), ("c", "60")]),
        premix("c", &[("a", "100")]),
        premix("self", &[("self", "100")]),
        // Not in a loop, but resting on one.
        premix("outside", &[("a", "100")]),
        simple("k", "KAOLIN"),
    ];
    let error = Catalogue::read(&toml(&materials.concat()), Notation::Toml).unwrap_err();
    let values: Vec<&str> = error.faults().iter().map(|fault| fault.value.as_deref().unwrap()).collect();
    assert!(error.is_loop());
    assert_eq!(values, ["a > b > c > a", "self > self"]);
}

#[test]
fn a_chain_of_a_hundred_thousand_premixes_and_a_loop_as_long() {
    let count = 100_000;
    let rows = |last: &str| {
        let mut materials = String::new();
        for level in 0..count {
            let part = if level == 0 { last.to_string() } else { format!("l{}", level - 1) };
            materials += &format!(
                "[[material]]\nid=\"l{level}\"\nname=\"l\"\nform=\"powder\"\npremix=[{{material=\"{part}\",\
                 percent=100}}]\n"
            );
        }
        materials
    };
    let catalogue = read(&(rows("k") + &simple("k", "KAOLIN")));
    assert_eq!(catalogue.material(&format!("l{}", count - 1)).unwrap().leaves().len(), 1);
    assert_eq!(catalogue.write(Notation::Toml).unwrap().matches("[[material]]").count(), count + 1);
    drop(catalogue);

    let error = Catalogue::read(&toml(&rows(&format!("l{}", count - 1))), Notation::Toml).unwrap_err();
    assert!(error.is_loop() && error.faults().len() == 1);
    assert!(error.to_string().len() < 1000, "{error}");
}

#[test]
fn shares_of_a_premix_sum_to_a_hundred() {
    let text = toml(&(premix("p", &[("k", "60"), ("k", "43")]) + &simple("k", "KAOLIN")));
    let error = Catalogue::read(&text, Notation::Toml).unwrap_err();
    assert!(error.is_contradiction() && error.to_string().contains("found 103"), "{error}");
}

#[test]
fn a_premix_at_fault_is_reported_once() {
    for (parts, what) in [
        ("[]", "a premix without parts"),
        ("[{ material = \"k\", percent = \"x\" }]", "not a number"),
        ("[{ percent = 100 }]", "required but missing"),
    ] {
        let text = toml(&format!(
            "[[material]]\nid = \"p\"\nname = \"p\"\nform = \"oil\"\npremix = {parts}\n{}",
            simple("k", "KAOLIN")
        ));
        let error = Catalogue::read(&text, Notation::Toml).unwrap_err();
        assert!(error.faults().len() == 1 && error.to_string().contains(what), "{error}");
    }
}
