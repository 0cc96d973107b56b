//! Catalogues in and out: every fault at its place, round trips, merging, hostile and huge documents.

mod bad_input;
mod faults;
mod finding;
mod large;
mod merge;
mod own_table;
mod premix;
mod random;
mod round_trip;
mod sheets;
mod starter;

use tenside::catalogue::Catalogue;
use tenside::document::Notation;

/// A catalogue document of invented materials.
fn toml(materials: &str) -> String {
    format!("tenside = \"catalogue/1\"\nsource = \"invented\"\n{materials}")
}

fn read(materials: &str) -> Catalogue {
    Catalogue::read(&toml(materials), Notation::Toml).unwrap()
}

/// A material of one substance.
fn simple(id: &str, inci: &str) -> String {
    format!(
        "[[material]]\nid = \"{id}\"\nname = \"{id}\"\nform = \"powder\"\nconstituents = [{{ inci = \"{inci}\", \
         typical = 100 }}]\n"
    )
}

/// A premix of other materials.
fn premix(id: &str, parts: &[(&str, &str)]) -> String {
    let parts: Vec<String> = parts
        .iter()
        .map(|(material, percent)| format!("{{ material = \"{material}\", percent = {percent} }}"))
        .collect();
    format!("[[material]]\nid = \"{id}\"\nname = \"{id}\"\nform = \"powder\"\npremix = [{}]\n", parts.join(", "))
}
