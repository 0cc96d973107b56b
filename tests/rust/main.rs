//! What the library does as a whole, seen from outside; one file a subject.

mod bad_input;
mod briefs;
mod documents;
mod exposure;
mod grid;
mod hard_briefs;
mod label;
mod loosening;
mod measures;
mod number;
mod ordinary;
mod ph;
mod ph_formulas;
mod published;
mod robust;
mod schemas;
mod shadow_prices;
mod small_grids;
mod stopping;
mod support;
mod unknown;
