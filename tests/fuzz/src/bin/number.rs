//! Numbers, percentages, masses and dates from arbitrary text.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::number);
