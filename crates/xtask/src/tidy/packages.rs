//! How many packages a crate brings to whoever embeds it, alone and with each of its features.

use std::collections::BTreeSet;

use super::finding::Finding;
use super::tables::EMBEDDED;
use crate::failure::Outcome;
use crate::process::Program;

pub(super) fn check() -> Outcome<Vec<Finding>> {
    let mut findings = Vec::new();
    for (name, features, most) in EMBEDDED {
        let alone = packages(name, "")?;
        let mut shown = format!("{} alone", alone.len());
        for feature in *features {
            let more = packages(name, feature)?.difference(&alone).count();
            shown += &format!(", {more} more with {feature}");
        }
        println!("tidy: packages that {name} depends on: {shown}");
        if alone.len() > *most {
            let sentence = format!("without features {name} depends on {} packages; allowed: {most}", alone.len());
            let way_out = "put a dependency behind a feature or do without it";
            findings.push(Finding::new(&format!("crates/{name}/Cargo.toml"), 1, format!("{sentence}; {way_out}")));
        }
    }
    Ok(findings)
}

/// The packages below a crate for this machine, without what only builds and tests need, and without those of this
/// workspace.
fn packages(name: &str, feature: &str) -> Outcome<BTreeSet<String>> {
    let call = ["tree", "--package", name, "--no-default-features", "--features", feature];
    let form = ["--edges", "normal", "--prefix", "none", "--format", "{p}", "--offline"];
    let tree = Program::cargo(&call).arguments(&form).read()?;
    let package = |line: &str| line.split_whitespace().take(2).collect::<Vec<_>>().join(" ");
    Ok(tree.lines().map(package).filter(|package| !package.is_empty() && !package.starts_with("tenside")).collect())
}
