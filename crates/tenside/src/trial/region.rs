//! What a brief allows as plain matrices, so that any optimiser can take it.

use crate::brief::{Brief, BriefLine};
use crate::error::Error;
use crate::number::Exact;
use crate::solve::rows;

/// What a brief allows: `low <= x <= high` and `row_low <= A x <= row_high`, with `x` the percentages of the lines.
///
/// The first row says that the lines sum to 100; then come splits and requirements, compiled for the compositions they
/// are asked for. A measure per another is multiplied out, `N - t D`, so that its row's end is 0.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct BriefRegion {
    /// The lines: what each column is.
    pub names: Vec<String>,
    /// The least percentage of each line.
    pub low: Vec<Exact>,
    /// The greatest.
    pub high: Vec<Exact>,
    /// The rows of `A`.
    pub matrix: Vec<Vec<Exact>>,
    /// What each row says, in the words of the brief.
    pub row_names: Vec<String>,
    /// The least that a row may come to; nothing where it has no least.
    pub row_low: Vec<Option<Exact>>,
    /// The most.
    pub row_high: Vec<Option<Exact>>,
}

impl BriefRegion {
    /// The rows whose least is their most.
    #[must_use]
    pub fn equalities(&self) -> Vec<usize> {
        (0..self.matrix.len())
            .filter(|row| self.row_low[*row].is_some() && self.row_low[*row] == self.row_high[*row])
            .collect()
    }
}

impl Brief {
    /// What the brief allows, whatever its objective, as plain matrices.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::number::Exact;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.between("sci-powder", 30, 70)?.between("capb-30", 0, 20)?.qs("kaolin")?;
    /// let region = brief.at_most(Measure::water(), 9)?.region()?;
    /// assert_eq!(region.names, ["sci-powder", "capb-30", "kaolin"]);
    /// assert_eq!(region.high[..2], [Exact::from(70), Exact::from(20)]);
    /// assert_eq!((region.matrix.len(), region.equalities()), (2, vec![0]));
    /// assert_eq!(region.matrix[0], [Exact::ONE, Exact::ONE, Exact::ONE]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked, or has choices to make. One that allows no formula has a region all the same: an
    /// empty one.
    pub fn region(&self) -> Result<BriefRegion, Error> {
        let program = rows(self)?;
        let (columns, rows) = (program.program().columns(), program.program().rows());
        // Every line has a range.
        let end = |end: &Option<Exact>| end.clone().unwrap_or_default();
        Ok(BriefRegion {
            names: self.lines().iter().map(BriefLine::name).map(String::from).collect(),
            low: columns.iter().map(|column| end(&column.low)).collect(),
            high: columns.iter().map(|column| end(&column.high)).collect(),
            matrix: rows.iter().map(|row| row.coefficients.clone()).collect(),
            row_names: program.names().iter().map(|name| name.words().to_string()).collect(),
            row_low: rows.iter().map(|row| row.low.clone()).collect(),
            row_high: rows.iter().map(|row| row.high.clone()).collect(),
        })
    }
}
