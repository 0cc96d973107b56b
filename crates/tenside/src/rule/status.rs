//! What a list says of substances beside its rules, and what its rules are to the substances they name.

use super::Mark;
use crate::document::named_enum;
use crate::number::Date;

named_enum! {
    /// What an entry does with a substance, the gravest first.
    StatusKind "status" {
        /// It must not be an ingredient.
        Prohibited = "prohibited",
        /// At most so much of it, for some uses or purposes.
        Limit = "limit",
        /// Allowed under a condition that is no share of the product.
        Condition = "condition",
        /// Limited where it is a residue of something else.
        Trace = "trace",
        /// Words on the label where it is in.
        Label = "label",
        /// Named on the label above a share.
        Declaration = "declaration",
        /// A colour with an entry.
        Colour = "colour",
        /// Only its use in hair dyes is ruled.
        HairDye = "hair-dye",
        /// Something that a person has to find out.
        Question = "question",
        /// Spoken of, not adopted.
        Pending = "pending",
        /// An entry that looks like one and is none.
        NoRestriction = "none",
    }
}

named_enum! {
    /// How substances were looked up of which nothing was found.
    Search "search" {
        /// By CAS number and name.
        CasAndName = "by-cas-and-name",
        /// By name only: a synonym can have been missed.
        NameOnly = "by-name-only",
    }
}

impl Search {
    /// As sentences say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Search::CasAndName => "by CAS number and name",
            Search::NameOnly => "by name only",
        }
    }
}

/// An act that entries came from or were changed by.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Act {
    /// What rules call it.
    pub id: String,
    /// What findings call it.
    pub title: String,
}

/// How it is known that an entry covers a substance.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Membership {
    /// "named", or the class it is counted to.
    pub by: String,
    /// How that is known.
    pub mark: Mark,
}

/// What an entry says of some substances beside what rules judge.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Statement {
    /// What it does with them.
    pub kind: StatusKind,
    /// The substances, by INCI name.
    pub names: Vec<String>,
    /// The entry, as findings say it.
    pub entry: Option<String>,
    /// What it says.
    pub text: String,
    /// The first day it holds, if stated.
    pub from: Option<Date>,
    /// How what it says is known.
    pub mark: Mark,
    /// How it is known that it covers them, if not because it names them.
    pub membership: Option<Membership>,
}

/// Substances of which nothing was found, and where that was looked for.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Searched {
    /// How.
    pub how: Search,
    /// Where.
    pub place: String,
    /// How that is known.
    pub mark: Mark,
    /// The substances, by INCI name.
    pub names: Vec<String>,
}
