//! What a table of one's own lists.

use super::csv::MATERIALS;
use crate::document::{Columns, named_enum};

named_enum! {
    /// What the rows of a table are.
    TableOf "kind of table" {
        /// Substances: `inci`, `class`, and as wanted `cas` and `pka` (several in one cell, separated by `|`), names on
        /// labels, `molar_mass`, `charge` and whatever else documents say of one.
        Substances = "substances",
        /// Lots: `id`, `material`, and what the certificate says: `active` with its `method`, `solids`, `ph`, `retest`
        /// and so on.
        Lots = "lots",
        /// Premixes: as raw materials, with a row for each `part` and its `percent`, if wanted of a `lot`.
        Premixes = "premixes",
    }
}

/// Two lists of columns as one.
pub(super) const fn both<const ALL: usize>(
    first: &'static [&'static str],
    second: &'static [&'static str],
) -> [&'static str; ALL] {
    assert!(first.len() + second.len() == ALL);
    let (mut all, mut place) = ([""; ALL], 0);
    while place < ALL {
        all[place] = if place < first.len() { first[place] } else { second[place - first.len()] };
        place += 1;
    }
    all
}

const SUBSTANCES: Columns = Columns {
    file: "table",
    known: &[
        "inci",
        "class",
        "label_eu",
        "label_us",
        "cas",
        "formula",
        "molar_mass",
        "molar_mass_low",
        "molar_mass_high",
        "chain",
        "charge",
        "charge_per_mole",
        "charge_per_gram",
        "pka",
        "volatility",
        "counts_as_active",
        "sulfate",
        "sulfate_source",
        "palm",
        "palm_source",
        "animal",
        "animal_source",
        "silicone",
        "silicone_source",
        "ethoxylated",
        "ethoxylated_source",
        "natural_origin",
        "natural_origin_source",
        "source",
    ],
    needed: &["inci", "class"],
};

const LOTS: Columns = Columns {
    file: "table",
    known: &[
        "id",
        "material",
        "active",
        "method",
        "molar_mass",
        "solids",
        "loss_on_drying",
        "salt",
        "free_fatty_acid",
        "ph",
        "retest",
    ],
    needed: &["id", "material"],
};

const OF_PREMIXES: [&str; 39] = both(MATERIALS.known, &["part", "percent", "lot"]);
const PREMIXES: Columns = Columns { file: "table", known: &OF_PREMIXES, needed: &["name", "part"] };

impl TableOf {
    pub(super) fn columns(self) -> Columns {
        match self {
            TableOf::Substances => SUBSTANCES,
            TableOf::Lots => LOTS,
            TableOf::Premixes => PREMIXES,
        }
    }

    /// The columns that hold a number, besides those of raw materials.
    pub(super) fn numbers(self) -> &'static [&'static str] {
        match self {
            TableOf::Substances => {
                &["molar_mass", "molar_mass_low", "molar_mass_high", "charge_per_mole", "charge_per_gram"]
            }
            TableOf::Lots => &["active", "molar_mass", "solids", "loss_on_drying", "salt", "free_fatty_acid", "ph"],
            TableOf::Premixes => &["percent"],
        }
    }
}
