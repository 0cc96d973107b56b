//! Names and texts meant to do harm, and texts that mean nothing.

use std::sync::LazyLock;

use proptest::prelude::*;
use tenside::catalogue::{Catalogue, CsvOptions};
use tenside::document::{Delimiter, Named, Notation};
use tenside::substance::SubstanceTable;

use super::{premix, read, simple, toml};

/// A material of that name, in each notation.
fn named(name: &str) -> Vec<Result<Catalogue, tenside::Error>> {
    let json = serde_json::json!({
        "tenside": "catalogue/1", "source": "invented",
        "material": [{ "id": "k", "name": name, "form": "powder", "constituents": [{ "inci": "KAOLIN", "typical": 100 }] }],
    })
    .to_string();
    let toml_text = toml(&simple("k", "KAOLIN"))
        .replace("name = \"k\"", &format!("name = {}", ::toml::Value::String(name.to_string())));
    let cell = name.replace('"', "\"\"");
    let sheets = Catalogue::read_csv(
        &format!("id,name,form,source\nk,\"{cell}\",powder,invented\n"),
        "material,constituent,typical\nk,KAOLIN,100\n",
        None,
        CsvOptions::default(),
    );
    vec![Catalogue::read(&json, Notation::Json), Catalogue::read(&toml_text, Notation::Toml), sheets]
}

fn shows_nothing_hidden(text: &str) -> bool {
    text.chars().all(|character| !character.is_control() && character != '\u{202E}')
}

#[test]
fn invisible_characters_are_refused_by_name() {
    let names = [
        ("a\0b", "U+0000"),
        ("abc\u{202E}fed", "U+202E"),
        ("abc\u{200F}d", "U+200F"),
        ("a\u{2066}b", "U+2066"),
        ("a\u{1B}[31m", "U+001B"),
        ("a\nb", "U+000A"),
    ];
    for (name, code) in names {
        for result in named(name) {
            let error = result.unwrap_err();
            assert_eq!(error.faults().iter().map(|fault| fault.value.as_deref()).collect::<Vec<_>>(), [Some(code)]);
            assert!(shows_nothing_hidden(&error.to_string()), "{error:?}");
        }
    }
}

#[test]
fn markup_formulas_and_quotes_are_carried_as_they_are() {
    for name in ["<script>alert('x')</script>", "=1+1", "a \"b\", c; d | e", "§ µ ∑ 漢字 🧼", "\\u0041", "'''", "#"]
    {
        for result in named(name) {
            let catalogue = result.unwrap();
            assert_eq!(catalogue.material("k").unwrap().name(), name);
            let (materials, constituents, _) = catalogue.write_csv().unwrap();
            assert_eq!(
                Catalogue::read_csv(&materials, &constituents, None, CsvOptions::default())
                    .unwrap()
                    .material("k")
                    .unwrap()
                    .name(),
                name
            );
        }
    }
}

#[test]
fn control_characters_in_unknown_names_are_escaped_in_messages() {
    let error = Catalogue::read(&toml(&simple("k", "\\u0000\\u001B[31mKAOLIN\\u202E")), Notation::Toml).unwrap_err();
    assert!(error.is_unknown_name() && shows_nothing_hidden(&error.to_string()), "{error}");
}

#[test]
fn deep_nesting_of_every_sort_is_refused() {
    // Seventy-nine levels a key, thirty-one keys inside one another.
    let keys = vec!["a"; 79].join(".");
    let mut dotted = String::from("1");
    for _ in 0..31 {
        dotted = format!("{{ {keys} = {dotted} }}");
    }
    let hidden = "x = [\"\"\"\n\"\"\", ".to_string() + &"[\"\"\"\n\"\"\", ".repeat(100_000);
    for text in [
        format!("{keys} = {dotted}"),
        hidden,
        format!("{} = 1", vec!["a"; 100_000].join(".")),
        format!("[{}]", vec!["a"; 100_000].join(".")),
    ] {
        let error = Catalogue::read(&text, Notation::Toml).unwrap_err();
        assert!(error.is_syntax(), "{error}");
    }
    for text in ["[".repeat(1_000_000), "{\"a\":".repeat(1_000_000), "\"[".repeat(1_000_000), "' [".repeat(1_000_000)] {
        assert!(Catalogue::read(&text, Notation::Json).unwrap_err().is_syntax());
    }
}

