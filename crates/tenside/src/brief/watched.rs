//! A question that is watched while it is worked on. Who watches is no part of the question.

use std::sync::Arc;

use super::Brief;
use crate::watch::{Watch, Watched};

impl PartialEq for Brief {
    /// The same question; catalogues count by the materials the lines use.
    fn eq(&self, other: &Self) -> bool {
        self.title == other.title
            && self.prices == other.prices
            && self.phases == other.phases
            && self.lines == other.lines
            && self.splits == other.splits
            && self.requirements == other.requirements
            && self.at_most_of == other.at_most_of
            && self.objective == other.objective
    }
}

impl Brief {
    /// The same question, watched: whatever is asked of it, solving, choosing, reaching, ends early where the watch
    /// says so. What it is answered with is not watched.
    #[must_use]
    pub fn watched_by(mut self, watch: Arc<dyn Watch>) -> Self {
        self.watched = Watched::by(watch);
        self
    }

    /// Watched by whoever watches something else.
    pub(crate) fn watched_as(mut self, watched: &Watched) -> Self {
        self.watched = watched.clone();
        self
    }

    /// The same, counting from now on the turns of searches, which end after so many at most.
    pub(crate) fn counting_turns(&self, most: usize) -> Self {
        Brief { watched: self.watched.counting_turns(most), ..self.clone() }
    }

    pub(crate) fn watched(&self) -> &Watched {
        &self.watched
    }

    /// The same question, watched by nobody.
    pub(crate) fn unwatched(&self) -> Self {
        Brief { watched: Watched::default(), ..self.clone() }
    }
}
