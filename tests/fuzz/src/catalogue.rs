//! Catalogues: what is read is looked into and survives writing.

use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::substance::Attribute;

use crate::reading::accepted;

pub(crate) fn catalogue(bytes: &[u8], notation: Notation) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    if let Some(catalogue) = accepted(Catalogue::read(text, notation)) {
        look_into(&catalogue);
        for notation in [Notation::Toml, Notation::Json] {
            let text = catalogue.write(notation).unwrap_or_else(|error| panic!("it is not written: {error}"));
            let again =
                Catalogue::read(&text, notation).unwrap_or_else(|error| panic!("it is not read back: {error}\n{text}"));
            // Parts are written before the premix that holds them.
            assert_eq!(again.materials().count(), catalogue.materials().count(), "{text}");
            for material in catalogue.materials() {
                assert_eq!(again.find(material.id()), Some(material), "{text}");
            }
            assert!(
                again.lots().eq(catalogue.lots()) && again.aliases() == catalogue.aliases(),
                "other lots or aliases:\n{text}"
            );
        }
    }
}

/// Nothing that is asked of what was read panics, and typical shares sum to a hundred.
pub(crate) fn look_into(catalogue: &Catalogue) {
    for material in catalogue.materials() {
        if let Some(sum) = accepted(material.typical_percent(|_| true)) {
            assert_eq!(sum, tenside::number::Exact::hundred(), "{}", material.id());
        }
        accepted(material.active());
        accepted(material.solids());
        let _ = (
            material.main_class(),
            material.cautions(),
            material.attribute(Attribute::Palm),
            material.composition().tightened(),
        );
        // Another material may have the same name; it is then refused as ambiguous.
        accepted(catalogue.material(material.name()));
        for lot in catalogue.lots().filter(|lot| lot.material() == material.id()) {
            accepted(material.with_lot(lot));
        }
    }
}
