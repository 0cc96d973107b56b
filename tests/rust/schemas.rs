//! The published JSON Schemas are those of the documents.

use std::fs;

#[test]
fn the_published_schemas_are_current() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../python/tenside/schema");
    for (name, schema) in tenside_tests::schemas() {
        let published = fs::read_to_string(format!("{folder}/{name}.json")).unwrap_or_default().replace("\r\n", "\n");
        assert!(published == schema, "{name}.json is out of date: run `cargo xtask schemas` and look at the difference");
    }
}
