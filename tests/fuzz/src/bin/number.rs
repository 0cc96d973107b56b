//! Numbers, percentages, masses, dates, CAS numbers and dilutions from arbitrary text.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::number);
