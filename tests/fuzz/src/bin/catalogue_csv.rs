//! Catalogues in two sheets of CSV.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::catalogue_csv);
