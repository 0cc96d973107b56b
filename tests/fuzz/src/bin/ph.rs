//! Solutions and titrations from arbitrary lines of words and numbers.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::ph);
