//! What every target holds a reader to: a refusal names a fault, and what was read comes back from what is written.

use tenside::Error;
use tenside::catalogue::Catalogue;
use tenside::document::Notation;

/// The text of some bytes and the notation it is meant in: JSON where it begins with a brace.
pub(crate) fn document(bytes: &[u8]) -> Option<(&str, Notation)> {
    let text = std::str::from_utf8(bytes).ok()?;
    Some((text, if text.trim_start().starts_with('{') { Notation::Json } else { Notation::Toml }))
}

/// The value, or nothing after a look at the refusal.
pub(crate) fn accepted<T>(result: Result<T, Error>) -> Option<T> {
    match result {
        Ok(value) => Some(value),
        Err(error) => {
            assert!(
                !error.faults().is_empty() && error.faults().iter().all(|fault| !fault.message.is_empty()),
                "a refusal without a fault"
            );
            let shown = error.to_string();
            assert!(
                !shown.chars().any(|c| c.is_control() && c != '\n'),
                "a refusal shows a control character: {shown:?}"
            );
            None
        }
    }
}

/// Written and read again in both notations it is the same.
pub(crate) fn survives<T: PartialEq>(
    value: &T,
    write: impl Fn(&T, Notation) -> Result<String, Error>,
    read: impl Fn(&str, Notation) -> Result<T, Error>,
) {
    for notation in [Notation::Toml, Notation::Json] {
        let text = write(value, notation).unwrap_or_else(|error| panic!("it is not written: {error}"));
        let again = read(&text, notation).unwrap_or_else(|error| panic!("it is not read back: {error}\n{text}"));
        assert!(again == *value, "it reads back as something else:\n{text}");
    }
}

/// Few raw materials, so that looking names up in them is quick.
pub(crate) fn shelf() -> &'static Catalogue {
    static SHELF: std::sync::LazyLock<Catalogue> = std::sync::LazyLock::new(|| {
        let starter = Catalogue::starter();
        let few = [
            "sci-powder",
            "scs-needles",
            "capb-30",
            "cetyl-alcohol",
            "citric-acid-50",
            "lavender-oil",
            "kaolin",
            "water",
        ];
        few.iter().fold(Catalogue::empty(), |shelf, id| {
            let material = starter.material(id).unwrap_or_else(|error| panic!("{error}"));
            shelf.with_material(material.clone()).unwrap_or_else(|error| panic!("{error}"))
        })
    });
    &SHELF
}
