//! Catalogues in JSON.

use tenside::document::Notation;

/// Reads `bytes` as a catalogue in JSON.
pub fn catalogue_json(bytes: &[u8]) {
    crate::catalogue::catalogue(bytes, Notation::Json);
}
