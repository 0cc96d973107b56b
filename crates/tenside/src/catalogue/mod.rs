//! A set of raw materials with the substances they name, their lots and their other names.

mod additions;
mod alias;
mod csv;
mod document;
mod filter;
mod kind;
mod page;
mod price;
mod price_document;
mod read_back;
mod resolve;
mod search;
mod starter;
mod suggestion;
mod table;
mod table_of;
mod table_options;
mod vocabulary;

use std::collections::HashMap;
use std::sync::Arc;

use indexmap::IndexMap;

pub use alias::{Alias, AliasTable};
pub use csv::CsvOptions;
pub use document::CatalogueDocument;
pub(crate) use document::{ContentsDocument, read_contents};
pub use filter::{Filter, Found};
pub(crate) use kind::unknown_material;
pub use page::{hits_page, materials_page};
pub use price::PriceList;
pub(crate) use price_document::read_prices;
pub use price_document::{PriceListDocument, PriceRow, PricesDocument};
pub(crate) use read_back::read_back;
use resolve::resolve;
pub use search::{Hit, MatchKind, NameKind};
pub(crate) use suggestion::{NamedIn, Why};
pub use table_of::TableOf;
pub use table_options::{TableOptions, TableText};
use vocabulary::{Vocabulary, names_of};

use crate::document::{fold_spelling, named_enum, shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Composition, Lot, Material, MaterialRow, PartsFirst, PremixPart};
use crate::memo::Memo;
use crate::substance::{Substance, SubstanceTable};

named_enum! {
    /// Which of two catalogues wins where both have something of the same name.
    Winner "winner" {
        /// The one that is merged into.
        Ours = "ours",
        /// The one that is merged.
        Theirs = "theirs",
        /// Neither: different values are refused.
        Neither = "neither",
    }
}

/// Raw materials by id, with their substances, lots and aliases. Values are immutable; a change gives a new catalogue.
///
/// ```
/// use tenside::catalogue::Catalogue;
/// let catalogue = Catalogue::starter();
/// assert_eq!(catalogue.material("kaolin")?.id(), "kaolin");
/// assert!(catalogue.material("SCS").unwrap_err().is_ambiguous_name());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct Catalogue {
    contents: Arc<Contents>,
}

#[derive(Clone, Debug, Default, PartialEq)]
struct Contents {
    substances: Arc<SubstanceTable>,
    materials: IndexMap<String, Arc<Material>>,
    lots: IndexMap<String, Arc<Lot>>,
    aliases: AliasTable,
    /// The places of the materials that a folded id, readable name or alias of their own means.
    by_name: Memo<HashMap<String, Vec<usize>>>,
    /// The words of all names.
    vocabulary: Memo<Vocabulary>,
}

impl PartialEq for Catalogue {
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.contents, &other.contents) || self.contents == other.contents
    }
}

impl Contents {
    fn places_by_name(&self) -> HashMap<String, Vec<usize>> {
        let mut places: HashMap<String, Vec<usize>> = HashMap::new();
        for (place, material) in self.materials.values().enumerate() {
            for name in names_of(material) {
                let places = places.entry(fold_spelling(name)).or_default();
                if places.last() != Some(&place) {
                    places.push(place);
                }
            }
        }
        places
    }
}

impl Catalogue {
    /// Without any material, over the embedded substance table.
    #[must_use]
    pub fn empty() -> Self {
        Catalogue::of(Contents { substances: SubstanceTable::starter(), ..Contents::default() })
    }

    fn of(contents: Contents) -> Self {
        Catalogue { contents: Arc::new(contents) }
    }

    /// The contents, to be changed: those of other catalogues stay as they are.
    fn change(&mut self) -> &mut Contents {
        let contents = Arc::make_mut(&mut self.contents);
        contents.by_name = Memo::default();
        contents.vocabulary = Memo::default();
        contents
    }

