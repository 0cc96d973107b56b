//! A catalogue of ten thousand invented raw materials, as text.

use std::fmt::Write as _;

use tenside::catalogue::Catalogue;
use tenside::document::Notation;

/// How many materials.
pub(crate) const COUNT: usize = 10_000;

/// Five constituents each, with ranges, as a user's document would hold them.
pub(crate) fn large_catalogue(notation: Notation) -> String {
    let mut text = String::from("tenside = \"catalogue/1\"\nsource = \"invented for the benches\"\n");
    for number in 0..COUNT {
        let active = 60 + number % 25;
        let rest = 96 - active;
        let written = write!(
            text,
            r#"[[material]]
id = "material-{number}"
name = "Raw material number {number}"
form = "powder"
density = 1.05
cautions = ["irritant-dust", "eye-damage"]
use_levels = [{{ use = "shampoo-bar", low = 5, high = 60 }}]
constituents = [
  {{ inci = "SODIUM COCOYL ISETHIONATE", typical = {active}, low = {}, high = {}, declared = "declared" }},
  {{ inci = "STEARIC ACID", typical = {rest}, low = 5, high = 45 }},
  {{ inci = "WATER", typical = 1.5, low = 0.5, high = 2, declared = "not-declared" }},
  {{ inci = "SODIUM CHLORIDE", typical = 0.5, low = 0, high = 1, declared = "not-declared" }},
  {{ inci = "unspecified", typical = 2 }},
]

"#,
            active - 3,
            active + 4
        );
        assert!(written.is_ok());
    }
    match notation {
        Notation::Toml => text,
        Notation::Json => Catalogue::read(&text, Notation::Toml)
            .and_then(|catalogue| catalogue.write(Notation::Json))
            .unwrap_or_else(|error| panic!("{error}")),
    }
}
