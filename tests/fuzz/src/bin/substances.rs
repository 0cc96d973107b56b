//! Substance tables.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::substances);
