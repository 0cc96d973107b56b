//! Lists of rules, used where they are small.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::rules);