    /// A document has one raw material of an id and one lot of a name.
    fn check_parts(&self) -> Result<(), Error> {
        let mut faults = Vec::new();
        for holder in self.contents.materials.values() {
            for (part, _) in holder.composition().parts() {
                let same = |known: &Arc<Material>, part: &Arc<Material>| Arc::ptr_eq(known, part) || known == part;
                let mut refuse = |what: &str, name: &str| {
                    let fault = Fault::new(
                        FaultKind::Contradiction,
                        format!("a premix holds another {what} than the catalogue has under that name"),
                    );
                    let place = format!("material {}, premix", shown(holder.id()));
                    faults.push(
                        fault.at(place).value(shown(name)).remedy("put the premix together again, from this catalogue"),
                    );
                };
                if !self
                    .contents
                    .materials
                    .get(part.id())
                    .is_some_and(|known| same(known, part.typical().unwrap_or(part)))
                {
                    refuse("raw material", part.id());
                }
                if let Some(lot) = part.lot().filter(|lot| self.contents.lots.get(lot.id()) != Some(lot)) {
                    refuse("lot", lot.id());
                }
            }
        }
        Error::check(faults, ())
    }

    /// The substances that are not the embedded ones, or say something else of them.
    pub(crate) fn own_substances(&self) -> impl Iterator<Item = &Arc<Substance>> {
        let embedded = SubstanceTable::starter();
        self.contents
            .substances
            .iter()
            .filter(move |substance| embedded.find(substance.inci()).is_none_or(|known| known != *substance))
    }

    /// The substances its materials may name.
    #[must_use]
    pub fn substances(&self) -> &Arc<SubstanceTable> {
        &self.contents.substances
    }

    /// The materials, in the order added.
    pub fn materials(&self) -> impl Iterator<Item = &Arc<Material>> {
        self.contents.materials.values()
    }

    /// The lots, in the order added.
    pub fn lots(&self) -> impl Iterator<Item = &Arc<Lot>> {
        self.contents.lots.values()
    }

    /// Names with one or more candidates.
    #[must_use]
    pub fn aliases(&self) -> &AliasTable {
        &self.contents.aliases
    }

