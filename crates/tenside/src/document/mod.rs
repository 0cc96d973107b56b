//! Text in and out: TOML, JSON and sheets of cells (CSV) read into one tree that knows where everything stands, so that
//! every fault of a document is reported at once with line and column, and nothing is half-read.
//!
//! # Why
//! - Documents are read by hand into one tree because serde stops at the first fault and forgets positions. They
//!   are written by serde from document structs, from which the JSON Schemas are derived too; a test reads back
//!   what is written.

#[cfg(feature = "history")]
mod content_hash;
mod decimal;
mod depth;
mod fault;
pub(crate) mod named;
mod notation;
mod number;
mod place;
mod read_json;
mod read_toml;
mod reader;
mod result;
mod sheet;
mod split;
mod text;
mod tree;

use reader::MOST_FAULTS;

#[cfg(feature = "history")]
pub(crate) use content_hash::content_hash;
pub(crate) use decimal::{DecimalMark, has_decimal_comma, read_decimal};
pub use named::Named;
pub(crate) use named::{likeliest, named_enum, nearest, unknown_name};
pub use notation::Notation;
pub(crate) use number::IntervalDocument;
pub use number::Number;
pub(crate) use place::CellPlace;
pub(crate) use reader::{Reader, TableView};
pub use result::{Materials, ResultDocument, kind_of};
pub(crate) use result::{form, forms, restore, written};
pub(crate) use sheet::{Columns, Headings, Row, Sheets, guarded, unguarded};
pub use split::Delimiter;
pub(crate) use split::Splitter;
pub(crate) use text::{LONGEST_SHOWN, check_name, check_prose, check_slug, fold, fold_spelling, names_alike, shown};
pub(crate) use tree::{Entry, Node, Value};

use crate::error::Error;

/// The JSON Schema (2020-12) of a kind of document, as text: of what its reader takes.
#[cfg(feature = "schema")]
pub(crate) fn schema_text<T: schemars::JsonSchema>(kind: &str) -> String {
    let mut schema =
        schemars::generate::SchemaSettings::draft2020_12().for_serialize().into_generator().into_root_schema_for::<T>();
    schema.insert("$id".to_string(), format!("urn:tenside:schema:{kind}:1").into());
    // A schema is plain JSON, which always serialises.
    serde_json::to_string_pretty(&schema).unwrap_or_default() + "\n"
}

/// For `skip_serializing_if` of a key that is always written and that a reader can do without: its schema then does not
/// ask for it.
pub(crate) fn always_written<T: ?Sized>(_: &T) -> bool {
    false
}

/// The schema of a whole number, which a document may hold as text.
#[cfg(feature = "schema")]
pub(crate) fn whole_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
    schemars::json_schema!({ "type": ["integer", "string", "null"], "minimum": 0, "maximum": u32::MAX, "pattern": "^[0-9]{1,10}$" })
}

/// Writes a document that serialises to a table.
///
/// # Errors
/// None for the documents of this crate; serialisers report values they cannot write.
pub(crate) fn write<T: serde::Serialize>(document: &T, notation: Notation) -> Result<String, Error> {
    let failed = |what: String| {
        crate::error::Fault::new(
            crate::error::FaultKind::Unsupported,
            format!("the document cannot be written: {what}"),
        )
        .into()
    };
    match notation {
        Notation::Toml => toml::to_string(document).map_err(|error| failed(error.to_string())),
        Notation::Json => {
            serde_json::to_string_pretty(document).map(|text| text + "\n").map_err(|error| failed(error.to_string()))
        }
    }
}
