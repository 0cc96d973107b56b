//! The terms of a measure: contents, each by a factor and within a scope.

use super::content::Content;
use super::scope::Scope;
use crate::number::Exact;

/// The measure whose terms are added up.
pub(super) const SUM: &str = "sum";

/// A content of a sum, by its factor and within its scope.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// By what it is multiplied; never 0.
    pub factor: Exact,
    /// What is counted.
    pub content: Content,
    /// Which lines count.
    pub scope: Scope,
}

impl Term {
    pub(super) fn of(content: Content) -> Self {
        Term { factor: Exact::ONE, content, scope: Scope::All }
    }

    /// True for the mass of lines, as it is.
    pub(super) fn is_mass(&self) -> bool {
        self.content == Content::Mass && self.factor == Exact::ONE
    }
}

/// The scope that all terms have, if they have the same.
pub(super) fn common_scope(terms: &[Term]) -> Option<&Scope> {
    let first = &terms.first()?.scope;
    terms.iter().all(|term| term.scope == *first).then_some(first)
}

/// The terms in words; their scopes are told with them where they differ.
pub(super) fn words(terms: &[Term]) -> String {
    let with_scopes = common_scope(terms).is_none();
    let mut text = String::new();
    for (place, term) in terms.iter().enumerate() {
        let sign = match (place, term.factor.is_negative()) {
            (0, false) => "",
            (0, true) => "-",
            (_, false) => " + ",
            (_, true) => " - ",
        };
        text += sign;
        let size = term.factor.abs();
        if size != Exact::ONE {
            text += &format!("{size} x ");
        }
        text += &term.content.name();
        if with_scopes && term.scope != Scope::All {
            text += &format!(" from {}", term.scope);
        }
    }
    text
}

/// [`words`] as one thing among others.
pub(super) fn words_together(terms: &[Term]) -> String {
    if terms.len() == 1 { words(terms) } else { format!("({})", words(terms)) }
}
