//! Results, asked again and written again.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::results);
