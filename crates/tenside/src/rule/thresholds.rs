//! Thresholds that a review and a label share: from which share on a fragrance constituent is declared.

use crate::document::{Notation, Reader};
use crate::error::Error;
use crate::number::Ppm;

/// The shares above which a fragrance constituent is declared on an EU label, percent of the finished product.
///
/// ```
/// use tenside::rule::{Thresholds, Use};
/// let thresholds = Thresholds::starter();
/// assert_eq!(thresholds.fragrance(Use::ShampooBar).to_string(), "0.01");
/// assert_eq!(thresholds.fragrance(Use::LeaveOnHair).to_string(), "0.001");
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Thresholds {
    rinse_off: Ppm,
    leave_on: Ppm,
    source: String,
}

impl Thresholds {
    /// Reads the thresholds of a document.
    pub(super) fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        Reader::read(text, notation, |view| {
            view.version("thresholds/1");
            let percent = |key| view.needed(key, |view| view.ppm(key));
            let (rinse_off, leave_on) = (percent("rinse_off"), percent("leave_on"));
            let source = view.needed("source", |view| view.prose("source"));
            Some(Thresholds { rinse_off: rinse_off?, leave_on: leave_on?, source: source? })
        })
    }

    /// For a use; what is exceeded, not reached, is declared. What goes into the mouth counts with what is left on.
    #[must_use]
    pub fn fragrance(&self, used: super::Use) -> Ppm {
        if used.lineage().any(|wider| wider == super::Use::RinseOff) { self.rinse_off } else { self.leave_on }
    }

    /// Who says so.
    #[must_use]
    pub fn source(&self) -> &str {
        &self.source
    }
}
