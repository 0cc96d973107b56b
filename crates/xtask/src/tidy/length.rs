//! No file of code grows past a calm size.

use super::files::File;
use super::finding::Finding;
use super::tables::LONGEST_FILE;

pub(super) fn check(files: &[File]) -> Vec<Finding> {
    let is_code = |file: &&File| {
        (file.below("crates").is_some() || file.below("python").is_some())
            && (file.has_ending("rs") || file.has_ending("py"))
    };
    files.iter().filter(is_code).filter_map(check_file).collect()
}

fn check_file(file: &File) -> Option<Finding> {
    let lines = file.text.lines().count();
    let sentence = format!("{lines} lines; allowed: at most {LONGEST_FILE}; part the nouns it holds");
    (lines > LONGEST_FILE).then(|| Finding::new(&file.path, lines, sentence))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_code_that_is_too_long_is_named() {
        let lines = |count: usize| "\n".repeat(count);
        assert_eq!(check(&[File::new("crates/a.rs", &lines(LONGEST_FILE))]).len(), 0);
        assert_eq!(check(&[File::new("crates/a.rs", &lines(LONGEST_FILE + 1))]).len(), 1);
        assert_eq!(check(&[File::new("python/a.py", &lines(LONGEST_FILE + 1))]).len(), 1);
        assert_eq!(
            check(&[File::new("crates/a.toml", &lines(LONGEST_FILE + 1)), File::new("Cargo.lock", &lines(2000))]).len(),
            0
        );
    }
}
