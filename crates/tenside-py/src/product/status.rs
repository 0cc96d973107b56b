//! What a market's law is known to say about a substance.

use crate::convert::word::Word;
use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::rule::{Mark, Market, RuleBook, StatusKind};

record! {
    "tenside.substance",
    /// One entry of law that speaks of a substance.
    StatusEntry of &tenside::rule::StatusEntry, |entry| {
        /// "prohibited", "limit", "condition", "trace", "label", "declaration", "colour", "hair-dye", "question",
        /// "pending" or "none".
        kind: Word<StatusKind> = Word(entry.kind()),
        /// The rule that reviews judge by; None for what no rule judges.
        slug: Option<String> = if let tenside::rule::StatusEntry::Judged(rule, _) = entry {
            Some(rule.slug().to_string())
        } else {
            None
        },
        /// The first day it holds, if stated.
        valid_from: Option<String> = entry.from().map(|day| day.to_string()),
        /// How what it says is known.
        mark: Word<Mark> = Word(entry.mark()),
        /// How it is known that it covers the substance, if not because it names it.
        membership_mark: Option<Word<Mark>> = entry.membership().map(|membership| Word(membership.mark)),
        /// What it says, and who says so.
        sentence: String = entry.sentence(),
    }
}

record! {
    "tenside.substance",
    /// What is known of a substance in a market. That nothing was found is no clearance.
    ///
    /// >>> status = td.substance.SubstanceStatus.of("ZINC PYRITHIONE", market="EU")
    /// >>> status.kind, status.entries[0].valid_from
    /// ('prohibited', '2022-03-01')
    /// >>> td.substance.SubstanceStatus.of("AN INVENTED NAME", market="EU").searched
    /// 'not looked up'
    SubstanceStatus of &tenside::rule::Status, |status| {
        /// Its INCI name.
        name: String = status.name.clone(),
        /// The market.
        market: Word<Market> = Word(status.market),
        /// The gravest that an entry does with it; None where no entry speaks of it.
        kind: Option<Word<StatusKind>> = status.gravest().map(Word),
        /// What speaks of it, the gravest first.
        entries: Vec<StatusEntry> = status.entries.iter().map(StatusEntry::from).collect(),
        /// "by-cas-and-name" or "by-name-only" where nothing was found so, "not looked up" where nobody looked; None
        /// where entries speak.
        searched: Option<String> = status
            .searched
            .as_ref()
            .map(|(how, ..)| how.to_string())
            .or_else(|| status.is_not_looked_up().then(|| "not looked up".to_string())),
        /// What is known of it in a sentence.
        sentence: String = status.sentence(),
    }
}

#[pymethods]
impl SubstanceStatus {
    /// What the embedded lists say of a substance, by its INCI name.
    /// `inci` is that name, `market` a word of `words.Market`.
    #[classmethod]
    #[pyo3(signature = (inci, *, market))]
    fn of(_class: &Bound<'_, PyType>, inci: &str, market: Word<Market>) -> Self {
        SubstanceStatus::from(&RuleBook::starter().status(market.0, inci))
    }
}
