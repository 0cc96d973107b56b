//! What the lines of a brief are there for.

use super::Brief;
use crate::error::Error;
use crate::formula::Purpose;

impl Brief {
    /// With what a line is there for stated, all of it; nothing takes a statement back.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::Purpose;
    /// let brief = Brief::new("Clay", &Catalogue::starter())?.qs("kaolin")?.with_purposes("kaolin", &[Purpose::Other])?;
    /// assert_eq!(brief.lines()[0].purposes(), [Purpose::Other]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An unknown line.
    pub fn with_purposes(mut self, line: &str, purposes: &[Purpose]) -> Result<Self, Error> {
        let index = self.line_index(line)?;
        self.lines[index] = self.lines[index].clone().for_purposes(purposes);
        Ok(self)
    }
}
