//! Catalogues in two sheets of CSV.

use tenside::catalogue::{Catalogue, CsvOptions};

use crate::catalogue::look_into;
use crate::reading::accepted;

/// Reads `bytes` as a sheet of materials and, after a line of three hyphens, a sheet of constituents, with both decimal marks.
pub fn catalogue_csv(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let (materials, constituents) = text.split_once("\n---\n").unwrap_or((text, ""));
    for decimal_comma in [false, true] {
        let options = CsvOptions::default().with_source("invented").with_decimal_comma(decimal_comma);
        let Some(catalogue) = accepted(Catalogue::read_csv(materials, constituents, options)) else { continue };
        look_into(&catalogue);
        let Some((materials, constituents)) = accepted(catalogue.write_csv()) else { continue };
        let again = Catalogue::read_csv(&materials, &constituents, CsvOptions::default());
        let again = again.unwrap_or_else(|error| panic!("it is not read back: {error}\n{materials}\n{constituents}"));
        assert!(again.materials().eq(catalogue.materials()), "other materials:\n{materials}\n{constituents}");
    }
}
