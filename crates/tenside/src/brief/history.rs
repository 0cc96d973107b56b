//! A brief as what its answers came from.

use super::{Brief, BriefDocument};
use crate::document::{content_hash, named::sealed::Sealed};
use crate::error::Error;
use crate::formula::{Parent, Relation, Traceable};

impl Brief {
    /// What it holds as a hash; see [`Traceable::sha256`].
    ///
    /// ```
    /// use tenside::prelude::*;
    /// let brief = Brief::new("Clay", &Catalogue::starter())?.qs("kaolin")?;
    /// assert_ne!(brief.clone().fix("sci-powder", 1)?.sha256()?, brief.sha256()?);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// None for a valid brief.
    pub fn sha256(&self) -> Result<String, Error> {
        content_hash(&BriefDocument::from(self))
    }
}

impl Sealed for Brief {}

impl Traceable for Brief {
    fn title(&self) -> &str {
        Brief::title(self)
    }

    fn parent(&self) -> Option<&Parent> {
        None
    }

    fn sha256(&self) -> Result<String, Error> {
        Brief::sha256(self)
    }

    fn relations(&self) -> &'static [Relation] {
        &[Relation::Answer]
    }
}
