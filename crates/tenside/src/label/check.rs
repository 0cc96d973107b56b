//! The checklist of a label.

/// Something else that a label needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct LabelCheck {
    /// Its stable name.
    pub slug: &'static str,
    /// What is needed.
    pub text: &'static str,
    /// Where that comes from.
    pub source: &'static str,
}
