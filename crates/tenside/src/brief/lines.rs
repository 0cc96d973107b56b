//! The lines of a brief, shared by all briefs that differ in other things alone.

use std::ops::{Deref, DerefMut};
use std::sync::Arc;

use super::BriefLine;
use crate::memo::Shelf;

/// A list of lines. Whoever changes it has a list of their own from then on.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Lines(Arc<Shared>);

#[derive(Clone, Debug, Default, PartialEq)]
struct Shared {
    lines: Vec<BriefLine>,
    shelf: Shelf,
}

impl Lines {
    /// What upper floors worked out of the lines.
    pub(super) fn shelf(&self) -> &Shelf {
        &self.0.shelf
    }
}

impl Deref for Lines {
    type Target = Vec<BriefLine>;

    fn deref(&self) -> &Vec<BriefLine> {
        &self.0.lines
    }
}

impl DerefMut for Lines {
    /// The list, to be changed: what was worked out of it goes.
    fn deref_mut(&mut self) -> &mut Vec<BriefLine> {
        let shared = Arc::make_mut(&mut self.0);
        shared.shelf = Shelf::default();
        &mut shared.lines
    }
}
