//! Substance tables.

use tenside::substance::SubstanceTable;

use crate::reading::{accepted, document};

/// Reads `bytes` as a substance table, in TOML or JSON: all rows or none, each found by its name.
pub fn substances(bytes: &[u8]) {
    let Some((text, notation)) = document(bytes) else { return };
    let mut table = SubstanceTable::default();
    match accepted(table.read(text, notation)) {
        Some(()) => {
            for row in table.iter() {
                assert_eq!(table.get(row.inci()).ok(), Some(row), "{:?}", row.inci());
            }
            // The same once more changes nothing.
            let count = table.len();
            assert!(table.read(text, notation).is_ok() && table.len() == count);
        }
        None => assert!(table.is_empty(), "it was half read"),
    }
}
