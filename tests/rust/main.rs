//! What the library does as a whole, seen from outside; one file a subject.

mod briefs;
mod documents;
mod measures;
mod number;
mod published;
mod small_grids;
mod support;
