//! The top folder holds what it should, and no file of tests is left undeclared.

use std::collections::BTreeSet;

use super::files::File;
use super::finding::Finding;
use super::tables::{DOTFILES, TOP_LEVEL};

const TESTS: &str = "tests/rust";
const DECLARED_IN: &str = "tests/rust/main.rs";

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    let top: BTreeSet<&str> = files.iter().filter_map(|file| file.path.split('/').next()).collect();
    let surplus = top.into_iter().filter(|name| !TOP_LEVEL.contains(name) && !DOTFILES.contains(name));
    let mut findings: Vec<Finding> = surplus.map(|name| Finding::new(name, 1, "the top folder has a fixed list; put this into one of its folders")).collect();
    let main = files.iter().find(|file| file.path == DECLARED_IN).map_or("", |file| file.text.as_str());
    findings.extend(files.iter().filter_map(|file| undeclared(file, main)));
    findings
}

/// A file beside `main.rs` that it does not declare is compiled by nobody, and its tests never run.
fn undeclared(file: &File, main: &str) -> Option<Finding> {
    let below = file.below(TESTS)?.strip_suffix(".rs")?;
    let module = below.split('/').next()?;
    let declared = main.lines().any(|line| line.trim() == format!("mod {module};"));
    (module != "main" && !declared).then(|| Finding::new(&file.path, 1, format!("its tests never run; declare `mod {module};` in {DECLARED_IN}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_top_folder_is_fixed() {
        assert_eq!(check(&[File::new("README.md", ""), File::new("crates/a/b.rs", ""), File::new(".gitignore", "")]).len(), 0);
        assert_eq!(check(&[File::new("notes.md", ""), File::new("scripts/a.sh", ""), File::new("scripts/b.sh", "")]).len(), 2);
    }

    #[test]
    fn a_file_of_tests_is_declared() {
        let main = File::new(DECLARED_IN, "mod number;\nmod solve;\n");
        assert_eq!(check(&[File::new("tests/rust/number.rs", ""), File::new("tests/rust/solve/case.rs", ""), main]).len(), 0);
        assert_eq!(check(&[File::new("tests/rust/label.rs", ""), File::new(DECLARED_IN, "// mod label;")]).len(), 1);
    }
}
