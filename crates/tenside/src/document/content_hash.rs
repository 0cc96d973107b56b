//! What a document holds as one short text.

use hmac_sha256::Hash;
use serde::Serialize;

use crate::error::{Error, Fault, FaultKind};

/// SHA-256 (FIPS 180-4) of a document as JSON with its keys sorted and without white space, as 64 hexadecimal digits:
/// the same for the same document in whatever notation and layout it was kept.
///
/// # Errors
/// None for a document that can be written.
pub(crate) fn content_hash<T: Serialize>(document: &T) -> Result<String, Error> {
    let written = serde_json::to_value(document).and_then(|mut tree| {
        tree.sort_all_objects();
        serde_json::to_string(&tree)
    });
    let text = written.map_err(|error| {
        Error::from(
            Fault::new(FaultKind::Unsupported, "a document that cannot be written has no hash")
                .value(error.to_string()),
        )
    })?;
    Ok(Hash::hash(text.as_bytes()).iter().map(|byte| format!("{byte:02x}")).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// FIPS 180-4, appendix of examples (from memory): the hash of "abc". In JSON the text stands in quotes, so the
    /// bare hash is checked too.
    #[test]
    fn hashes_as_the_standard_does() {
        let hex = |text: &[u8]| Hash::hash(text).iter().map(|byte| format!("{byte:02x}")).collect::<String>();
        assert_eq!(hex(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(content_hash(&"abc").unwrap(), hex(b"\"abc\""));
    }

    #[test]
    fn the_order_of_keys_does_not_matter() {
        let one = serde_json::json!({"b": {"d": 1, "c": [2, {"f": 3, "e": 4}]}, "a": "x"});
        let other = serde_json::json!({"a": "x", "b": {"c": [2, {"e": 4, "f": 3}], "d": 1}});
        assert_eq!(content_hash(&one).unwrap(), content_hash(&other).unwrap());
        assert_ne!(content_hash(&one).unwrap(), content_hash(&serde_json::json!({"a": "x"})).unwrap());
    }
}