/// Gives a text to every reader; only a panic fails.
fn try_all(text: &str) {
    for notation in [Notation::Toml, Notation::Json] {
        let _ = Catalogue::read(text, notation);
        let _ = SubstanceTable::clone(&SubstanceTable::starter()).read(text, notation);
    }
    let (materials, constituents) =
        ("id,name,form,source\nk,K,powder,invented\n", "material,constituent,typical\nk,KAOLIN,100\n");
    for delimiter in Delimiter::ALL {
        let options = CsvOptions::default().with_delimiter(*delimiter).with_decimal_comma(text.len().is_multiple_of(2));
        let _ = Catalogue::read_csv(text, constituents, None, options.clone());
        let _ = Catalogue::read_csv(materials, text, None, options.clone());
        let _ = Catalogue::read_csv(materials, constituents, Some(text), options);
    }
    let _ = Catalogue::read_csv(text, text, None, CsvOptions::default().with_source(text));
}

/// Short documents in every notation, partly from the starter catalogue.
static PIECES: LazyLock<Vec<String>> = LazyLock::new(|| {
    let invented = read(
        &(simple("k", "KAOLIN")
            + &premix("p", &[("k", "40"), ("k", "60")])
            + "[[lot]]\nid = \"1\"\nmaterial = \"k\"\nph = 6\n"),
    );
    let starter = Catalogue::starter();
    let oil = starter.materials().find(|material| !material.contained().is_empty()).unwrap();
    let oil = Catalogue::empty().with_material(oil.clone()).unwrap();
    let (materials, constituents, names) = starter.write_csv().unwrap();
    let few = |text: String| text.chars().take(3000).collect();
    let write = |catalogue: &Catalogue, notation| catalogue.write(notation).unwrap();
    vec![
        write(&invented, Notation::Toml),
        write(&invented, Notation::Json),
        write(&oil, Notation::Toml),
        write(&oil, Notation::Json),
        few(materials),
        few(constituents),
        few(names),
    ]
});

/// What a mutation puts in.
fn splinter() -> impl Strategy<Value = String> {
    let telling = vec![
        "1e400",
        "-1",
        "nan",
        "\u{0}",
        "\u{202E}",
        "\u{FEFF}",
        "\"\"\"",
        "[[material]]",
        "null",
        "99999999999999999999999999999999",
        "é",
        "84,5",
        "1.234,5",
    ];
    prop_oneof![
        "[\\[\\]{}\",=.:|;\t\n\r#'\\\\0-9eE+-]{0,4}",
        prop::sample::select(telling).prop_map(str::to_string),
        any::<String>()
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn no_random_text_makes_a_reader_panic(bytes in prop::collection::vec(any::<u8>(), 0..300)) {
        try_all(&String::from_utf8_lossy(&bytes));
    }

    #[test]
    fn no_random_punctuation_makes_a_reader_panic(text in "[\\[\\]{}\",=.:|;\t\n\r#'\\\\ a-c0-9eE+-]{0,200}") {
        try_all(&text);
    }

    #[test]
    fn no_mutated_document_makes_a_reader_panic(
        kind in 0..PIECES.len(),
        cuts in prop::collection::vec((any::<prop::sample::Index>(), 0usize..20, splinter()), 1..6),
    ) {
        let mut text: Vec<char> = PIECES[kind].chars().collect();
        for (place, length, splinter) in cuts {
            let start = place.index(text.len() + 1);
            let end = (start + length).min(text.len());
            text.splice(start..end, splinter.chars());
        }
        try_all(&text.into_iter().collect::<String>());
    }

    #[test]
    fn a_catalogue_that_reads_is_written_and_read_the_same(kind in 0usize..4, place in any::<prop::sample::Index>(), digit in "[0-9.]{1,2}") {
        let notation = if kind.is_multiple_of(2) { Notation::Toml } else { Notation::Json };
        let mut text: Vec<char> = PIECES[kind].chars().collect();
        let digits: Vec<usize> = text.iter().enumerate().filter(|(_, character)| character.is_ascii_digit()).map(|(index, _)| index).collect();
        let start = digits[place.index(digits.len())];
        text.splice(start..=start, digit.chars());
        if let Ok(catalogue) = Catalogue::read(&text.into_iter().collect::<String>(), notation) {
            let written = catalogue.write(notation).unwrap();
            let again = Catalogue::read(&written, notation).unwrap();
            prop_assert!(catalogue.materials().eq(again.materials()));
            prop_assert_eq!(again.write(notation).unwrap(), written);
        }
    }
}
