//! How many packages the core brings to whoever embeds it, alone and with each of its features.

use std::collections::BTreeSet;

use super::finding::Finding;
use super::tables::{FEATURES, MOST_PACKAGES};
use crate::failure::Outcome;
use crate::process::Program;

const MANIFEST: &str = "crates/tenside/Cargo.toml";

pub(super) fn check() -> Outcome<Vec<Finding>> {
    let alone = packages("")?;
    let mut shown = format!("{} alone", alone.len());
    for feature in FEATURES {
        let more = packages(feature)?.difference(&alone).count();
        shown += &format!(", {more} more with {feature}");
    }
    println!("tidy: packages that the core depends on: {shown}");
    if alone.len() <= MOST_PACKAGES {
        return Ok(Vec::new());
    }
    let sentence = format!("without features the core depends on {} packages; allowed: {MOST_PACKAGES}", alone.len());
    Ok(vec![Finding::new(MANIFEST, 1, format!("{sentence}; put a dependency behind a feature or do without it"))])
}

/// The packages below the core for this machine, without what only builds and tests need.
fn packages(feature: &str) -> Outcome<BTreeSet<String>> {
    let call = ["tree", "--package", "tenside", "--no-default-features", "--features", feature];
    let form = ["--edges", "normal", "--prefix", "none", "--format", "{p}", "--offline"];
    let tree = Program::cargo(&call).arguments(&form).read()?;
    let name = |line: &str| line.split_whitespace().take(2).collect::<Vec<_>>().join(" ");
    Ok(tree.lines().map(name).filter(|package| !package.is_empty() && !package.starts_with("tenside ")).collect())
}
