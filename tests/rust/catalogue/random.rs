//! Random catalogues: whatever is written is equal when it is read back, or refused by name.

use std::collections::HashSet;

use proptest::prelude::*;
use serde_json::{Value, json};
use tenside::catalogue::{Catalogue, CsvOptions, Winner};
use tenside::document::Notation;
use tenside::error::FaultKind;

const EMBEDDED: [&str; 5] = ["KAOLIN", "WATER", "GLYCERIN", "TALC", "LIMONENE"];
const OWN: [&str; 5] = ["HOUSE ESTER", "Glycerin", "=OWN", "OTHER ESTER", "kaolin"];
const FORMS: [&str; 3] = ["powder", "liquid", "oil"];

/// Names as suppliers, and people who mean harm, write them.
fn name() -> impl Strategy<Value = String> {
    prop_oneof![
        "[a-z]{1,8}",
        "[=+@'-]{1,3}[A-Z(\"]{1,6}",
        "[a-zé漢;,:|.#/]{1,12}".prop_map(|text| format!("x{text}x")),
        Just("-5".to_string()),
        Just("SCS".to_string()),
        Just("yes".to_string())
    ]
}

fn prose() -> impl Strategy<Value = String> {
    prop_oneof![
        Just("invented".to_string()),
        name(),
        Just("two\r\nlines, \"quoted\"".to_string()),
        Just("a | b".to_string())
    ]
}

fn maybe<T: std::fmt::Debug + Clone>(of: impl Strategy<Value = T>) -> impl Strategy<Value = Option<T>> {
    proptest::option::weighted(0.4, of)
}

fn set(table: &mut Value, key: &str, value: Option<Value>) {
    if let (Some(value), Some(table)) = (value, table.as_object_mut()) {
        table.insert(key.to_string(), value);
    }
}

fn substance(inci: &'static str) -> impl Strategy<Value = Value> {
    (prose(), any::<bool>(), maybe(1u32..400), maybe(name())).prop_map(move |(source, counts, mass, label)| {
        let mut row = json!({ "inci": inci, "class": "ester", "source": source, "counts_as_active": counts });
        set(
            &mut row,
            "molar_mass",
            mass.map(|mass| json!({ "typical": mass, "low": mass, "high": mass + 1, "chain": "C12" })),
        );
        set(&mut row, "label_eu", label.map(Value::from));
        set(
            &mut row,
            "attributes",
            counts.then(|| json!({ "palm": true, "natural_origin": { "share": 50, "source": "other" } })),
        );
        row
    })
}

/// Own substances in any order, none twice.
fn substances() -> impl Strategy<Value = Vec<Value>> {
    let order = Just(OWN.to_vec()).prop_shuffle();
    (order, 0usize..=3).prop_flat_map(|(order, count)| order.into_iter().take(count).map(substance).collect::<Vec<_>>())
}

/// A material of two of the substances that are there.
fn material(id: usize, inci: Vec<String>) -> impl Strategy<Value = Value> {
    let texts = (name(), prose(), proptest::collection::vec(name(), 0..3), maybe(name()), maybe((prose(), 3u32..6)));
    let levels = proptest::collection::vec((name(), 0u32..20, maybe(prose())), 0..3);
    let numbers =
        (maybe(-20i32..90), maybe(any::<bool>()), maybe(prose()), maybe(0u32..=100), 1u32..99, maybe(0u32..2));
    let of = proptest::sample::subsequence(inci, 2);
    (texts, levels, numbers, of, proptest::sample::select(FORMS.to_vec())).prop_map(
        move |(texts, levels, numbers, of, form)| {
            let (name, source, aliases, phase, ph) = texts;
            let (melting, palm, palm_source, natural, share, low) = numbers;
            let first = json!({ "inci": of[0], "typical": share, "declared": "declared" });
            let mut row =
                json!({ "id": format!("m{id}"), "name": name, "form": form, "source": source, "aliases": aliases });
            let mut second = json!({ "inci": of[1], "typical": 100 - share });
            set(&mut second, "low", low.map(Value::from));
            set(&mut row, "constituents", Some(json!([first, second])));
            set(
                &mut row,
                "contained",
                low.map(|_| json!([{ "of": of[0], "inci": "LINALOOL", "low": 1, "high": 2, "source": "analysis" }])),
            );
            set(&mut row, "scent_reported_above", low.map(Value::from));
            set(&mut row, "remainder_may_hold", natural.map(|_| json!(["fragrance-constituent", "salt"])));
            set(&mut row, "phase", phase.map(Value::from));
            set(&mut row, "melting_point", melting.map(Value::from));
            set(&mut row, "ph_range", ph.map(|(source, low)| json!({ "low": low, "high": low + 1, "source": source })));
            let level = |(used, low, source): (String, u32, Option<String>)| {
                let mut level = json!({ "use": used, "low": low, "high": low + 3 });
                set(&mut level, "source", source.map(Value::from));
                level
            };
            set(&mut row, "use_levels", Some(levels.into_iter().map(level).collect()));
            let palm = palm.map(|palm| match &palm_source {
                Some(source) => json!({ "value": palm, "source": source }),
                None => palm.into(),
            });
            let mut attributes = json!({});
            set(&mut attributes, "palm", palm);
            set(&mut attributes, "natural_origin", natural.map(|share| json!({ "share": share, "source": "index" })));
            set(&mut row, "attributes", Some(attributes));
            row
        },
    )
}

