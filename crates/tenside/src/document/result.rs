//! Results as documents: how what was worked out leaves, and how it is believed when it comes back.
//!
//! A result's document holds its question and what came of it. Read back, the question is asked again and what the
//! document says is compared with what comes of it now, key by key, so that no result is believed that was edited or
//! belongs to another question.

use serde::Serialize;
use serde_json::{Map, Value as Json};

use super::reader::TableView;
use super::tree::{Node, Value};
use super::{Notation, Reader, named, shown, write};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// Whether a document carries the raw materials that it speaks of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Materials {
    /// By their names only, lots apart: short, and read back with a catalogue that has them.
    #[default]
    Named,
    /// Whole: longer, and read back without any catalogue.
    Embedded,
}

/// A result that leaves as a document, as JSON or TOML and through serde. Sealed.
///
/// ```
/// use tenside::document::{Materials, ResultDocument};
/// use tenside::prelude::*;
/// let brief = Brief::new("Plain bar", &Catalogue::starter())?.fix("sci-powder", 60)?.qs("kaolin")?;
/// let answer = brief.solve()?;
/// let text = answer.write(Notation::Json, Materials::Named)?;
/// assert!(text.contains("\"tenside\": \"answer/1\""));
/// assert_eq!(Answer::read(&text, Notation::Json, &Catalogue::starter())?, answer);
/// # Ok::<(), tenside::Error>(())
/// ```
pub trait ResultDocument: Serialize + named::sealed::Sealed {
    /// Kind and version, `answer/1`.
    const KIND: &'static str;

    /// What is written.
    #[cfg(feature = "schema")]
    type Form: Serialize + schemars::JsonSchema;
    /// What is written.
    #[cfg(not(feature = "schema"))]
    type Form: Serialize;

    /// What is written.
    ///
    /// # Errors
    /// What has to be worked out for it and cannot be, such as the relaxations of a conflict that was stopped.
    fn form(&self, materials: Materials) -> Result<Self::Form, Error>;

    /// The document as text.
    ///
    /// # Errors
    /// As [`ResultDocument::form`].
    fn write(&self, notation: Notation, materials: Materials) -> Result<String, Error> {
        write(&self.form(materials)?, notation)
    }

    /// The JSON Schema (2020-12) of its documents.
    #[cfg(feature = "schema")]
    #[must_use]
    fn schema() -> String {
        super::schema_text::<Self::Form>(Self::KIND.split('/').next().unwrap_or(Self::KIND))
    }
}

