//! No file names a place that only one machine has.

use super::files::File;
use super::finding::Finding;
use super::tables::LOCK_FILES;

/// Folders at the root of a machine, without their slashes so that this file does not name them.
const FOLDERS: &[&str] = &["tmp", "home", "root", "work"];

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    files.iter().filter(|file| !LOCK_FILES.contains(&file.path.as_str())).flat_map(check_file).collect()
}

fn check_file(file: &File) -> Vec<Finding> {
    let named = file
        .text
        .lines()
        .enumerate()
        .flat_map(|(at, line)| FOLDERS.iter().map(move |folder| (at, line, format!("/{folder}/"))));
    let found = named.filter(|(_, line, place)| names(line, place));
    found
        .map(|(at, _, place)| {
            Finding::new(&file.path, at + 1, format!("{place} is a place on one machine; name it from the top folder"))
        })
        .collect()
}

/// The place stands there as a root folder, not as a part of a longer path such as `target` and a folder below.
fn names(line: &str, place: &str) -> bool {
    line.match_indices(place)
        .any(|(at, _)| !line[..at].ends_with(|c: char| c.is_alphanumeric() || matches!(c, '_' | '-' | '}')))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn findings(path: &str, text: &str) -> usize {
        check(&[File::new(path, text)]).len()
    }

    #[test]
    fn root_folders_are_noticed_and_others_are_not() {
        for folder in FOLDERS {
            assert_eq!(findings("README.md", &format!("see\n/{folder}/x")), 1);
            assert_eq!(findings("README.md", &format!("in \"/{folder}/x\" and ../{folder}/y")), 1);
            assert_eq!(findings("README.md", &format!("target/{folder}/x and https://example.org/{folder}/y")), 0);
            assert_eq!(findings("Cargo.lock", &format!("/{folder}/x")), 0);
        }
    }
}
