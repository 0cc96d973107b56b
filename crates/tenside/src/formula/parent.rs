//! What a formula came from.

use crate::document::{TableView, named_enum};
use crate::error::{Error, Fault, FaultKind};

named_enum! {
    /// How a formula came from its parent.
    Relation "relation" {
        /// It answers a brief.
        Answer = "answer",
        /// It is what was really weighed of a formula.
        AsMade = "as-made",
        /// It is a formula with something changed.
        Variant = "variant",
    }
}

/// The document that a formula came from, named by what it holds.
///
/// ```
/// use tenside::formula::{Parent, Relation};
/// let parent = Parent::new(Relation::Variant, &"0f".repeat(32))?;
/// assert_eq!(parent.relation(), Relation::Variant);
/// assert!(Parent::new(Relation::Variant, "the one before").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parent {
    relation: Relation,
    sha256: String,
}

getters!(Parent {
    /// How the formula came from it.
    relation: Relation,
    /// The hash of the parent.
    sha256: &str,
});

impl Parent {
    /// A parent by its hash, as [`Formula::sha256`](super::Formula::sha256) and
    /// [`Brief::sha256`](crate::brief::Brief::sha256) give it.
    ///
    /// # Errors
    /// Anything but 64 hexadecimal digits in lower case.
    pub fn new(relation: Relation, sha256: &str) -> Result<Self, Error> {
        if sha256.len() != 64 || !sha256.bytes().all(|byte| byte.is_ascii_digit() || (b'a'..=b'f').contains(&byte)) {
            let fault = Fault::new(FaultKind::Syntax, "no hash of a document")
                .value(format!("{:?}", crate::document::shown(sha256)));
            return Err(fault.allowed("64 digits 0 to 9 and a to f").remedy("take it from the parent's sha256").into());
        }
        Ok(Parent { relation, sha256: sha256.to_string() })
    }
}

/// A parent as documents hold it.
#[derive(Clone, Debug, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(super) struct ParentDocument {
    /// How the formula came from it.
    relation: Relation,
    /// SHA-256 of the parent's document as JSON, raw materials embedded, keys sorted, without white space.
    sha256: String,
}

impl From<&Parent> for ParentDocument {
    fn from(parent: &Parent) -> Self {
        ParentDocument { relation: parent.relation, sha256: parent.sha256.clone() }
    }
}

pub(super) fn read_parent(view: &TableView<'_>) -> Option<Parent> {
    let relation = view.needed("relation", |view| view.choice("relation"));
    let sha256 = view.needed("sha256", |view| view.text("sha256"));
    view.accept("sha256", Parent::new(relation?, sha256?))
}
