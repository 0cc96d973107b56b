//! The corners of what a brief allows: every formula that is no mixture of others.

use crate::bounds::Quantity;
use crate::brief::Brief;
use crate::error::Error;
use crate::number::Exact;
use crate::solve::Region;

/// Corners of what a brief allows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Corners {
    /// Exact percentages, in the order of the brief's lines; the corners in the order of their percentages.
    pub formulas: Vec<Vec<Exact>>,
    /// True where these are all; false where the limit was reached.
    pub complete: bool,
}

impl Brief {
    /// The corner formulas of what the brief allows, whatever its objective, up to a limit. A hundred thousand corners
    /// of 26 lines take some 500 MB.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::number::Exact;
    /// let brief = Brief::new("Powders", &Catalogue::starter())?.between("kaolin", 0, 30)?.free("corn-starch")?.qs("sci-powder")?;
    /// let corners = brief.corners(100)?;
    /// assert!(corners.complete);
    /// assert_eq!(corners.formulas.len(), 4);
    /// assert_eq!(corners.formulas[0], [0, 0, 100].map(Exact::from));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked or allows no formula, a limit of nothing or of more than a hundred thousand.
    pub fn corners(&self, limit: usize) -> Result<Corners, Error> {
        Quantity::Corners.check_count(limit)?;
        let vertices = Region::new(self)?.vertices(limit, self.watched())?;
        Ok(Corners {
            formulas: vertices.list.into_iter().map(|vertex| vertex.percents).collect(),
            complete: vertices.complete,
        })
    }
}
