//! The top folder holds what it should, nothing that is built is kept, the core needs no Python, and no file of tests
//! is left undeclared.

use std::collections::BTreeSet;

use super::files::File;
use super::finding::Finding;
use super::tables::{DOTFILES, TOP_LEVEL};

const TESTS: &str = "tests/rust";
const DECLARED_IN: &str = "tests/rust/main.rs";
const MANIFEST: &str = "crates/tenside/Cargo.toml";

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    let top: BTreeSet<&str> = files.iter().filter_map(|file| file.path.split('/').next()).collect();
    let surplus = top.into_iter().filter(|name| !TOP_LEVEL.contains(name) && !DOTFILES.contains(name));
    let mut findings: Vec<Finding> = surplus
        .map(|name| Finding::new(name, 1, "the top folder has a fixed list; put this into one of its folders"))
        .collect();
    let main = files.iter().find(|file| file.path == DECLARED_IN).map_or("", |file| file.text.as_str());
    findings.extend(files.iter().filter_map(|file| undeclared(file, main)));
    let is_built = |file: &&File| file.path.split('/').any(|folder| folder == "target");
    findings.extend(
        files
            .iter()
            .filter(is_built)
            .map(|file| Finding::new(&file.path, 1, "a folder `target` holds what is built; keep nothing in it")),
    );
    let names_python = |file: &&File| file.path == MANIFEST && file.text.contains("pyo3");
    findings.extend(
        files
            .iter()
            .filter(names_python)
            .map(|file| Finding::new(&file.path, 1, "there is no Python in the core; the binding depends on it")),
    );
    findings
}

/// A file beside `main.rs` that it does not declare is compiled by nobody, and its tests never run.
fn undeclared(file: &File, main: &str) -> Option<Finding> {
    let below = file.below(TESTS)?.strip_suffix(".rs")?;
    let module = below.split('/').next()?;
    let declared = main.lines().any(|line| line.trim() == format!("mod {module};"));
    (module != "main" && !declared)
        .then(|| Finding::new(&file.path, 1, format!("its tests never run; declare `mod {module};` in {DECLARED_IN}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_top_folder_is_fixed() {
        assert_eq!(
            check(&[File::new("README.md", ""), File::new("crates/a/b.rs", ""), File::new(".gitignore", "")]).len(),
            0
        );
        assert_eq!(
            check(&[File::new("notes.md", ""), File::new("scripts/a.sh", ""), File::new("scripts/b.sh", "")]).len(),
            2
        );
    }

    #[test]
    fn what_is_built_is_not_kept() {
        assert_eq!(
            check(&[File::new("benches/target/criterion/a.json", ""), File::new("tests/target.rs", "")]).len(),
            1
        );
    }

    #[test]
    fn the_core_needs_no_python() {
        assert_eq!(
            check(&[
                File::new(MANIFEST, "[dependencies]\npyo3 = \"0.30\"\n"),
                File::new("crates/tenside-py/Cargo.toml", "pyo3 = \"0.30\"")
            ])
            .len(),
            1
        );
    }

    #[test]
    fn a_file_of_tests_is_declared() {
        let main = File::new(DECLARED_IN, "mod number;\nmod solve;\n");
        assert_eq!(
            check(&[File::new("tests/rust/number.rs", ""), File::new("tests/rust/solve/case.rs", ""), main]).len(),
            0
        );
        assert_eq!(check(&[File::new("tests/rust/label.rs", ""), File::new(DECLARED_IN, "// mod label;")]).len(), 1);
    }
}
