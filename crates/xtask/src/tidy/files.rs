//! The project's files, as git knows them: those it keeps and those it would keep.

use std::fs;

use crate::failure::Outcome;
use crate::process::Program;
use crate::project;

/// A text file.
pub(super) struct File {
    /// From the top folder, with forward slashes.
    pub(super) path: String,
    pub(super) text: String,
}

impl File {
    #[cfg(test)]
    pub(super) fn new(path: &str, text: &str) -> Self {
        File { path: path.to_string(), text: text.to_string() }
    }

    /// The path below `folder`, if it is there.
    pub(super) fn below(&self, folder: &str) -> Option<&str> {
        self.path.strip_prefix(folder)?.strip_prefix('/')
    }

    pub(super) fn has_ending(&self, ending: &str) -> bool {
        self.path.rsplit_once('.').is_some_and(|(_, found)| found == ending)
    }
}

/// Every file; one that is no text has an empty one here.
pub(super) fn tracked() -> Outcome<Vec<File>> {
    let list = Program::new("git")
        .arguments(&["ls-files", "-z", "--cached", "--others", "--exclude-standard", "--deduplicate"])
        .way_out("install git and work in a clone, so that the project's own files are known")
        .read()?;
    let paths = list.split('\0').filter(|path| !path.is_empty() && project::at(path).is_file());
    Ok(paths
        .map(|path| File { path: path.to_string(), text: fs::read_to_string(project::at(path)).unwrap_or_default() })
        .collect())
}
