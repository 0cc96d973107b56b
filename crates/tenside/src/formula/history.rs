//! Which formula came from which.

use indexmap::IndexMap;

use super::{Formula, Parent, Relation};
use crate::bounds::Quantity;
use crate::document::{Named, content_hash};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// A document that formulas come from, or that came from one. Sealed: formulas and briefs.
pub trait Traceable: crate::document::named::sealed::Sealed {
    /// Its title.
    fn title(&self) -> &str;

    /// What it came from, if it says so.
    fn parent(&self) -> Option<&Parent>;

    /// What it holds, its parent included, as a hash: SHA-256 of its document as JSON, raw materials embedded, keys
    /// sorted, without white space. No formula can be its own ancestor, and a chain of parents cannot be changed later
    /// without its last hash changing.
    ///
    /// # Errors
    /// None for a valid value.
    fn sha256(&self) -> Result<String, Error>;

    /// What a formula that comes from it can be to it.
    fn relations(&self) -> &'static [Relation];
}

impl Parent {
    /// This document as the parent of a formula.
    ///
    /// ```
    /// use tenside::formula::{Parent, Relation};
    /// use tenside::prelude::*;
    /// let brief = Brief::new("Plain bar", &Catalogue::starter())?.fix("sci-powder", 60)?.qs("kaolin")?;
    /// let bar = brief.solve()?.formula()?.clone().with_parent(Some(Parent::of(&brief, Relation::Answer)?));
    /// let later = bar.clone().with_title("Plainer bar")?.with_parent(Some(Parent::of(&bar, Relation::Variant)?));
    /// assert!(Parent::of(&brief, Relation::Variant).is_err());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A relation that does not fit: formulas answer briefs, and are variants of formulas or what was made of them.
    pub fn of(document: &dyn Traceable, relation: Relation) -> Result<Self, Error> {
        if !document.relations().contains(&relation) {
            let fitting: Vec<&str> = document.relations().iter().map(|relation| relation.slug()).collect();
            let sentence = format!("a formula cannot be this of {:?}", document.title());
            return Err(Fault::new(FaultKind::Contradiction, sentence)
                .value(relation.slug())
                .allowed(fitting.join(" or "))
                .into());
        }
        Parent::new(relation, &document.sha256()?)
    }
}

impl crate::document::named::sealed::Sealed for Formula {}

impl Traceable for Formula {
    fn title(&self) -> &str {
        Formula::title(self)
    }

    fn parent(&self) -> Option<&Parent> {
        Formula::parent(self)
    }

    fn sha256(&self) -> Result<String, Error> {
        Formula::sha256(self)
    }

    fn relations(&self) -> &'static [Relation] {
        &[Relation::Variant, Relation::AsMade]
    }
}

impl Formula {
    /// What it holds as a hash; see [`Traceable::sha256`].
    ///
    /// ```
    /// use tenside::prelude::*;
    /// let clay = Formula::new("Clay", vec![Line::new("kaolin", Catalogue::starter().material("kaolin")?.clone(), Ppm::WHOLE)?])?;
    /// assert_eq!(clay.sha256()?.len(), 64);
    /// assert_ne!(clay.clone().with_title("Other clay")?.sha256()?, clay.sha256()?);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// None for a valid formula.
    pub fn sha256(&self) -> Result<String, Error> {
        content_hash(&super::FormulaDocument::from(self))
    }
}

/// One document of a history.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HistoryEntry {
    /// Its title.
    pub title: String,
    /// Its hash.
    pub sha256: String,
    /// What it came from; `None` if it does not say so.
    pub parent: Option<Parent>,
    /// The title of its parent; `None` if that is not among the documents.
    pub parent_title: Option<String>,
    /// How many of its ancestors are among the documents, in one line.
    pub generation: usize,
}

/// Which of these documents came from which: each once, every parent before its children, else in the order given.
///
/// ```
/// use tenside::formula::{Parent, Relation, Traceable, history};
/// use tenside::prelude::*;
/// let clay = Formula::new("Clay", vec![Line::new("kaolin", Catalogue::starter().material("kaolin")?.clone(), Ppm::WHOLE)?])?;
/// let later = clay.clone().with_title("Clay again")?.with_parent(Some(Parent::new(Relation::Variant, &clay.sha256()?)?));
/// let chain = history([&later as &dyn Traceable, &clay])?;
/// assert_eq!(chain.iter().map(|entry| entry.title.as_str()).collect::<Vec<_>>(), ["Clay", "Clay again"]);
/// assert_eq!(chain[1].parent_title.as_deref(), Some("Clay"));
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// More documents than a history has.
pub fn history<'a>(documents: impl IntoIterator<Item = &'a dyn Traceable>) -> Result<Vec<HistoryEntry>, Error> {
    // Counted before any is hashed, which is what takes time.
    let documents: Vec<&dyn Traceable> = documents.into_iter().collect();
    Quantity::Ancestry.check(&Exact::from(u32::try_from(documents.len()).unwrap_or(u32::MAX)))?;
    let mut given: IndexMap<String, &dyn Traceable> = IndexMap::new();
    for document in documents {
        given.entry(document.sha256()?).or_insert(document);
    }
    let parent_of = |index: usize| given[index].parent().and_then(|parent| given.get_index_of(parent.sha256()));
    let mut generations: Vec<Option<usize>> = vec![None; given.len()];
    let mut entries = Vec::with_capacity(given.len());
    for start in 0..given.len() {
        // Up to the first ancestor that stands already; a hash holds its parent's, so that no line of parents comes
        // back to itself.
        let mut line = Vec::new();
        let mut next = Some(start);
        while let Some(index) = next.filter(|&index| generations[index].is_none()) {
            line.push(index);
            next = parent_of(index);
        }
        for &index in line.iter().rev() {
            let parent = parent_of(index);
            let generation = parent.and_then(|parent| generations[parent]).map_or(0, |generation| generation + 1);
            generations[index] = Some(generation);
            entries.push(HistoryEntry {
                title: given[index].title().to_string(),
                sha256: given.get_index(index).map(|(hash, _)| hash.clone()).unwrap_or_default(),
                parent: given[index].parent().cloned(),
                parent_title: parent.map(|parent| given[parent].title().to_string()),
                generation,
            });
        }
    }
    Ok(entries)
}
