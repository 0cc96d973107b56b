//! What the library's own tests and examples share.

/// The examples of the README, compiled and run as documentation tests.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
pub struct Readme;

/// The JSON Schema of every kind of document, by name.
#[must_use]
pub fn schemas() -> Vec<(&'static str, String)> {
    use tenside::{brief::Brief, catalogue::Catalogue, formula::Draft, formula::Formula, rule::RuleList};
    vec![
        ("catalogue", Catalogue::schema()),
        ("formula", Formula::schema()),
        ("brief", Brief::schema()),
        ("rules", RuleList::schema()),
        ("draft", Draft::schema()),
    ]
}
