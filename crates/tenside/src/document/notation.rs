//! The notations of documents.

/// In which notation a document is written. Both carry the same content.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Notation {
    /// TOML 1.0.
    Toml,
    /// JSON (RFC 8259).
    Json,
}