/// Declares a part of what is written, as it is written and as its schema says.
macro_rules! written {
    ($(#[$meta:meta])* $visible:vis struct $name:ident { $($keys:tt)* }) => {
        $(#[$meta])*
        #[derive(Clone, Debug, serde::Serialize)]
        #[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
        #[serde(deny_unknown_fields)]
        $visible struct $name { $($keys)* }
    };
}
pub(crate) use written;

/// Declares what is written of a value: each key with its type and how it is read off the value; of itself, off the
/// field of that name. With a kind, the document of a result, whose keys are of themselves what its methods of that name
/// give.
macro_rules! form {
    (@field $it:ident, $key:ident) => { $it.$key.clone().into() };
    (@field $it:ident, $key:ident = $value:expr) => { $value };
    (@method $it:ident, $key:ident) => { $it.$key().into() };
    (@method $it:ident, $key:ident = $value:expr) => { $value };
    ($(#[$meta:meta])* $form:ident of $source:ty, |$it:ident| {
        $($(#[$key_meta:meta])* $key:ident: $type:ty $(= $value:expr)?,)*
    }) => {
        $crate::document::written! {
            $(#[$meta])*
            pub(crate) struct $form {
                $($(#[$key_meta])* $key: $type,)*
            }
        }

        impl From<&$source> for $form {
            fn from($it: &$source) -> Self {
                $form { $($key: $crate::document::form!(@field $it, $key $(= $value)?),)* }
            }
        }

        impl serde::Serialize for $source {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                $form::from(self).serialize(serializer)
            }
        }
    };
    ($(#[$meta:meta])* $form:ident of $source:ty as $kind:literal, |$it:ident, $materials:ident| {
        $($(#[$key_meta:meta])* $key:ident: $type:ty $(= $value:expr)?,)*
    }) => {
        $crate::document::written! {
            $(#[$meta])*
            pub struct $form {
                /// Kind and version.
                tenside: &'static str,
                $($(#[$key_meta])* $key: $type,)*
            }
        }

        impl $crate::document::named::sealed::Sealed for $source {}

        impl $crate::document::ResultDocument for $source {
            const KIND: &'static str = $kind;
            type Form = $form;

            fn form(&self, $materials: $crate::document::Materials) -> Result<$form, $crate::error::Error> {
                let $it = self;
                Ok($form {
                    tenside: $kind,
                    $($key: $crate::document::form!(@method $it, $key $(= $value)?),)*
                })
            }
        }

        impl serde::Serialize for $source {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                let form = $crate::document::ResultDocument::form(self, $crate::document::Materials::Named);
                form.map_err(serde::ser::Error::custom)?.serialize(serializer)
            }
        }
    };
}
pub(crate) use form;

/// These values as what is written of them.
pub(crate) fn forms<'a, T: 'a, F: From<&'a T>>(values: impl IntoIterator<Item = &'a T>) -> Vec<F> {
    values.into_iter().map(F::from).collect()
}

/// Reads a result back: `remake` reads the question and asks it again; everything else that the document says has to be
/// what comes of it. `question` are the keys that `remake` reads.
///
/// # Errors
/// Every fault of the question; else everything in which the document differs from what comes of its question now.
pub(crate) fn restore<T: ResultDocument>(
    text: &str,
    notation: Notation,
    question: &[&'static str],
    remake: impl FnOnce(&TableView<'_>) -> Option<T>,
) -> Result<T, Error> {
    Reader::read(text, notation, |view| {
        view.version(T::KIND);
        let remade = remake(view);
        view.skip_others(question);
        let remade = remade?;
        let form = view.accept("", remade.form(Materials::Named))?;
        // What is written of a result is plain JSON, which always serialises.
        let Ok(Json::Object(expected)) = serde_json::to_value(&form) else { return None };
        let asked: Vec<&str> = question.iter().copied().chain(["tenside"]).collect();
        compare_tables(view, "", view.entries(), &expected, &asked);
        Some(remade)
    })
}

fn compare_tables(
    view: &TableView<'_>,
    place: &str,
    found: &[super::Entry<'_>],
    expected: &Map<String, Json>,
    asked: &[&str],
) {
    let inside = |key: &str| if place.is_empty() { key.to_string() } else { format!("{place}.{key}") };
    for (key, value) in expected.iter().filter(|(key, _)| !asked.contains(&key.as_str())) {
        match found.iter().find(|entry| entry.key == key.as_str()) {
            Some(entry) => compare(view, &inside(key), &entry.node, value),
            // TOML has no null: there it is absent.
            None if value.is_null() => {}
            None => differs(view, &inside(key), view.mark(), "nothing".to_string(), value),
        }
    }
    for entry in found.iter().filter(|entry| !expected.contains_key(&*entry.key)) {
        let fault = Fault::new(FaultKind::UnknownKey, "unknown key").value(shown(&inside(&entry.key)));
        view.fault_at(entry.offset, fault.at(inside(&entry.key)));
    }
}

fn compare(view: &TableView<'_>, place: &str, found: &Node<'_>, expected: &Json) {
    let same = match (&found.value, expected) {
        (Value::Table(entries), Json::Object(expected)) => return compare_tables(view, place, entries, expected, &[]),
        (Value::List(nodes), Json::Array(expected)) if nodes.len() == expected.len() => {
            for (index, (node, expected)) in nodes.iter().zip(expected).enumerate() {
                compare(view, &format!("{place}[{index}]"), node, expected);
            }
            return;
        }
        (Value::Null, Json::Null) => true,
        (Value::Bool(found), Json::Bool(expected)) => found == expected,
        (Value::Text(found), Json::String(expected)) => found == expected,
        // A number is written as text where a double would not hold it.
        (Value::Number(found) | Value::Text(found), Json::Number(expected)) => equal(found, &expected.to_string()),
        (Value::Number(found), Json::String(expected)) => equal(found, expected),
        _ => false,
    };
    if !same {
        differs(view, place, found.offset, found.value.described(), expected);
    }
}

fn equal(left: &str, right: &str) -> bool {
    matches!((left.parse::<Exact>(), right.parse::<Exact>()), (Ok(left), Ok(right)) if left == right)
}

fn differs(view: &TableView<'_>, place: &str, mark: usize, found: String, expected: &Json) {
    let expected = match expected {
        Json::String(text) => format!("the text {}", shown(text)),
        Json::Array(list) => format!("a list of {}", list.len()),
        Json::Object(_) => "a table".to_string(),
        other => other.to_string(),
    };
    let fault = Fault::new(FaultKind::Contradiction, "this is not what comes of the question in this document");
    let remedy = "it was edited, or its raw materials, rules or version are others; ask the question again";
    view.fault_at(mark, fault.at(place).value(found).allowed(expected).remedy(remedy));
}

/// Kind and version of a document, as its key `tenside` says, whatever it is.
///
/// ```
/// use tenside::document::{Notation, kind_of};
/// assert_eq!(kind_of("{\"tenside\": \"brief/1\"}")?, ("brief/1".to_string(), Notation::Json));
/// assert_eq!(kind_of("tenside = \"formula/1\"")?, ("formula/1".to_string(), Notation::Toml));
/// assert!(kind_of("title = \"Bar\"").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// A text that is neither JSON nor TOML, and one without that key.
pub fn kind_of(text: &str) -> Result<(String, Notation), Error> {
    let is_json = text.trim_start_matches(['\u{FEFF}', ' ', '\t', '\r', '\n']).starts_with('{');
    let notation = if is_json { Notation::Json } else { Notation::Toml };
    let kind = Reader::read(text, notation, |view| {
        let kind = view.needed("tenside", |view| view.text("tenside")).map(str::to_string);
        view.skip_others(&[]);
        kind
    })?;
    Ok((kind, notation))
}
