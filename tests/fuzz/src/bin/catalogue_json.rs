//! Catalogues in JSON.
#![cfg_attr(fuzzing, no_main)]

tenside_fuzz::target!(tenside_fuzz::catalogue_json);
