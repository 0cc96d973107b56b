//! Drafts: recipes as people write them, and draft documents.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::draft);
