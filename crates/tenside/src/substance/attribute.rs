//! Statements people formulate by: without sulfate, without palm, natural origin.

use rust_decimal::Decimal;

use crate::document::named_enum;

named_enum! {
    /// A yes-or-no property of an ingredient or raw material.
    Attribute "attribute" {
        /// An alkyl sulfate or alkyl ether sulfate surfactant, as "sulfate-free" is meant in the trade.
        Sulfate = "sulfate",
        /// Made from palm or palm-kernel oil.
        Palm = "palm",
        /// Made from animals.
        Animal = "animal",
        /// A silicone.
        Silicone = "silicone",
        /// Made with ethylene oxide.
        Ethoxylated = "ethoxylated",
    }
}

/// A property with its source. Absence of a statement is "unknown", never "no".
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Statement {
    /// Yes or no.
    pub value: bool,
    /// Who says so.
    pub source: String,
}

/// What is stated of a substance or raw material.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Attributes {
    pub(crate) statements: Vec<(Attribute, Statement)>,
    pub(crate) natural_origin: Option<(Decimal, String)>,
}

impl Attributes {
    /// The statement, if there is one.
    #[must_use]
    pub fn get(&self, attribute: Attribute) -> Option<&Statement> {
        self.statements.iter().find(|(named, _)| *named == attribute).map(|(_, statement)| statement)
    }

    /// The share of natural origin in percent, water included, and its source, in the sense of ISO 16128-2 (from
    /// memory).
    #[must_use]
    pub fn natural_origin(&self) -> Option<(Decimal, &str)> {
        self.natural_origin.as_ref().map(|(share, source)| (*share, source.as_str()))
    }

    /// True if nothing is stated.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.statements.is_empty() && self.natural_origin.is_none()
    }

    /// Says it in place of what was said of the same property.
    pub(crate) fn state(&mut self, attribute: Attribute, value: bool, source: String) {
        self.statements.retain(|(named, _)| *named != attribute);
        self.statements.push((attribute, Statement { value, source }));
        self.statements.sort_by_key(|(named, _)| *named);
    }

    /// Who says so, of each statement.
    pub(crate) fn sources_mut(&mut self) -> impl Iterator<Item = &mut String> {
        let natural = self.natural_origin.iter_mut().map(|(_, source)| source);
        self.statements.iter_mut().map(|(_, statement)| &mut statement.source).chain(natural)
    }
}
