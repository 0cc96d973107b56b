//! What a market's law is known to say about a substance.

use crate::convert::word::Word;
use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::rule::{Mark, Market, RuleBook, StatusKind};

record! {
    "tenside.substance",
    /// One entry of law that speaks of a substance.
    StatusEntry {
        /// "prohibited", "limit", "condition", "trace", "label", "declaration", "colour", "hair-dye", "question",
        /// "pending" or "none".
        kind: Word<StatusKind>,
        /// The rule that reviews judge by; None for what no rule judges.
        slug: Option<String>,
        /// The first day it holds, if stated.
        valid_from: Option<String>,
        /// How what it says is known.
        mark: Word<Mark>,
        /// How it is known that it covers the substance, if not because it names it.
        membership_mark: Option<Word<Mark>>,
        /// What it says, and who says so.
        sentence: String,
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
    SubstanceStatus {
        /// Its INCI name.
        name: String,
        /// The market.
        market: Word<Market>,
        /// The gravest that an entry does with it; None where no entry speaks of it.
        kind: Option<Word<StatusKind>>,
        /// What speaks of it, the gravest first.
        entries: Vec<StatusEntry>,
        /// "by-cas-and-name" or "by-name-only" where nothing was found so, "not looked up" where nobody looked; None
        /// where entries speak.
        searched: Option<String>,
        /// What is known of it in a sentence.
        sentence: String,
    }
}

impl From<&tenside::rule::Status> for SubstanceStatus {
    fn from(status: &tenside::rule::Status) -> Self {
        let entry = |entry: &tenside::rule::StatusEntry| StatusEntry {
            kind: Word(entry.kind()),
            slug: if let tenside::rule::StatusEntry::Judged(rule, _) = entry {
                Some(rule.slug().to_string())
            } else {
                None
            },
            valid_from: entry.from().map(|day| day.to_string()),
            mark: Word(entry.mark()),
            membership_mark: entry.membership().map(|membership| Word(membership.mark)),
            sentence: entry.sentence(),
        };
        let searched = status.searched.as_ref().map(|(how, ..)| how.to_string());
        SubstanceStatus {
            name: status.name.clone(),
            market: Word(status.market),
            kind: status.gravest().map(Word),
            entries: status.entries.iter().map(entry).collect(),
            searched: searched.or_else(|| status.is_not_looked_up().then(|| "not looked up".to_string())),
            sentence: status.sentence(),
        }
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
