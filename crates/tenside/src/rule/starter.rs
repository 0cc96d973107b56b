//! The embedded lists of rules.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::{Arc, LazyLock};

use super::{RuleBook, RuleList, Thresholds};
use crate::document::Notation;

macro_rules! embedded {
    ($($file:literal),* $(,)?) => {
        &[$(($file, include_str!(concat!("../../data/rules/", $file)))),*]
    };
}

/// One file a source.
const FILES: &[(&str, &str)] = embedded![
    "eu_annex_ii.toml",
    "eu_annex_iii.toml",
    "eu_annex_iv.toml",
    "eu_annex_v.toml",
    "eu_reach.toml",
    "eu_searched.toml",
    "us_cosmetics.toml",
    "us_colours.toml",
    "isethionate_test_level.toml",
    "water_activity.toml",
    "raw_materials.toml",
    "practice.toml",
];

static STARTER: LazyLock<RuleBook> = LazyLock::new(|| {
    let read = |(file, text): &(&str, &str)| {
        Arc::new(RuleList::read(text, Notation::Toml).unwrap_or_else(|error| panic!("{file}: {error}")))
    };
    // The embedded files are read by a test; a fault there is a fault of the build.
    FILES
        .iter()
        .map(read)
        .fold(RuleBook::empty(), |book, list| book.with(list).unwrap_or_else(|error| panic!("{error}")))
});

static THRESHOLDS: LazyLock<Thresholds> = LazyLock::new(|| {
    let text = include_str!("../../data/rules/fragrance_thresholds.toml");
    Thresholds::read(text, Notation::Toml).unwrap_or_else(|error| panic!("fragrance_thresholds.toml: {error}"))
});

impl RuleBook {
    /// The embedded lists: EU Annexes II to V as far as the table of substances needs them, two entries of REACH, US
    /// rules and colour listing, and what the trade holds by common practice. Each names its source and the date of its
    /// text.
    #[must_use]
    pub fn starter() -> &'static RuleBook {
        &STARTER
    }
}

impl Thresholds {
    /// The embedded thresholds.
    #[must_use]
    pub fn starter() -> &'static Thresholds {
        &THRESHOLDS
    }
}
