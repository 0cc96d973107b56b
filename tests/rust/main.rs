//! What the library does as a whole, seen from outside; one file a subject.

mod number;
mod schemas;
