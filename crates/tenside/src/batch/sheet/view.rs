//! Everything that a sheet says, in words.

use super::cautions::Advice;

/// Everything a sheet says.
pub(super) struct SheetView {
    pub(super) title: String,
    /// What being a draft means, where it is one.
    pub(super) draft: Option<&'static str>,
    pub(super) facts: Vec<(&'static str, String)>,
    pub(super) advice: Vec<Advice>,
    /// Notes about heat, to be read before anything is warmed.
    pub(super) heat: Vec<NumberedNote>,
    pub(super) standing: &'static str,
    pub(super) phases: Vec<PhaseView>,
    pub(super) total: String,
    pub(super) notes: Vec<NumberedNote>,
}

impl SheetView {
    /// True if a line is of a named lot.
    pub(super) fn has_lots(&self) -> bool {
        self.phases.iter().any(|phase| phase.rows.iter().any(|row| !row.lot.is_empty()))
    }
}

/// A note under the number that lines refer to.
pub(super) struct NumberedNote {
    pub(super) number: usize,
    pub(super) sentence: String,
}

pub(super) struct PhaseView {
    /// "Phase 1 of 3: melted".
    pub(super) heading: String,
    /// "75 °C, scale of 0.1 g".
    pub(super) conditions: String,
    pub(super) unit: &'static str,
    pub(super) rows: Vec<RowView>,
    pub(super) total: String,
    pub(super) percent: String,
}

pub(super) struct RowView {
    pub(super) mass: String,
    pub(super) label: String,
    /// "takes the rounding rest", "note 1".
    pub(super) remarks: String,
    pub(super) lot: String,
    pub(super) percent: String,
    pub(super) error: String,
}
