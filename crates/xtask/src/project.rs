//! Where things stand in the project.

use std::path::{Path, PathBuf};

/// The top folder.
pub(crate) fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR")).ancestors().nth(2).unwrap_or(Path::new("."))
}

/// A place under the top folder.
pub(crate) fn at(place: &str) -> PathBuf {
    root().join(place)
}
