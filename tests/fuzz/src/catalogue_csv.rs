//! Catalogues in sheets of CSV.

use tenside::catalogue::{Catalogue, CsvOptions};

use crate::catalogue::look_into;
use crate::reading::accepted;

/// Reads `bytes` as a sheet of materials and, each after a line of three hyphens, sheets of constituents and of names,
/// with both decimal marks.
pub fn catalogue_csv(bytes: &[u8]) {
    let Ok(text) = std::str::from_utf8(bytes) else { return };
    let mut sheets = text.splitn(3, "\n---\n");
    let (materials, constituents, names) =
        (sheets.next().unwrap_or_default(), sheets.next().unwrap_or_default(), sheets.next());
    for decimal_comma in [false, true] {
        let options = CsvOptions::default().with_source("invented").with_decimal_comma(decimal_comma);
        let Some(catalogue) = accepted(Catalogue::read_csv(materials, constituents, names, options)) else { continue };
        look_into(&catalogue);
        let Some((materials, constituents, names)) = accepted(catalogue.write_csv()) else { continue };
        let again = Catalogue::read_csv(&materials, &constituents, Some(&names), CsvOptions::default());
        let again =
            again.unwrap_or_else(|error| panic!("it is not read back: {error}\n{materials}\n{constituents}\n{names}"));
        assert!(again == catalogue, "another catalogue:\n{materials}\n{constituents}\n{names}");
    }
}
