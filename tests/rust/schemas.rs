//! The published JSON Schemas and lists of words are those of the core.

use std::fs;

#[test]
fn the_published_schemas_and_words_are_current() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../python/tenside");
    for (file, text) in tenside_tests::written() {
        let published = fs::read_to_string(format!("{folder}/{file}")).unwrap_or_default().replace("\r\n", "\n");
        assert!(published == text, "{file} is out of date: run `cargo xtask schemas` and look at the difference");
    }
}