fn document() -> impl Strategy<Value = Value> {
    (substances(), 1usize..4)
        .prop_flat_map(|(substances, count)| {
            let mut inci: Vec<String> = EMBEDDED.iter().map(|inci| (*inci).to_string()).collect();
            for row in &substances {
                let own = row["inci"].as_str().unwrap_or_default();
                inci.retain(|known| !known.eq_ignore_ascii_case(own));
                inci.push(own.to_string());
            }
            let materials: Vec<_> = (0..count).map(|id| material(id, inci.clone())).collect();
            let aliases = proptest::collection::vec((name(), proptest::collection::vec(0..count, 1..3), maybe(prose())), 0..3);
            let (lot, premix) = (maybe((name(), 40u32..60)), maybe((0..count, 0..count, any::<bool>())));
            (Just(substances), materials, aliases, lot, premix)
        })
        .prop_map(|(substances, mut materials, aliases, lot, premix)| {
            let id = |material: usize| format!("m{material}");
            if let Some((first, second, of_lot)) = premix {
                let mut part = json!({ "material": id(first), "percent": 40 });
                set(&mut part, "lot", lot.as_ref().filter(|_| of_lot && first == 0).map(|(name, _)| name.clone().into()));
                let parts = json!([part, { "material": id(second), "percent": 60 }]);
                materials.insert(0, json!({ "id": "premix", "name": "premix", "form": "powder", "source": "own", "premix": parts }));
            }
            let alias = |(name, of, note): (String, Vec<usize>, Option<String>)| {
                let mut row = json!({ "name": name, "candidates": of.into_iter().map(id).collect::<Vec<_>>() });
                set(&mut row, "note", note.map(Value::from));
                row
            };
            let lots: Vec<Value> = lot.into_iter().map(|(name, ph)| json!({ "id": name, "material": "m0", "ph": ph / 10, "retest": "2027-01-31" })).collect();
            let aliases: Vec<Value> = aliases.into_iter().map(alias).collect();
            json!({ "tenside": "catalogue/1", "source": "invented", "substance": substances, "material": materials, "lot": lots, "alias": aliases })
        })
}