    /// The material of that id, if there is one; no other name is tried.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<&Arc<Material>> {
        self.contents.materials.get(id)
    }

    /// Every material that an id, a readable name or an alias could mean, upper and lower case alike; an id itself
    /// means only its own.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// let catalogue = Catalogue::starter();
    /// assert_eq!(catalogue.candidates("kaolin").len(), 1);
    /// assert!(catalogue.candidates("citric acid").len() > 1);
    /// assert!(catalogue.candidates("moon dust").is_empty());
    /// ```
    #[must_use]
    pub fn candidates(&self, name: &str) -> Vec<&Arc<Material>> {
        if let Some(material) = self.contents.materials.get(name) {
            return vec![material];
        }
        let contents = &self.contents;
        let by_alias = contents.aliases.candidates(name).iter().filter_map(|id| contents.materials.get(id));
        let mut candidates: Vec<&Arc<Material>> = by_alias.collect();
        let named = contents.by_name.get_or(|| contents.places_by_name()).get(&fold_spelling(name));
        for material in named
            .into_iter()
            .flatten()
            .filter_map(|place| contents.materials.get_index(*place))
            .map(|(_, material)| material)
        {
            if !candidates.iter().any(|known| known.id() == material.id()) {
                candidates.push(material);
            }
        }
        candidates
    }

    /// The material meant by an id, a readable name or an alias, upper and lower case and British and American
    /// spellings alike.
    ///
    /// ```
    /// let catalogue = tenside::catalogue::Catalogue::starter();
    /// assert_eq!(catalogue.material("Hydrolyzed wheat protein powder")?, catalogue.material("hydrolysed wheat protein powder")?);
    /// assert!(catalogue.material("sodium laureth sulphate").unwrap_err().is_ambiguous_name());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A name that means several materials is refused with the candidates; an unknown one with what it could mean,
    /// which is never another kind of thing.
    pub fn material(&self, name: &str) -> Result<&Arc<Material>, Error> {
        match self.candidates(name).as_slice() {
            [one] => Ok(one),
            [] => Err(self.unknown(name).into()),
            several => {
                let list: Vec<String> =
                    several.iter().map(|material| format!("{} ({})", material.id(), material.name())).collect();
                let shown: String = name.chars().take(80).collect();
                Err(Fault::new(FaultKind::AmbiguousName, "the name could mean several raw materials")
                    .value(format!("{shown:?}"))
                    .allowed(list.join("; "))
                    .remedy("write the id of the one you mean")
                    .into())
            }
        }
    }

    /// The lot of that name.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn lot(&self, id: &str) -> Result<&Arc<Lot>, Error> {
        self.contents
            .lots
            .get(id)
            .ok_or_else(|| unknown_name("lot", id, self.contents.lots.keys().map(String::as_str)).into())
    }

    /// With one more material, or another in place of one of the same id.
    ///
    /// Premixes that hold the replaced one hold the new one then. A premix brings its parts, and their lots, where they
    /// are not there.
    ///
    /// # Errors
    /// A lot of a material, a material that names substances with other values than the catalogue's, a premix that
    /// would contain itself, and a lot whose certificate contradicts the new material.
    pub fn with_material(&self, material: Arc<Material>) -> Result<Self, Error> {
        if let Some(lot) = material.lot() {
            let fault = Fault::new(FaultKind::Unsupported, "a lot of a raw material is no raw material of a catalogue")
                .value(shown(lot.id()));
            return Err(fault
                .at(format!("material {}", shown(material.id())))
                .remedy("add the raw material as it is sold, and its lot as a lot")
                .into());
        }
        let mut catalogue = self.clone();
        let contents = catalogue.change();
        let mut parts_first = PartsFirst::default();
        parts_first.add(&material);
        for (part, _) in parts_first.into_vec().into_iter().flat_map(|holder| holder.composition().parts()) {
            let typical = part.typical().unwrap_or(part);
            contents.materials.entry(part.id().to_string()).or_insert_with(|| Arc::clone(typical));
            if let Some(lot) = part.lot() {
                contents.lots.entry(lot.id().to_string()).or_insert_with(|| Arc::clone(lot));
            }
        }
        let substances = Arc::make_mut(&mut contents.substances);
        for (leaf, _) in material.leaves() {
            for row in leaf
                .composition()
                .constituents()
                .iter()
                .map(|row| row.substance())
                .chain(leaf.contained().iter().map(|part| part.substance()))
            {
                substances.insert(Arc::clone(row))?;
            }
        }
        let replaced = contents.materials.insert(material.id().to_string(), Arc::clone(&material));
        if replaced.is_some_and(|replaced| replaced != material) { catalogue.relinked() } else { Ok(catalogue) }
    }

    /// With premixes holding this catalogue's materials, and materials naming this catalogue's substances, where others
    /// of the same name took their place. Premixes of lots stay as they are.
    fn relinked(mut self) -> Result<Self, Error> {
        let rows: Vec<MaterialRow> =
            self.contents.materials.values().enumerate().map(|(mark, material)| self.row_of(material, mark)).collect();
        let mut faults = Vec::new();
        let named = self.contents.materials.keys().cloned().collect();
        let materials = resolve(rows, &named, &self.contents.lots, &mut |_, fault| faults.push(fault));
        self.change().materials = materials;
        for lot in self.contents.lots.values() {
            if let Some(Err(error)) = self.contents.materials.get(lot.material()).map(|material| material.with_lot(lot))
            {
                faults.extend(error.into_faults());
            }
        }
        Error::check(faults, self)
    }

    fn row_of(&self, material: &Arc<Material>, mark: usize) -> MaterialRow {
        let premix = match material.composition() {
            Composition::Premix(parts)
                if parts
                    .iter()
                    .all(|(part, _)| part.lot().is_none() && self.contents.materials.contains_key(part.id())) =>
            {
                parts
                    .iter()
                    .map(|(part, share)| PremixPart { material: part.id().to_string(), lot: None, share: *share })
                    .collect()
            }
            _ => Vec::new(),
        };
        MaterialRow { material: material.with_substances_of(&self.contents.substances), premix, mark }
    }

    /// With one more substance, or another in place of one of the same name; materials that name it name the new one
    /// then.
    ///
    /// ```
    /// use std::sync::Arc;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::substance::{Class, Substance};
    /// let own = Arc::new(Substance::new("HOUSE ESTER", Class::Ester)?);
    /// let catalogue = Catalogue::empty().with_substance(own)?;
    /// assert_eq!(catalogue.substances().get("house ester")?.class(), Class::Ester);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A lot whose certificate contradicts a material as the new substance makes it.
    pub fn with_substance(&self, substance: Arc<Substance>) -> Result<Self, Error> {
        let mut catalogue = self.clone();
        Arc::make_mut(&mut catalogue.change().substances).replace(substance);
        catalogue.relinked()
    }

    /// With one more lot.
    ///
    /// # Errors
    /// A lot of a material that the catalogue does not have, a second lot of the same name, and a certificate that
    /// contradicts.
    pub fn with_lot(&self, lot: Arc<Lot>) -> Result<Self, Error> {
        self.material(lot.material())?.with_lot(&lot)?;
        if self.contents.lots.contains_key(lot.id()) {
            return Err(Fault::new(FaultKind::Duplicate, "a lot of this name exists already")
                .value(format!("{:?}", lot.id()))
                .into());
        }
        let mut catalogue = self.clone();
        catalogue.change().lots.insert(lot.id().to_string(), lot);
        Ok(catalogue)
    }

    /// Both catalogues in one.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, Winner};
    /// let starter = Catalogue::starter();
    /// let same = starter.merge(&starter, Winner::Neither)?;
    /// assert_eq!(same.materials().count(), starter.materials().count());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// Materials and premixes that stay name the substances and hold the materials that won.
    ///
    /// # Errors
    /// With [`Winner::Neither`], every name that both have with different values; otherwise a premix that would contain
    /// itself, and a lot whose certificate contradicts the material that won.
    pub fn merge(&self, other: &Catalogue, winner: Winner) -> Result<Self, Error> {
        let mut catalogue = self.clone();
        let merged = catalogue.change();
        let mut faults = Vec::new();
        let mut differing = false;
        let mut clash = |kind: &str, name: &str| {
            faults.push(
                Fault::new(FaultKind::Duplicate, format!("both catalogues have this {kind} with different values"))
                    .value(format!("{name:?}"))
                    .remedy("say which one wins, or rename one"),
            );
        };
        let substances = Arc::make_mut(&mut merged.substances);
        for row in other.contents.substances.iter() {
            let known = substances.find(row.inci());
            if known.is_some_and(|known| Arc::ptr_eq(known, row)) {
                continue;
            }
            let differs = known.is_some_and(|known| known != row);
            differing |= differs;
            match (differs, winner) {
                (true, Winner::Ours) => {}
                (true, Winner::Neither) => clash("substance", row.inci()),
                _ => substances.replace(Arc::clone(row)),
            }
        }
        for (id, material) in &other.contents.materials {
            let differs = merged.materials.get(id).is_some_and(|known| known != material);
            differing |= differs;
            match (differs, winner) {
                (true, Winner::Ours) => {}
                (true, Winner::Neither) => clash("material", id),
                _ => {
                    merged.materials.insert(id.clone(), Arc::clone(material));
                }
            }
        }
        for (id, lot) in &other.contents.lots {
            match (merged.lots.get(id).is_some_and(|known| known != lot), winner) {
                (true, Winner::Ours) => {}
                (true, Winner::Neither) => clash("lot", id),
                _ => {
                    merged.lots.insert(id.clone(), Arc::clone(lot));
                }
            }
        }
        merged.aliases.extend(&other.contents.aliases);
        let catalogue = Error::check(faults, catalogue)?;
        if differing { catalogue.relinked() } else { Ok(catalogue) }
    }
}
