//! The accuracy classes of weighing instruments, read once from the embedded data; every value has its source there.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::LazyLock;

use crate::document::{Notation, Reader, TableView, named_enum};
use crate::number::Exact;

named_enum! {
    /// An accuracy class of OIML R 76.
    ScaleClass "accuracy class" {
        /// Special.
        One = "I",
        /// High.
        Two = "II",
        /// Medium.
        Three = "III",
        /// Ordinary.
        Four = "IIII",
    }
}

/// The classes.
pub(super) struct Classes {
    pub(super) source: String,
    pub(super) in_service: Exact,
    pub(super) rows: Vec<ClassRow>,
    errors: Vec<ErrorRow>,
}

/// What an instrument of a class and verification interval has.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct ClassRow {
    pub(super) class: ScaleClass,
    pub(super) from: Exact,
    pub(super) to: Option<Exact>,
    pub(super) least: u32,
    pub(super) most: Option<u32>,
    pub(super) minimum: u32,
}

/// Up to so many intervals the error is half of one, or one.
struct ErrorRow {
    class: ScaleClass,
    half: u32,
    one: u32,
}

static CLASSES: LazyLock<Classes> = LazyLock::new(|| {
    // The embedded file is read by a test; a fault there is a fault of the build.
    Reader::read(include_str!("../../../data/scales/oiml.toml"), Notation::Toml, read)
        .unwrap_or_else(|error| panic!("oiml.toml: {error}"))
});

pub(super) fn classes() -> &'static Classes {
    &CLASSES
}

fn read(view: &TableView<'_>) -> Option<Classes> {
    view.version("scale-classes/1");
    let rows = view.tables("row", |view| {
        Some(ClassRow {
            class: view.needed("class", |view| view.choice("class"))?,
            from: view.needed("from", |view| view.exact("from", None))?,
            to: view.exact("to", None),
            least: view.needed("least", |view| view.whole("least"))?,
            most: view.whole("most"),
            minimum: view.needed("minimum", |view| view.whole("minimum"))?,
        })
    });
    let errors = view.tables("error", |view| {
        let class = view.needed("class", |view| view.choice("class"));
        Some(ErrorRow {
            class: class?,
            half: view.needed("half", |view| view.whole("half"))?,
            one: view.needed("one", |view| view.whole("one"))?,
        })
    });
    Some(Classes {
        source: view.needed("source", |view| view.prose("source"))?,
        in_service: view.needed("in_service", |view| view.exact("in_service", None))?,
        rows,
        errors,
    })
}

impl Classes {
    /// To how many intervals, and how many intervals the error is in service: the last zone has no end.
    pub(super) fn zones(&self, class: ScaleClass) -> [(Option<u32>, Exact); 3] {
        let row = self.errors.iter().find(|row| row.class == class);
        let error = |halves: i64| Exact::ratio(halves, 2) * &self.in_service;
        [(row.map(|row| row.half), error(1)), (row.map(|row| row.one), error(2)), (None, error(3))]
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Named;

    #[test]
    fn every_class_has_its_rows() {
        for class in ScaleClass::ALL {
            assert!(
                classes().rows.iter().any(|row| row.class == *class)
                    && classes().errors.iter().any(|row| row.class == *class),
                "{class}"
            );
        }
    }
}