/// Every notation gives the catalogue back, or says what it cannot hold.
fn check(catalogue: &Catalogue) {
    for notation in [Notation::Toml, Notation::Json] {
        let text = catalogue.write(notation).unwrap();
        let again = Catalogue::read(&text, notation).unwrap_or_else(|error| panic!("{error}\n{text}"));
        assert!(again == *catalogue, "{text}");
    }
    match catalogue.write_csv() {
        Ok((materials, constituents, names)) => {
            let again = Catalogue::read_csv(&materials, &constituents, Some(&names), CsvOptions::default());
            assert!(
                again.unwrap_or_else(|error| panic!("{error}\n{materials}")) == *catalogue,
                "{materials}\n{constituents}\n{names}"
            );
            for sheet in [materials, constituents, names] {
                let mut reader = csv::ReaderBuilder::new().has_headers(false).from_reader(sheet.as_bytes());
                for row in reader.records() {
                    let formula = |cell: &str| {
                        cell.starts_with(['=', '+', '@'])
                            || (cell.starts_with('-') && cell.trim_start_matches('-').parse::<f64>().is_err())
                    };
                    assert!(row.unwrap().iter().all(|cell| !formula(cell)), "{sheet}");
                }
            }
        }
        Err(error) => assert!(
            error.faults().iter().all(|fault| fault.kind == FaultKind::Unsupported && !fault.place.is_empty()),
            "{error}"
        ),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, max_shrink_iters: 2000, ..ProptestConfig::default() })]

    #[test]
    fn what_is_written_is_equal_when_read_back_or_refused_by_name(document in document(), other in document()) {
        let read = |document: &Value| Catalogue::read(&document.to_string(), Notation::Json).unwrap_or_else(|error| panic!("{error}\n{document:#}"));
        let (first, second) = (read(&document), read(&other));
        check(&first);
        check(&second);
        // Where a lot or premix does not go with what won, merging says so.
        for winner in [Winner::Ours, Winner::Theirs] {
            if let Ok(merged) = first.merge(&second, winner) {
                match merged.write(Notation::Json) {
                    Ok(_) => check(&merged),
                    Err(error) => assert!(error.faults().iter().all(|fault| fault.message.starts_with("a premix holds another")), "{error}"),
                }
            }
        }
        // Into another catalogue one by one, premixes first.
        let mut grown = Catalogue::empty();
        for substance in first.substances().iter().filter(|substance| OWN.contains(&substance.inci())) {
            grown = grown.with_substance(substance.clone()).unwrap();
        }
        for material in first.materials() {
            grown = grown.with_material(material.clone()).unwrap();
        }
        check(&grown);
        let ids = |catalogue: &Catalogue| catalogue.materials().map(|material| material.id().to_string()).collect::<HashSet<_>>();
        prop_assert_eq!(ids(&grown), ids(&first));
    }
}

#[test]
fn a_premix_that_holds_another_material_than_the_catalogue_is_refused_by_name() {
    let text = |share: u32| {
        let constituents = json!([{ "inci": "KAOLIN", "typical": share }, { "inci": "TALC", "typical": 100 - share }]);
        let clay = json!({ "id": "clay", "name": "Clay", "form": "powder", "constituents": constituents });
        let premix = json!({ "id": "premix", "name": "Premix", "form": "powder", "premix": [{ "material": "clay", "percent": 100 }] });
        json!({ "tenside": "catalogue/1", "source": "invented", "material": [clay, premix] }).to_string()
    };
    let read = |share| Catalogue::read(&text(share), Notation::Json).unwrap();
    let mixed = Catalogue::empty().with_material(read(40).material("clay").unwrap().clone()).unwrap();
    let mixed = mixed.with_material(read(60).material("premix").unwrap().clone()).unwrap();
    let error = mixed.write(Notation::Toml).unwrap_err();
    assert_eq!(
        (error.faults()[0].place.as_str(), error.faults()[0].value.as_deref()),
        ("material \"premix\", premix", Some("\"clay\""))
    );
    let alone = Catalogue::empty().with_material(read(60).material("premix").unwrap().clone()).unwrap();
    assert_eq!(alone.materials().map(|material| material.id()).collect::<Vec<_>>(), ["clay", "premix"]);
    check(&alone);
}

#[test]
fn a_lot_is_no_material_of_a_catalogue() {
    let starter = Catalogue::starter();
    let document = json!({ "tenside": "catalogue/1", "lot": [{ "id": "W", "material": "m", "ph": 6 }],
        "material": [{ "id": "m", "name": "M", "form": "powder", "source": "own", "constituents": [{ "inci": "KAOLIN", "typical": 100 }] }] });
    let own = Catalogue::read(&document.to_string(), Notation::Json).unwrap();
    let lot = std::sync::Arc::new(own.material("m").unwrap().with_lot(own.lot("W").unwrap()).unwrap().0);
    assert!(starter.with_material(lot).unwrap_err().is_unsupported());
}

#[test]
fn the_name_of_the_nameless_remainder_is_reserved() {
    let document = json!({ "tenside": "catalogue/1", "source": "own", "substance": [{ "inci": "Unspecified", "class": "ester" }] });
    assert!(Catalogue::read(&document.to_string(), Notation::Json).unwrap_err().is_out_of_range());
}
