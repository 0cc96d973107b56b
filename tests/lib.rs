//! What the library's own tests and examples share.

/// The examples of the README, compiled and run as documentation tests.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
pub struct Readme;

/// The JSON Schema of every kind of document, by name.
#[must_use]
pub fn schemas() -> Vec<(&'static str, String)> {
    use tenside::solve::{Answer, Choice, Conflict, Rounded, Substitution, Unmet};
    use tenside::{batch::Batch, document::ResultDocument, exposure::Exposure, formula::Difference, label::Label, review::Review};
    use tenside::{brief::Brief, catalogue::Catalogue, formula::Draft, formula::Formula, rule::RuleList};
    vec![
        ("catalogue", Catalogue::schema()),
        ("formula", Formula::schema()),
        ("brief", Brief::schema()),
        ("rules", RuleList::schema()),
        ("draft", Draft::schema()),
        ("answer", Answer::schema()),
        ("conflict", Conflict::schema()),
        ("rounded", Rounded::schema()),
        ("chosen", Choice::schema()),
        ("unmet", Unmet::schema()),
        ("substitution", Substitution::schema()),
        ("review", Review::schema()),
        ("label", Label::schema()),
        ("batch", Batch::schema()),
        ("exposure", Exposure::schema()),
        ("difference", Difference::schema()),
    ]
}
