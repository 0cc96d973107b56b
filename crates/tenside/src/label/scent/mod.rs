//! Which scent constituents are to be named, and how sure that is.
//!
//! ```text
//! named if   amount * f > threshold,   f = (100 - moisture) / (100 - water as charged), 1 where nothing dries
//! ```
//!
//! Source: Annex III of Regulation (EC) No 1223/2009, see `data/label/eu_rules.toml`. The threshold has to be exceeded,
//! and what goes under one name is summed first. What a raw material can hold of an entry is what measures and
//! exposures read too (`material/holding.rs`); a declaration given with the request takes its place.

mod drying;
mod judge;
mod knapsack;
mod source;

pub(super) use drying::Drying;
pub(super) use judge::report;

use super::ScentEntry;
use super::content::Share;
use crate::document::named_enum;
use crate::error::Error;
use crate::number::{Date, Exact, Interval, Ppm};

named_enum! {
    /// How sure it is that a scent constituent is to be named.
    ScentAnswer "answer" {
        /// Whatever the stated ranges allow, it exceeds the threshold.
        Certain = "certain",
        /// It can exceed the threshold inside the stated ranges.
        Possible = "possible",
        /// It cannot exceed the threshold: declarations say so, or there is too little of what could hold it.
        Below = "below",
        /// Not enough is stated: get the allergen declaration.
        Unknown = "unknown",
    }
}

/// One entry with what is known of it in the formula.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ScentRow {
    /// The entry.
    pub entry: &'static ScentEntry,
    /// How sure it is.
    pub answer: ScentAnswer,
    /// Whether the entry has to be named at all on the date.
    pub required: bool,
    /// True if the typical amount exceeds the threshold.
    pub typically_over: bool,
    /// The raw materials that are known to bring it.
    pub materials: Vec<String>,
    /// What would keep it off the list: for each raw material that brings it, how much of the formula it may be.
    pub keeps_off: Vec<KeepsOff>,
    share: Share,
}

impl ScentRow {
    /// Percent of the formula as charged.
    #[must_use]
    pub fn percent(&self) -> Interval {
        self.share.percent()
    }

    /// Whether the list names it: required on the date, and certain or typically over the threshold.
    #[must_use]
    pub fn is_listed(&self) -> bool {
        self.required
            && (self.answer == ScentAnswer::Certain || (self.answer == ScentAnswer::Possible && self.typically_over))
    }
}

/// The most of one raw material that keeps an entry at or below its threshold, the rest of the formula bringing what it
/// brings now (what takes the place is taken to bring none, and no water).
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct KeepsOff {
    /// The raw material.
    pub material: String,
    /// In whole ppm of the formula as charged, rounded down; `None` if the others exceed the threshold without it.
    pub most: Option<Ppm>,
    /// True if the raw material's range is not stated to its end, so that it could hold more.
    pub typical_only: bool,
}

/// What is known of the scent constituents of a formula.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ScentReport {
    /// "in force" or "pending".
    pub state: String,
    /// What must be exceeded; `None` if no rule is in force.
    pub threshold: Option<Ppm>,
    /// The last day on which newer entries need not be named, for the placing asked for.
    pub newer_until: Option<Date>,
    /// Whether the newer entries have to be named on the date.
    pub newer_required: bool,
    /// Where the rule comes from.
    pub source: String,
    /// The entries of which something is known, certain ones first.
    pub rows: Vec<ScentRow>,
    /// Raw materials that leave open which entries they hold: scent mixtures, oils and extracts without declaration or
    /// complete list.
    pub to_ask: Vec<String>,
    rest: ScentAnswer,
    rest_share: Share,
    moisture: Option<Exact>,
    is_liquid: bool,
    drying: Drying,
}

impl ScentReport {
    /// What amounts are compared with the threshold as.
    #[must_use]
    pub fn basis(&self) -> String {
        match &self.moisture {
            Some(moisture) => format!("as sold, dried to {moisture} % residual moisture"),
            None if self.is_liquid => "as charged, since a liquid does not dry".to_string(),
            None => "as charged, since no residual moisture is stated; the most there can be bone-dry".to_string(),
        }
    }

    /// Percent of the product as it is judged, see [`ScentReport::basis`], as far as it is known.
    #[must_use]
    pub fn percent_as_judged(&self, row: &ScentRow) -> Option<Interval> {
        self.drying.as_sold(&row.percent())
    }

    /// The answer for one entry, by any of its names or numbers; `None` if no rule is in force.
    ///
    /// # Errors
    /// A name of no entry.
    pub fn answer(&self, name: &str) -> Result<Option<ScentAnswer>, Error> {
        let entry = ScentEntry::find(name)?;
        let answer = self.rows.iter().find(|row| row.entry == entry).map_or(self.rest, |row| row.answer);
        Ok(self.threshold.map(|_| answer))
    }

    /// Every entry by number, those of which nothing is known included; none where no rule is in force.
    #[must_use]
    pub fn every_entry(&self) -> Vec<ScentRow> {
        let blank = |entry: &'static ScentEntry| ScentRow {
            entry,
            answer: self.rest,
            required: !entry.is_newer() || self.newer_required,
            share: self.rest_share.clone(),
            typically_over: false,
            materials: Vec::new(),
            keeps_off: Vec::new(),
        };
        let row = |entry| self.rows.iter().find(|row| row.entry == entry).cloned().unwrap_or_else(|| blank(entry));
        if self.threshold.is_some() { ScentEntry::all().iter().map(row).collect() } else { Vec::new() }
    }

    /// The entries that have to be named on the date and of which not enough is known.
    pub(super) fn unknown_entries(&self) -> Vec<u32> {
        let is_required = |entry: &ScentEntry| self.newer_required || !entry.is_newer();
        let known =
            |entry: &ScentEntry| self.rows.iter().find(|row| row.entry == entry).map_or(self.rest, |row| row.answer);
        ScentEntry::all()
            .iter()
            .filter(|entry| is_required(entry) && known(entry) == ScentAnswer::Unknown)
            .map(ScentEntry::number)
            .collect()
    }

    /// How many entries have that answer.
    #[must_use]
    pub fn count(&self, answer: ScentAnswer) -> usize {
        let known = self.rows.iter().filter(|row| row.answer == answer).count();
        known
            + if self.rest == answer && self.threshold.is_some() {
                ScentEntry::all().len() - self.rows.len()
            } else {
                0
            }
    }
}
