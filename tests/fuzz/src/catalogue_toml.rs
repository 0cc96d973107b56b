//! Catalogues in TOML.

use tenside::document::Notation;

/// Reads `bytes` as a catalogue in TOML.
pub fn catalogue_toml(bytes: &[u8]) {
    crate::catalogue::catalogue(bytes, Notation::Toml);
}
