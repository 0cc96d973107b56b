//! What a market's law is known to say about a substance.

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::rule::{Market, RuleBook};

use crate::convert::input::Word;

record! {
    /// One entry of law that speaks of a substance.
    StatusEntry {
        /// "prohibited", "limit", "condition", "trace", "label", "declaration", "colour", "hair-dye", "question", "pending" or "none".
        kind: String,
        /// The rule that reviews judge by; None for what no rule judges.
        slug: Option<String>,
        /// The first day it holds, if stated.
        valid_from: Option<String>,
        /// How what it says is known.
        mark: String,
        /// How it is known that it covers the substance, if not because it names it.
        membership_mark: Option<String>,
        /// What it says, and who says so.
        sentence: String,
    }
}

record! {
    /// What is known of a substance in a market. That nothing was found is no clearance.
    ///
    /// >>> status = td.SubstanceStatus.of("ZINC PYRITHIONE", market="EU")
    /// >>> status.kind, status.entries[0].valid_from
    /// ('prohibited', '2022-03-01')
    /// >>> td.SubstanceStatus.of("AN INVENTED NAME", market="EU").searched
    /// 'not looked up'
    SubstanceStatus {
        /// Its INCI name.
        name: String,
        /// The market.
        market: String,
        /// The gravest that an entry does with it; None where no entry speaks of it.
        kind: Option<String>,
        /// What speaks of it, the gravest first.
        entries: Vec<StatusEntry>,
        /// "by-cas-and-name" or "by-name-only" where nothing was found so, "not looked up" where nobody looked; None where entries speak.
        searched: Option<String>,
        /// What is known of it in a sentence.
        sentence: String,
    }
}

impl From<&tenside::rule::Status> for SubstanceStatus {
    fn from(status: &tenside::rule::Status) -> Self {
        let entry = |entry: &tenside::rule::StatusEntry| StatusEntry {
            kind: entry.kind().to_string(),
            slug: if let tenside::rule::StatusEntry::Judged(rule, _) = entry { Some(rule.slug().to_string()) } else { None },
            valid_from: entry.from().map(|day| day.to_string()),
            mark: entry.mark().to_string(),
            membership_mark: entry.membership().map(|membership| membership.mark.to_string()),
            sentence: entry.sentence(),
        };
        let searched = status.searched.as_ref().map(|(how, ..)| how.to_string());
        SubstanceStatus {
            name: status.name.clone(),
            market: status.market.to_string(),
            kind: status.gravest().map(|kind| kind.to_string()),
            entries: status.entries.iter().map(entry).collect(),
            searched: searched.or_else(|| status.is_not_looked_up().then(|| "not looked up".to_string())),
            sentence: status.sentence(),
        }
    }
}

#[pymethods]
impl SubstanceStatus {
    /// What the embedded lists say of a substance, by its INCI name.
    #[classmethod]
    #[pyo3(signature = (inci, *, market))]
    fn of(_class: &Bound<'_, PyType>, inci: &str, market: Word<Market>) -> Self {
        SubstanceStatus::from(&RuleBook::starter().status(market.0, inci))
    }
}
